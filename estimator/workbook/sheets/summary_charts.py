"""Bar charts of the summary, drawn by the spreadsheet from the cells of its tables."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from typing import TYPE_CHECKING, Any

from estimator.charts.palette import ACCENT, GRAY, RULE
from estimator.workbook.writing.look import TYPEFACE
from estimator.workbook.writing.sheet_pen import SheetPen

if TYPE_CHECKING:
    from openpyxl.chart import BarChart
    from openpyxl.chart.text import RichText
    from openpyxl.drawing.spreadsheet_drawing import TwoCellAnchor

MOST_BARS = 40
_ROWS_BESIDE_BARS = 3


def add_chart(pen: SheetPen, title: str, first_row: int, shown: Sequence[Decimal]) -> None:
    """Place a chart of names (column 1) and amounts (column 4) here, and go on below it.

    Parameters
    ----------
    first_row : int
        Where the table begins.
    shown : sequence of Decimal
        [$] The amounts in it; the first forty are drawn.
    """
    from openpyxl.chart import BarChart, Reference

    bars, drawn = len(shown), min(len(shown), MOST_BARS)
    last_row = first_row + drawn - 1
    pen.down()
    pen.across(title if drawn == bars else f"{title}, the first {drawn} of {bars}", "section")
    chart: Any = BarChart()
    chart.add_data(Reference(pen.sheet, min_col=4, min_row=first_row, max_row=last_row))
    chart.set_categories(Reference(pen.sheet, min_col=1, min_row=first_row, max_row=last_row))
    _set_look(chart)
    if min(shown) >= 0:
        # Left alone, the axis of amounts that are much alike would not begin at zero.
        chart.y_axis.scaling.min = 0
    rows = drawn + _ROWS_BESIDE_BARS
    chart.anchor = _place(pen, rows)
    pen.sheet.add_chart(chart)
    pen.down(rows)


def _place(pen: SheetPen, rows: int) -> TwoCellAnchor:
    """Return the place over all columns and so many rows; tied to cells, whatever their size."""
    from openpyxl.drawing.spreadsheet_drawing import AnchorMarker, TwoCellAnchor

    return TwoCellAnchor(
        _from=AnchorMarker(col=0, row=pen.row - 1),
        to=AnchorMarker(col=len(pen.columns), row=pen.row - 1 + rows),
    )


def _set_look(chart: BarChart) -> None:
    from openpyxl.chart.axis import ChartLines
    from openpyxl.chart.shapes import GraphicalProperties

    chart.type, chart.style, chart.legend, chart.gapWidth = "bar", 10, None, 45
    bars = chart.series[0].graphicalProperties
    bars.solidFill = ACCENT
    bars.line.solidFill = ACCENT
    chart.series[0].invertIfNegative = False
    names, amounts = chart.x_axis, chart.y_axis
    lines = GraphicalProperties(ln=_line(RULE))
    names.delete = amounts.delete = False
    # Names read from the top down, beside the bars even where salvage is below zero.
    names.scaling.orientation = "maxMin"
    names.tickLblPos = "low"
    amounts.number_format, amounts.numFmt.sourceLinked = "#,##0", False
    amounts.crosses = "max"
    amounts.majorGridlines = ChartLines(spPr=lines)
    names.graphicalProperties = lines
    names.txPr = amounts.txPr = _small_print()
    chart.graphical_properties = GraphicalProperties(noFill=True, ln=_line(""))


def _line(color: str) -> object:
    from openpyxl.drawing.line import LineProperties

    return LineProperties(solidFill=color, w=6350) if color else LineProperties(noFill=True)


def _small_print() -> RichText:
    from openpyxl.chart.text import RichText
    from openpyxl.drawing.text import (
        CharacterProperties,
        Font,
        Paragraph,
        ParagraphProperties,
    )

    letters = CharacterProperties(sz=900, latin=Font(typeface=TYPEFACE), solidFill=GRAY)
    return RichText(p=[Paragraph(pPr=ParagraphProperties(defRPr=letters), endParaRPr=letters)])
