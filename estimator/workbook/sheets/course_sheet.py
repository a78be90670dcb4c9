"""The sheet of the course: planned, earned and incurred by the end of each week, as a chart."""

from __future__ import annotations

from collections.abc import Sequence

from estimator.charts.palette import SERIES
from estimator.tracking.weekly_course import WeekPoint
from estimator.workbook.sheets.dated_chart import DatedLine, add_dated_chart
from estimator.workbook.writing.book import Book, PageSetup
from estimator.workbook.writing.sheet_pen import Column, SheetPen

TITLE = "S-curve"
NOTE = (
    "Planned value over the stated days, earned value of what is in place, and cost incurred, "
    "each from the start of the job to the end of the week. Incurred below earned means cheaper "
    "than budgeted; earned below planned means later than planned."
)
COLUMNS = (
    Column("Week to", 12, True), Column("Planned\n[$]", 15, True), Column("Earned\n[$]", 15, True),
    Column("Incurred\n[$]", 15, True), Column("", 34),
)  # fmt: skip
_CHART_ROWS = 24
_SIZE_CM = (17.0, 10.5)
_LINES = [
    DatedLine(column, name, SERIES[column - 2])
    for column, name in enumerate(("planned", "earned", "incurred"), start=2)
]


def write_course(book: Book, course: Sequence[WeekPoint], page: PageSetup) -> None:
    """Write the sheet."""
    pen = SheetPen(book, TITLE, COLUMNS)
    pen.across("Planned, earned and incurred", "title")
    pen.across(NOTE)
    pen.down()
    chart_row = pen.row
    pen.down(_CHART_ROWS)
    heading = pen.row
    pen.heading()
    for point in course:
        pen.number(1, point.day, "plain day")
        cents = (point.planned_cents, point.earned_cents, point.incurred_cents)
        for column, amount in enumerate(cents, start=2):
            pen.number(column, None if amount is None else amount / 100, "plain money")
        pen.down()
    if course:
        days = [point.day for point in course]
        add_dated_chart(
            pen, f"A{chart_row}", heading + 1, days, _LINES, "$", step_days=28, size_cm=_SIZE_CM
        )
    pen.finish(page)
