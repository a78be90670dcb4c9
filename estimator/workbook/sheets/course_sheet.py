"""The sheet of the course: planned, earned and incurred by the end of each week, as a chart."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Any

from estimator.charts.palette import GRAY, RULE, SERIES
from estimator.tracking.weekly_course import WeekPoint
from estimator.workbook.writing.book import Book, PageSetup
from estimator.workbook.writing.sheet_pen import Column, SheetPen

TITLE = "S-curve"
NOTE = (
    "Planned value over the stated days, earned value of what is in place, and cost incurred, each "
    "from the beginning to the end of the week. Incurred below earned is cheaper than budgeted; "
    "earned below planned is later than planned."
)
COLUMNS = (
    Column("Week to", 12, True), Column("Planned\n[$]", 15, True), Column("Earned\n[$]", 15, True),
    Column("Incurred\n[$]", 15, True), Column("", 34),
)  # fmt: skip
_CHART_ROWS = 24
_DAY_ZERO = date(1899, 12, 30)
_CHART_WIDTH_CM, _CHART_HEIGHT_CM = 17.0, 10.5


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
        _add_chart(pen, f"A{chart_row}", heading + 1, course)
    pen.finish(page)


def _add_chart(pen: SheetPen, anchor: str, first: int, course: Sequence[WeekPoint]) -> None:
    from openpyxl.chart import Reference, ScatterChart, Series

    chart: Any = ScatterChart()
    last = first + len(course) - 1
    if len(course) > 1:  # an axis has two ends
        scaling = chart.x_axis.scaling
        scaling.min, scaling.max = _serial(course[0].day), _serial(course[-1].day)
    chart.style, chart.height, chart.width = 10, _CHART_HEIGHT_CM, _CHART_WIDTH_CM
    days = Reference(pen.sheet, min_col=1, min_row=first, max_row=last)
    for place, name in enumerate(("planned", "earned", "incurred")):
        cells = Reference(pen.sheet, min_col=place + 2, min_row=first, max_row=last)
        series = Series(cells, days, title=name)
        series.marker.symbol = "none"
        series.smooth = False
        series.graphicalProperties.line.solidFill = SERIES[place % len(SERIES)]
        series.graphicalProperties.line.width = 22225
        chart.series.append(series)
    _set_axes(chart)
    chart.anchor = anchor
    pen.sheet.add_chart(chart)


def _serial(day: date) -> int:
    """Return the number that a spreadsheet has for a day."""
    return (day - _DAY_ZERO).days


def _set_axes(chart: Any) -> None:
    from openpyxl.chart.axis import ChartLines
    from openpyxl.chart.shapes import GraphicalProperties
    from openpyxl.drawing.line import LineProperties

    chart.legend.position = "b"
    days, dollars = chart.x_axis, chart.y_axis
    days.delete = dollars.delete = False
    dollars.title = "$"
    days.number_format, days.numFmt.sourceLinked = "mmm d", False
    dollars.number_format, dollars.numFmt.sourceLinked = "#,##0", False
    days.majorGridlines = None
    days.majorUnit = 28
    dollars.majorGridlines = ChartLines(
        spPr=GraphicalProperties(ln=LineProperties(solidFill=RULE, w=6350))
    )
    for axis in (days, dollars):
        axis.graphicalProperties = GraphicalProperties(ln=LineProperties(solidFill=GRAY, w=6350))
