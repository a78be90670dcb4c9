"""The sheet of dates: every phase and item with its days and float, and a chart drawn from them."""

from __future__ import annotations

from datetime import date
from typing import Any

from estimator.charts.palette import ACCENT, BAND, GRAY, INK, RULE
from estimator.scheduling.job_bars import BarRow, JobBars
from estimator.workbook.writing.book import Book, PageSetup
from estimator.workbook.writing.sheet_pen import Column, SheetPen

TITLE = "Dates"
NOTE = (
    "Days of work are working days, less what weather is expected to take. The last three "
    "columns are calendar days, for the chart."
)
COLUMNS = (
    Column("Code", 8), Column("Work", 36), Column("Start", 11, True), Column("End", 11, True),
    Column("Days of work", 9, True), Column("Float\n[day]", 8, True), Column("In words", 19),
    Column("Waits until", 11, True), Column("Critical\n[day]", 9, True),
    Column("With float\n[day]", 9, True), Column("Along\n[day]", 9, True),
)  # fmt: skip
MOST_BARS = 250
_DAY_ZERO = date(1899, 12, 30)
_WIDTH_CM, _ROW_CM, _AROUND_CM, _PAGE_CM = 26.0, 0.55, 3.0, 34.0
_FIRST_LENGTH = 9
_LOOKS = ((ACCENT, "critical"), (RULE, "has float"), (BAND, "runs along other work"))


def write_dates(book: Book, bars: JobBars, page: PageSetup) -> None:
    """Write the sheet."""
    pen = SheetPen(book, TITLE, COLUMNS)
    pen.top(f"{bars.project}: dates", NOTE)
    first = pen.row
    for row in bars.rows:
        _write_row(pen, row)
    last = pen.row - 1
    if len(bars.rows) <= MOST_BARS:
        _add_chart(pen, bars, first, last)
    pen.finish(page)


def _write_row(pen: SheetPen, row: BarRow) -> None:
    work, style = row.work, "strong" if row.is_phase else "plain"
    pen.text(1, work.code, style)
    pen.text(2, work.name, style)
    pen.number(3, work.start, f"{style} day")
    pen.number(4, work.finish, f"{style} day")
    pen.number(5, round(work.days, 2), f"{style} quantity 2")
    pen.number(6, round(work.float_days, 2), f"{style} quantity 2")
    pen.text(7, row.words, style)
    waits = max((one.last for one in row.waits), default=None)
    pen.number(8, waits, f"{style} day")
    length = (work.finish - work.start).days + 1 if work.days else 0
    kind = 2 if work.along else 0 if work.is_critical else 1
    for place in range(len(_LOOKS)):
        value = length if place == kind else None
        pen.number(_FIRST_LENGTH + place, value, f"{style} quantity 0")
    pen.down()


def _add_chart(pen: SheetPen, bars: JobBars, first: int, last: int) -> None:
    """Draw each row as a bar that begins at its start: the part before it has no color."""
    from openpyxl.chart import BarChart, Reference, Series

    chart: Any = BarChart()
    chart.type, chart.grouping, chart.overlap, chart.gapWidth = "bar", "stacked", 100, 40
    chart.style, chart.width = 10, _WIDTH_CM
    chart.height = min(_AROUND_CM + _ROW_CM * len(bars.rows), _PAGE_CM)
    begins = Series(Reference(pen.sheet, min_col=3, min_row=first, max_row=last), title="start")
    begins.graphicalProperties.noFill = True
    begins.graphicalProperties.line.noFill = True
    chart.series.append(begins)
    for place, (color, name) in enumerate(_LOOKS):
        column = _FIRST_LENGTH + place
        cells = Reference(pen.sheet, min_col=column, min_row=first, max_row=last)
        series: Any = Series(cells, title=name)
        series.graphicalProperties.solidFill = color
        series.graphicalProperties.line.solidFill = INK
        chart.series.append(series)
    chart.set_categories(Reference(pen.sheet, min_col=2, min_row=first, max_row=last))
    _set_axes(chart, bars)
    pen.break_page()
    pen.down()
    chart.anchor = f"A{pen.row}"
    pen.sheet.add_chart(chart)
    pen.down(int(chart.height / 0.53) + 2)
    pen.across("Dark is critical, gray has float, pale runs along other work.")


def _set_axes(chart: Any, bars: JobBars) -> None:
    from openpyxl.chart.axis import ChartLines
    from openpyxl.chart.shapes import GraphicalProperties
    from openpyxl.drawing.line import LineProperties

    chart.legend = None
    work, days = chart.x_axis, chart.y_axis
    work.delete = days.delete = False
    work.scaling.orientation, work.tickLblSkip = "maxMin", 1
    first, last = ((one - _DAY_ZERO).days for one in (bars.schedule.start, bars.schedule.finish))
    days.scaling.min, days.scaling.max = first, last + 1
    days.majorUnit = max(7, (last - first) // 10 // 7 * 7)
    form = "mmm d" if bars.is_one_year else "yyyy-mm-dd"
    days.number_format, days.numFmt.sourceLinked = form, False
    rule = GraphicalProperties(ln=LineProperties(solidFill=RULE, w=6350))
    days.majorGridlines = ChartLines(spPr=rule)
    for axis in (work, days):
        axis.graphicalProperties = GraphicalProperties(ln=LineProperties(solidFill=GRAY, w=6350))
