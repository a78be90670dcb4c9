"""The sheet of measures: quantities, unit costs and the forecasts of each code side by side."""

from __future__ import annotations

from estimator.money import rounded
from estimator.tracking.forecast import at_budgeted_cost, by_both_indexes, by_cost_index
from estimator.tracking.job_track import Track
from estimator.tracking.status import NOT_MEASURED, CodeStatus
from estimator.workbook.writing.book import Book, PageSetup
from estimator.workbook.writing.sheet_pen import Column, SheetPen

TITLE = "Measures"
NOTE = (
    "What is in place on each code that was measured, what a unit costs, and what the code will "
    "come to, by what is left of the work and by the published methods. The inspector's figure "
    "is in none of them."
)
COLUMNS = (
    Column("Code", 14), Column("Work", 32), Column("Unit", 8), Column("In place", 11, True),
    Column("Inspector", 11, True), Column("Expected", 11, True), Column("Done\n[%]", 8, True),
    Column("Cost per\nunit [$]", 11, True), Column("Budget per\nunit [$]", 11, True),
    Column("Schedule\nvariance [$]", 13, True), Column("Schedule\nindex", 10),
    Column("By what is\nleft [$]", 13, True), Column("Rest as\nbudgeted [$]", 13, True),
    Column("Budget over\ncost index [$]", 13, True), Column("Over both\nindexes [$]", 13, True),
)  # fmt: skip


def write_measures(book: Book, track: Track, page: PageSetup) -> None:
    """Write the sheet: a line for each code of which something was measured."""
    pen = SheetPen(book, TITLE, COLUMNS)
    pen.top(TITLE, NOTE, names=2)
    for code in track.status.codes:
        if code.phase and (code.how_earned != NOT_MEASURED or code.code in track.inspected):
            _write_code(pen, track, code)
    pen.finish(page)


def _write_code(pen: SheetPen, track: Track, code: CodeStatus) -> None:
    seen, performance = track.inspected.get(code.code), code.performance
    pen.text(1, code.code, "strong")
    pen.text(2, code.name)
    pen.text(3, code.unit)
    inspector = None if seen is None else seen.quantity
    quantities = (code.quantity, inspector, code.expected, rounded(code.percent, 1))
    for column, quantity in enumerate(quantities, start=4):
        pen.number(column, None if quantity is None else float(quantity), "plain quantity 2")
    for column, cents in (
        (8, code.cost_per_unit_cents),
        (9, code.budget_per_unit_cents),
        (10, performance.schedule_variance_cents),
        (12, track.forecast_cents(code)),
        (13, at_budgeted_cost(performance)),
        (14, by_cost_index(performance)),
        (15, by_both_indexes(performance)),
    ):
        pen.number(column, None if cents is None else cents / 100, "plain money")
    pen.text(11, str(performance.schedule_index))
    pen.down()
