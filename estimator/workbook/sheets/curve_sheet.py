"""The sheet of a curve: what each method costs in all over one value, in words and as a chart."""

from __future__ import annotations

from math import ceil, floor, log10
from typing import Any

import numpy as np

from estimator.charts.palette import GRAY, RULE, SERIES
from estimator.money import money_text
from estimator.studies.comparison.break_even import CheapestIntervals
from estimator.studies.comparison.comparison import Comparison
from estimator.studies.comparison.curves import Curves
from estimator.studies.comparison.sentences import (
    cheapest_sentences,
    sentence_case,
    step_sentence,
    words_in_a_row,
)
from estimator.workbook.writing.book import Book, PageSetup
from estimator.workbook.writing.sheet_pen import Column, SheetPen

TITLE = "Curve"
_CHART_ROWS = 24
_CHART_WIDTH_CM, _CHART_HEIGHT_CM = 23.0, 11.5
MOST_ROWS = 31
_LEAST_TICKS = 5


def write_curve(
    book: Book,
    comparison: Comparison,
    curves: Curves,
    cheapest: CheapestIntervals,
    page: PageSetup,
) -> None:
    """Write the sheet."""
    names = [one.method.name for one in comparison.prepared]
    unit = curves.varied.unit.name
    columns = (
        Column(f"{curves.varied.name} [{unit}]", 22, True),
        *(Column(f"{name}, total with time [$]", 20, True) for name in names),
        Column("Best", 34),
    )
    pen = SheetPen(book, TITLE, columns)
    pen.across(f"Total with time, by {curves.varied.name}", "title")
    for sentence in (*cheapest_sentences(comparison, cheapest), step_sentence(cheapest)):
        pen.across(sentence_case(sentence))
    pen.across(f"A day is worth {money_text(comparison.day_worth)}.")
    rows = np.unique(np.linspace(0, len(curves.values) - 1, MOST_ROWS).round().astype(int)).tolist()
    first = pen.row + _CHART_ROWS + 4
    _add_chart(pen, comparison, curves, first, first + len(rows) - 1)
    pen.break_page()
    pen.heading()
    for place in rows:
        value = float(curves.values[place])
        pen.number(1, value, "plain share" if unit == "fraction" else "plain quantity 2")
        for column, amount in enumerate(curves.cents[:, place].tolist(), start=2):
            pen.number(column, amount / 100, "plain money")
        best = words_in_a_row([names[n] for n in curves.cheapest_at(place)])
        pen.text(len(columns), best)
        pen.down()
    pen.finish(page)


def _add_chart(
    pen: SheetPen, comparison: Comparison, curves: Curves, first: int, last: int
) -> None:
    """Place the chart here, drawn from rows below it, and go on below it."""
    from openpyxl.chart import Reference, ScatterChart, Series

    chart: Any = ScatterChart()
    chart.style, chart.height, chart.width = 10, _CHART_HEIGHT_CM, _CHART_WIDTH_CM
    values = Reference(pen.sheet, min_col=1, min_row=first, max_row=last)
    for place, prepared in enumerate(comparison.prepared):
        costs = Reference(pen.sheet, min_col=place + 2, min_row=first, max_row=last)
        series = Series(costs, values, title=prepared.method.name)
        series.marker.symbol = "none"
        series.smooth = False
        series.graphicalProperties.line.solidFill = SERIES[place % len(SERIES)]
        series.graphicalProperties.line.width = 19050
        chart.series.append(series)
    _set_axes(chart, curves)
    pen.down()
    chart.anchor = f"A{pen.row}"
    pen.sheet.add_chart(chart)
    pen.down(_CHART_ROWS + 2)


def _set_axes(chart: Any, curves: Curves) -> None:
    from openpyxl.chart.axis import ChartLines
    from openpyxl.chart.shapes import GraphicalProperties
    from openpyxl.drawing.line import LineProperties

    chart.legend.position = "b"
    x, y = chart.x_axis, chart.y_axis
    x.delete = y.delete = False
    x.title, y.title = f"{curves.varied.name} [{curves.varied.unit.name}]", "total with time [$]"
    x.scaling.min, x.scaling.max, x.majorUnit = round_axis(curves.values[0], curves.values[-1])
    x.number_format, x.numFmt.sourceLinked = "General", False
    least, most = min(0, curves.cents.min()) / 100, max(1, curves.cents.max()) / 100
    y.scaling.min, y.scaling.max, y.majorUnit = round_axis(least, most)
    y.number_format, y.numFmt.sourceLinked = "#,##0", False
    rule = GraphicalProperties(ln=LineProperties(solidFill=RULE, w=6350))
    y.majorGridlines = ChartLines(spPr=rule)
    x.majorGridlines, x.tickLblPos = None, "low"
    for axis in (x, y):
        axis.graphicalProperties = GraphicalProperties(ln=LineProperties(solidFill=GRAY, w=6350))


def round_axis(low: float, high: float) -> tuple[float, float, float]:
    """Return round ends of an axis over a range, and the round step of its ticks.

    Examples
    --------
    >>> round_axis(2.0625, 8.25)
    (2.0, 9.0, 1.0)
    >>> round_axis(0.35, 0.95)
    (0.3, 1.0, 0.1)
    """
    exponent = floor(log10((high - low) / _LEAST_TICKS))
    size = 10.0**exponent
    step = size * max(n for n in (1, 2, 5) if n * size * _LEAST_TICKS <= (high - low) * (1 + 1e-9))
    digits = max(0, -exponent)
    first, last = floor(low / step + 1e-9) * step, ceil(high / step - 1e-9) * step
    return round(first, digits), round(last, digits), round(step, digits)
