"""A chart over days in a workbook: lines of cells, and limits as broken lines."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from estimator.charts.palette import GRAY, RULE
from estimator.workbook.writing.sheet_pen import SheetPen

_DAY_ZERO = date(1899, 12, 30)
_LINE_EMU = 22_225  # 1.75 pt


@dataclass(frozen=True)
class DatedLine:
    """A line of a chart.

    Parameters
    ----------
    column : int
        Where its values stand, from 1; the days stand in the first column.
    name, color : str
        As the legend says it; as the palette has it.
    has_marks, is_broken : bool
        Whether each value is marked; whether the line is broken, as that of a limit is.
    """

    column: int
    name: str
    color: str
    has_marks: bool = False
    is_broken: bool = False


def add_dated_chart(
    pen: SheetPen,
    anchor: str,
    first_row: int,
    days: Sequence[date],
    lines: Sequence[DatedLine],
    unit: str,
    *,
    number_format: str = "#,##0",
    step_days: int,
    size_cm: tuple[float, float],
) -> None:
    """Put a chart of cells on a sheet.

    Parameters
    ----------
    pen : SheetPen
        Has written the cells.
    anchor : str
        The cell of its upper left corner.
    first_row : int
        Of the values; one row a day.
    days : sequence of date
        At least one, in order.
    lines : sequence of DatedLine
        Each a column of the cells.
    unit, number_format : str
        Of the values.
    step_days : int
        [day] From one mark of the axis to the next.
    size_cm : (float, float)
        [cm] Width and height.
    """
    from openpyxl.chart import ScatterChart

    chart: Any = ScatterChart()
    chart.style, (chart.width, chart.height) = 10, size_cm
    if len(days) > 1:  # an axis has two ends
        scaling = chart.x_axis.scaling
        scaling.min, scaling.max = _serial(days[0]), _serial(days[-1])
    for line in lines:
        chart.series.append(_series(pen, line, first_row, first_row + len(days) - 1))
    _set_axes(chart, unit, number_format, step_days)
    chart.anchor = anchor
    pen.sheet.add_chart(chart)


def _series(pen: SheetPen, line: DatedLine, first: int, last: int) -> Any:
    from openpyxl.chart import Reference, Series

    days = Reference(pen.sheet, min_col=1, min_row=first, max_row=last)
    cells = Reference(pen.sheet, min_col=line.column, min_row=first, max_row=last)
    series: Any = Series(cells, days, title=line.name)
    series.marker.symbol = "circle" if line.has_marks else "none"
    series.smooth = False
    drawn = series.graphicalProperties.line
    drawn.solidFill, drawn.width = line.color, _LINE_EMU
    if line.is_broken:
        drawn.dashStyle = "dash"
    return series


def _serial(day: date) -> int:
    """Return the number that a spreadsheet has for a day."""
    return (day - _DAY_ZERO).days


def _set_axes(chart: Any, unit: str, number_format: str, step_days: int) -> None:
    from openpyxl.chart.axis import ChartLines
    from openpyxl.chart.shapes import GraphicalProperties
    from openpyxl.drawing.line import LineProperties

    chart.legend.position = "b"
    days, values = chart.x_axis, chart.y_axis
    days.delete = values.delete = False
    values.title = unit
    days.number_format, days.numFmt.sourceLinked = "mmm d", False
    values.number_format, values.numFmt.sourceLinked = number_format, False
    days.majorGridlines = None
    days.majorUnit = step_days
    values.majorGridlines = ChartLines(
        spPr=GraphicalProperties(ln=LineProperties(solidFill=RULE, w=6350))
    )
    for axis in (days, values):
        axis.graphicalProperties = GraphicalProperties(ln=LineProperties(solidFill=GRAY, w=6350))
