"""The sheet of bars: phases and items, crews and rented machines over columns of days."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING

from estimator.charts.palette import ACCENT, BAND, GRAY, INK, RULE
from estimator.scheduling.bar_marks import (
    ALONG,
    CRITICAL,
    FLOATING,
    NONE,
    RENTED,
    SOME_DAYS,
    WAITS,
    DayColumns,
    bar_letters,
    day_columns,
    load_letters,
    rent_letters,
)
from estimator.scheduling.job_bars import JobBars
from estimator.scheduling.rent_by_dates import ordered_quantities
from estimator.scope.calendar_reader import MONTHS
from estimator.workbook.writing.book import Book, PageSetup
from estimator.workbook.writing.look import TYPEFACE
from estimator.workbook.writing.sheet_pen import Column, SheetPen

if TYPE_CHECKING:
    from openpyxl.styles import NamedStyle

TITLE = "Bars"
NOTE = (
    "C critical: the finish date depends on it. F has float. A runs along other work. W stated "
    "wait. A number is the most at work on any of its days. R rented, on the days of its work; S "
    "rented on some of these days, but nobody stated which."
)
# What stands in a cell for each mark; each letter's own color, its fill, and whether it is hatched.
_CELLS = {CRITICAL: "C", FLOATING: "F", ALONG: "A", WAITS: "W"}
_RENT_CELLS = {RENTED: "R", SOME_DAYS: "S"}
_NUMBER = "N"
_LOOKS = {
    "C": ("FFFFFF", ACCENT, False), "F": (INK, RULE, False), "A": (INK, BAND, False),
    "W": (INK, GRAY, True), "R": (INK, RULE, False), "S": (INK, GRAY, True),
    _NUMBER: (INK, BAND, False),
}  # fmt: skip
_LONGEST_BY_DAY, _MOST_COLUMNS = 42, 48
_BEFORE = (
    Column("Code", 8),
    Column("Work", 36),
    Column("Start", 11, True),
    Column("End", 11, True),
)


def write_bars(book: Book, bars: JobBars, page: PageSetup) -> None:
    """Write the sheet."""
    schedule = bars.schedule
    is_short = (schedule.finish - schedule.start).days < _LONGEST_BY_DAY
    columns = day_columns(bars, _MOST_COLUMNS, 1 if is_short else 7)
    for style in _styles():
        book.workbook.add_named_style(style)
    pen = SheetPen(book, TITLE, (*_BEFORE, *(Column("", 3.2) for _ in range(columns.count))))
    pen.across(f"{bars.project}: {schedule.start} to {schedule.finish}", "title")
    days = "a day" if columns.days == 1 else f"{columns.days} days"
    pen.across(f"A column is {days}. {NOTE} {bars.assumed}".rstrip())
    pen.down()
    _write_work(pen, bars, columns)
    _write_crews(pen, bars, columns)
    _write_rents(pen, bars, columns)
    pen.finish(page)


def _styles() -> Iterator[NamedStyle]:
    from openpyxl.styles import Alignment, Border, Font, NamedStyle, PatternFill, Side

    for letter, (color, fill, is_hatched) in _LOOKS.items():
        style = NamedStyle(f"Groundsill bar {letter}")
        style.font = Font(name=TYPEFACE, size=8, bold=True, color=color)
        style.alignment = Alignment("center", "center")
        if is_hatched:
            style.fill = PatternFill("lightUp", start_color=fill, end_color="FFFFFF")
        else:
            style.fill = PatternFill("solid", start_color=fill, end_color=fill)
        style.border = Border(bottom=Side("hair", RULE))
        yield style


def _heading(pen: SheetPen, title: str, columns: DayColumns, *, is_dated: bool = True) -> None:
    pen.fill("head")
    pen.text(2, title, "head")
    for place in (3, 4) if is_dated else ():
        pen.text(place, _BEFORE[place - 1].heading, "head right")
    first = len(_BEFORE) + 1
    for place, words in _months(columns):
        pen.over(first + place, first + place + 1, words, "head")
    pen.down()


def _months(columns: DayColumns) -> Iterator[tuple[int, str]]:
    """Yield the columns in which a month begins and the next one has room, with its name."""
    free, month, year = 0, 0, 0
    for place in range(columns.count - 1):
        begin = columns.begin(place)
        if begin.month != month and place >= free:
            name = MONTHS[begin.month - 1]
            yield place, name if begin.year == year else f"{name}\n{begin.year}"
            free, year = place + 2, begin.year
        month = begin.month


def _write_work(pen: SheetPen, bars: JobBars, columns: DayColumns) -> None:
    heading = pen.row
    _heading(pen, "Work", columns)
    pen.sheet.freeze_panes = f"E{pen.row}"
    pen.sheet.print_title_rows = f"{heading}:{heading}"
    for row in bars.rows:
        style = "strong" if row.is_phase else "plain"
        pen.text(1, row.work.code, style)
        pen.text(2, row.work.name, style)
        pen.number(3, row.work.start, f"{style} day")
        pen.number(4, row.work.finish, f"{style} day")
        _cells(pen, bar_letters(row, columns), _CELLS)


def _write_crews(pen: SheetPen, bars: JobBars, columns: DayColumns) -> None:
    if not bars.crews:
        return
    pen.down()
    _heading(pen, "At work, most on any day", columns, is_dated=False)
    for one in bars.crews:
        pen.text(2, f"{one.name}, {one.words}", "plain")
        _cells(pen, load_letters(one, columns), {})


def _write_rents(pen: SheetPen, bars: JobBars, columns: DayColumns) -> None:
    if not bars.rents:
        return
    pen.down()
    _heading(pen, "Rented machines", columns)
    for spans in bars.rents_by_machine:
        pen.text(2, f"{spans[0].name}, {ordered_quantities(spans)}", "plain")
        pen.number(3, spans[0].first, "plain day")
        pen.number(4, max(one.last for one in spans), "plain day")
        _cells(pen, rent_letters(spans, columns), _RENT_CELLS)


def _cells(pen: SheetPen, letters: str, cells: Mapping[str, str]) -> None:
    """Write a cell for each mark; a digit stands for itself."""
    for column, mark in enumerate(letters, start=len(_BEFORE) + 1):
        if mark in cells:
            pen.text(column, cells[mark], f"bar {cells[mark]}")
        elif mark != NONE:
            pen.text(column, mark, f"bar {_NUMBER}")
    pen.fill("plain")
    pen.down()
