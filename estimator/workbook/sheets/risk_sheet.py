"""The sheet of risk: percentiles, contingency by phase, drivers and dates, with their charts."""

from __future__ import annotations

from typing import Any

from estimator.charts.palette import ACCENT, RULE
from estimator.ranges.cost_drivers import SHARE_MEASURE
from estimator.studies.risk.job_risk import JobRisk
from estimator.workbook.sheets.curve_sheet import round_axis
from estimator.workbook.writing.book import Book, PageSetup
from estimator.workbook.writing.sheet_pen import Column, SheetPen

TITLE = "How sure"
COLUMNS = (
    Column("Phase", 9),
    Column("What", 48),
    Column("Estimate [$]", 16, True),
    Column("Contingency [$]", 16, True),
    Column("If set separately [$]", 16, True),
    Column("", 14, True),
)
CURVE_ROWS = 26
MOST_DRIVERS = 20
WHOLE_JOB = "whole job"
_CHART_ROWS = 18
_CHART_WIDTH_CM, _CHART_HEIGHT_CM = 20.0, 8.5


def write_risk(book: Book, risk: JobRisk, page: PageSetup) -> None:
    """Write the sheet."""
    pen = SheetPen(book, TITLE, COLUMNS)
    pen.across("Cost range, contingency and dates", "title")
    pen.across(risk.needed.statement)
    _percentiles(pen, risk)
    _contingency(pen, risk)
    _dates(pen, risk)
    _drivers(pen, risk)
    pen.section("Assumptions behind these numbers", ("", "Statement", "", "", "", ""))
    for words in risk.statements:
        pen.over(2, len(COLUMNS), words)
        pen.fill("plain")
        pen.down()
    _curve(pen, risk)
    pen.finish(page)


def _percentiles(pen: SheetPen, risk: JobRisk) -> None:
    totals = risk.totals
    pen.section(
        "Chance of staying within a total", ("", "Chance", "Total [$]", "Above base [$]", "", "")
    )
    rows = [(f"P{share * 100:.0f}", cents) for share, cents in totals.percentiles().items()]
    rows = [("Base: estimate without contingency", totals.estimate_cents), *rows]
    first = pen.row
    for name, cents in (*rows, ("Mean", totals.mean_cents)):
        style = "plain" if pen.row > first else "strong"
        pen.text(2, name, style)
        pen.number(3, cents / 100, f"{style} money")
        formula = f"{pen.at(3)}-{pen.at(3, first)}"
        above = (cents - totals.estimate_cents) / 100
        pen.formula(4, f"ROUND({formula},2)", above, f"{style} money")
        pen.fill(style)
        pen.down()


def _contingency(pen: SheetPen, risk: JobRisk) -> None:
    sure = f"{risk.confidence * 100:g} %"
    pen.section(f"Contingency to be {sure} sure", [column.heading for column in COLUMNS])
    names = {phase.code: phase.name for phase in risk.estimate.scope.phases}
    estimates = dict(zip(risk.totals.phases, risk.totals.phase_estimates, strict=True))
    first = pen.row
    for code, amount in risk.needed.by_phase.items():
        pen.text(1, code)
        pen.text(2, names.get(code, WHOLE_JOB))
        alone = risk.needed.alone_by_phase[code]
        for column, cents in ((3, estimates[code]), (4, amount), (5, alone)):
            pen.number(column, cents / 100, "plain money")
        pen.fill("plain")
        pen.down()
    pen.text(2, "Total", "band")
    alone_sum = sum(risk.needed.alone_by_phase.values())
    totals = (risk.totals.estimate_cents, risk.needed.amount_cents, alone_sum)
    for column, cents in enumerate(totals, start=3):
        pen.sum(column, first, cents / 100, "band money")
    pen.fill("band")
    pen.down()
    pen.across("Percentiles do not add up: phases set separately need more.")


def _drivers(pen: SheetPen, risk: JobRisk) -> None:
    # Table and chart fill a page of their own, so that no page ends within the chart.
    pen.break_page()
    headings = ("Phase", "Where the spread comes from", "Estimate [$]", "Mean [$]", "Share", "")
    pen.section("Drivers", headings)
    first = pen.row
    shown = risk.drivers[:MOST_DRIVERS]
    for one in shown:
        pen.text(1, one.phase)
        pen.text(2, one.name)
        pen.number(3, one.estimate_cents / 100, "plain money")
        pen.number(4, one.mean_cents / 100, "plain money")
        pen.number(5, one.share, "plain share")
        pen.fill("plain")
        pen.down()
    pen.across(SHARE_MEASURE)
    if shown:
        _bars(pen, first, first + min(len(shown), 10) - 1)


