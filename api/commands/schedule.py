"""`groundsill schedule`: when each phase and item is done, with the crews that there are."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING

import click

from api.commands.options import (
    WORKBOOKS,
    DayOption,
    crew_option,
    force_option,
    on_option,
    output_option,
    rates_option,
    scope_argument,
    start_option,
    week_option,
)

if TYPE_CHECKING:
    from estimator.pricing.estimate import Estimate
    from estimator.scheduling.job_dates import JobSchedule


@click.command()
@scope_argument
@rates_option
@on_option
@start_option
@week_option
@crew_option
@click.option("--items", "with_items", is_flag=True, help="Show the items of each phase.")
@click.option(
    "--bars", "as_bars", is_flag=True,
    help="Show a bar chart of phases and items, crews at work and rented machines.",
)  # fmt: skip
@click.option(
    "--lookahead", "is_ahead", is_flag=True,
    help="Show two weeks by day: who works where, what comes, who is called, cautions.",
)  # fmt: skip
@click.option(
    "--from", "first", type=DayOption(), metavar="DATE",
    help="First of the two weeks of --lookahead and --pdf; else the first day of the job.",
)  # fmt: skip
@output_option("--svg", (".svg",), "Write the bar chart.")
@output_option("--png", (".png",), "Write the bar chart as a picture.")
@output_option("--xlsx", WORKBOOKS, "Write bars and dates as a workbook.")
@output_option("--ics", (".ics",), "Write a calendar file: starts, inspections, rent, quotes.")
@output_option("--pdf", (".pdf",), "Write the two weeks of --lookahead as a page to print.")
@click.option("--json", "as_json", is_flag=True, help="Print the schedule as JSON.")
@force_option
def schedule(
    scope: Path,
    rates: Path | None,
    on: datetime | None,
    start: datetime | None,
    week: str | None,
    crew: dict[str, int],
    *,
    with_items: bool,
    as_bars: bool,
    is_ahead: bool,
    first: datetime | None,
    svg: Path | None,
    png: Path | None,
    xlsx: Path | None,
    ics: Path | None,
    pdf: Path | None,
    as_json: bool,
    force: bool,
) -> None:
    """Show when the work of SCOPE is done, and what can slip without making the job late."""
    from api.commands.opening import other_times, priced
    from estimator.scheduling.job_dates import job_schedule
    from estimator.written_files import refuse_what_is_there

    files = [one for one in (svg, png, xlsx, ics, pdf) if one]
    refuse_what_is_there(files, [scope], force=force)
    estimate = priced(scope, rates, on, other_times(start, week, crew))
    dates = job_schedule(estimate)
    ahead_from = first.date() if first else None
    _write(files, scope, estimate, dates, ahead_from, force=force)
    if as_json:
        _print_json(estimate, dates)
    elif as_bars:
        from api.commands.bars_shown import show_bars

        show_bars(estimate, dates)
    elif is_ahead:
        from api.commands.two_weeks_shown import show_two_weeks
        from estimator.scheduling.two_weeks import look_ahead

        show_two_weeks(look_ahead(estimate, dates, ahead_from))
    else:
        from api.commands.schedule_shown import show_schedule
        from estimator.scheduling.worth_of_one_more import one_more

        ways = one_more(estimate, dates)
        with_cost = bool(start or week or crew)
        show_schedule(estimate, dates, ways, with_items=with_items, with_cost=with_cost)


def _print_json(estimate: Estimate, dates: JobSchedule) -> None:
    from estimator.pricing.indented_json import indented_json
    from estimator.scheduling.schedule_json import schedule_fields
    from estimator.scheduling.worth_of_one_more import one_more

    ways = one_more(estimate, dates)
    click.echo(indented_json(schedule_fields(estimate, dates, ways)), nl=False)


def _write(
    files: Sequence[Path], scope: Path, estimate: Estimate, dates: JobSchedule, first: date | None,
    *, force: bool,
) -> None:  # fmt: skip
    """Write the files of a schedule, and say where they are."""
    if not files:
        return
    from api.calculations.schedule_files import schedule_file
    from estimator.written_files import write_files

    contents = {one: schedule_file(estimate, dates, one.suffix.lower(), first) for one in files}
    write_files(contents, [scope], force=force)
    for one in files:
        click.echo(f"The schedule is in {one}.", err=True)
