"""The bar chart of a job on the terminal: phases, items, crews at work, rented machines."""

from __future__ import annotations

from typing import TYPE_CHECKING

from api.commands.printing import hanging, page, show_table, table

if TYPE_CHECKING:
    from rich.console import Console
    from rich.table import Table

    from estimator.pricing.estimate import Estimate
    from estimator.scheduling.bar_marks import DayColumns
    from estimator.scheduling.job_bars import JobBars
    from estimator.scheduling.job_dates import JobSchedule

_COLUMNS = 42


def show_bars(estimate: Estimate, schedule: JobSchedule) -> None:
    """Print the bar chart of a job."""
    from estimator.scheduling.bar_marks import MARKS_IN_WORDS, bar_letters, day_columns
    from estimator.scheduling.job_bars import bars_of

    bars = bars_of(estimate, schedule)
    columns = day_columns(bars, _COLUMNS)
    with page() as out:
        out.print(f"{bars.project}: {schedule.start} to {schedule.finish}\n")
        rows = _table(columns, ("", "code"), ("Work", "text"))
        for row in bars.rows:
            rows.add_row(row.work.code, row.work.name, bar_letters(row, columns))
        show_table(out, rows)
        if bars.assumed:
            hanging(out, "", "", bars.assumed)
        key = ", ".join(f"{letter} {words}" for letter, words in MARKS_IN_WORDS.items())
        days = "a day" if columns.days == 1 else f"{columns.days} days"
        hanging(out, "", "", f"A letter is {days}; {key}.")
        _show_crews(out, bars, columns)
        _show_rents(out, bars, columns)


def _table(columns: DayColumns, *headings: tuple[str, str]) -> Table:
    from estimator.scheduling.bar_marks import month_letters

    return table(*headings, (month_letters(columns), "code"))


def _show_crews(out: Console, bars: JobBars, columns: DayColumns) -> None:
    from estimator.scheduling.bar_marks import load_letters

    if bars.crews:
        rows = _table(columns, ("At work, most on any day", "text"))
        for one in bars.crews:
            rows.add_row(f"{one.name}, {one.words}", load_letters(one, columns))
        out.print()
        show_table(out, rows)


def _show_rents(out: Console, bars: JobBars, columns: DayColumns) -> None:
    from estimator.scheduling.bar_marks import rent_letters
    from estimator.scheduling.rent_by_dates import ordered_quantities

    if bars.rents:
        rows = _table(columns, ("Rented machines", "text"))
        for spans in bars.rents_by_machine:
            words = f"{spans[0].name}, {ordered_quantities(spans)}"
            rows.add_row(words, rent_letters(spans, columns))
        out.print()
        show_table(out, rows)
        hanging(out, "", "", "= on the days of its work, : on days in between that nobody stated.")