def _dates(pen: SheetPen, risk: JobRisk) -> None:
    headings = (
        "Phase",
        "Finish dates",
        "Likely days",
        "50 % chance by",
        "80 % chance by",
        "Critical",
    )
    pen.section("Dates", headings)
    names = {phase.code: phase.name for phase in risk.estimate.scope.phases}
    for phase in risk.dates.phases:
        pen.text(1, phase.code)
        pen.text(2, names[phase.code])
        pen.number(3, round(phase.days.likely, 1), "plain quantity 1")
        for column, share in ((4, 0.5), (5, 0.8)):
            day = risk.dates.percentile_date(share, risk.calendar, risk.start, phase.code)
            pen.number(column, day, "plain day")
        pen.number(6, risk.dates.criticality[phase.code], "plain share")
        pen.down()
    pen.text(2, f"The job, from {risk.start}", "band")
    pen.number(3, round(risk.dates.likely.finish_days, 1), "band quantity 1")
    for column, share in ((4, 0.5), (5, 0.8)):
        pen.number(column, risk.finish(share), "band day")
    pen.fill("band")
    pen.down()


def _curve(pen: SheetPen, risk: JobRisk) -> None:
    pen.break_page()
    pen.section("S-curve", ("", "", "Total [$]", "Chance", "", ""))
    first = pen.row
    for cents, share in risk.totals.curve(CURVE_ROWS):
        pen.number(3, cents / 100, "plain money")
        pen.number(4, share, "plain share")
        pen.fill("plain")
        pen.down()
    _s_curve(pen, first, pen.row - 1, risk)


def _s_curve(pen: SheetPen, first: int, last: int, risk: JobRisk) -> None:
    from openpyxl.chart import Reference, ScatterChart, Series

    chart: Any = ScatterChart()
    totals = Reference(pen.sheet, min_col=3, min_row=first, max_row=last)
    chances = Reference(pen.sheet, min_col=4, min_row=first, max_row=last)
    series: Any = Series(chances, totals, title="chance of staying within")
    series.marker.symbol, series.smooth = "none", False
    series.graphicalProperties.line.solidFill = ACCENT
    chart.series.append(series)
    chart.y_axis.scaling.min, chart.y_axis.scaling.max = 0.0, 1.0
    x = chart.x_axis
    least, most = (int(risk.totals.sorted_cents[end]) / 100 for end in (0, -1))
    if least < most:
        x.scaling.min, x.scaling.max, x.majorUnit = round_axis(least, most)
    _place(pen, chart, "0%", "#,##0")
    pen.across("The curve is drawn from the table above it.")


def _bars(pen: SheetPen, first: int, last: int) -> None:
    from openpyxl.chart import BarChart, Reference

    chart: Any = BarChart()
    chart.type, chart.gapWidth = "bar", 45
    chart.add_data(Reference(pen.sheet, min_col=5, min_row=first, max_row=last))
    chart.set_categories(Reference(pen.sheet, min_col=2, min_row=first, max_row=last))
    chart.series[0].graphicalProperties.solidFill = ACCENT
    chart.x_axis.scaling.orientation = "maxMin"
    chart.y_axis.crosses = "max"
    _place(pen, chart, "0%", "General")


def _place(pen: SheetPen, chart: Any, amounts: str, names: str) -> None:
    from openpyxl.chart.axis import ChartLines
    from openpyxl.chart.shapes import GraphicalProperties
    from openpyxl.drawing.line import LineProperties

    chart.style, chart.legend = 10, None
    chart.width, chart.height = _CHART_WIDTH_CM, _CHART_HEIGHT_CM
    chart.x_axis.delete = chart.y_axis.delete = False
    chart.y_axis.number_format, chart.y_axis.numFmt.sourceLinked = amounts, False
    if names != "General":
        chart.x_axis.number_format, chart.x_axis.numFmt.sourceLinked = names, False
    rule = GraphicalProperties(ln=LineProperties(solidFill=RULE, w=6350))
    chart.y_axis.majorGridlines = ChartLines(spPr=rule)
    pen.down()
    chart.anchor = f"B{pen.row}"
    pen.sheet.add_chart(chart)
    pen.down(_CHART_ROWS)
