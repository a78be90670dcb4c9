"""The sheet of measured points: readings by day beside their limits, each point with a chart."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from estimator.charts.palette import ACCENT, SERIES
from estimator.tracking.measured_points import PointCourse
from estimator.workbook.sheets.dated_chart import DatedLine, add_dated_chart
from estimator.workbook.writing.book import Book, PageSetup
from estimator.workbook.writing.sheet_pen import Column, SheetPen

TITLE = "Points"
NOTE = (
    "The last reading of each day, and the limits as last set. A sentence says where a limit is "
    "passed, or where the straight line through the last two readings reaches it within two "
    "weeks; the engineer judges what will happen."
)
HEADINGS = ("Day", "Reading", "At least", "At most")
COLUMNS = (
    Column("", 12, True), Column("", 12, True), Column("", 12, True), Column("", 12, True),
    Column("", 48),
)  # fmt: skip
_LINES = (
    DatedLine(2, "reading", SERIES[1], has_marks=True),
    DatedLine(3, "at least", ACCENT, is_broken=True),
    DatedLine(4, "at most", ACCENT, is_broken=True),
)
_CHART_ROWS, _SIZE_CM = 13, (9.0, 6.4)


def write_points(book: Book, courses: Sequence[PointCourse], page: PageSetup) -> None:
    """Write the sheet."""
    pen = SheetPen(book, TITLE, COLUMNS)
    pen.across("Measured points", "title")
    pen.across(NOTE)
    for course in courses:
        _write_course(pen, course)
    pen.finish(page)


def _write_course(pen: SheetPen, course: PointCourse) -> None:
    point = course.point
    pen.section(f"{point.name} [{point.unit}]", HEADINGS)
    first = pen.row
    for one in course.readings:
        pen.number(1, one.happened, "plain day")
        for column, value in enumerate((one.value, point.least, point.most), start=2):
            pen.number(column, _plain(value), "plain exact")
        pen.down()
    end = pen.row
    if course.readings:
        lines = [one for one in _LINES if _is_drawn(one, course)]
        days = [one.happened for one in course.readings]
        step = max(1, (days[-1] - days[0]).days // 4)
        add_dated_chart(
            pen, pen.at(5, first), first, days, lines, point.unit,
            number_format="General", step_days=step, size_cm=_SIZE_CM,
        )  # fmt: skip
        end = max(end, first + _CHART_ROWS)
    pen.go_to(end)
    pen.across("; ".join(filter(None, (point.note, course.sentence))))


def _plain(value: Decimal | None) -> float | None:
    return None if value is None else float(value)


def _is_drawn(line: DatedLine, course: PointCourse) -> bool:
    limits = {3: course.point.least, 4: course.point.most}
    return line.column not in limits or limits[line.column] is not None
