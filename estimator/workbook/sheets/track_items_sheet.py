"""The sheet of cost codes: estimate against actual, with live formulas over the ledger."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from estimator.tracking.budget import CONTINGENCY
from estimator.tracking.forecast import Rest
from estimator.tracking.job_track import Track
from estimator.tracking.status import WHEN_DRAWN, WITH_THE_WORK, CodeStatus
from estimator.tracking.unit_hours import HoursOfCode
from estimator.workbook.sheets.ledger_sheet import LedgerPlaced
from estimator.workbook.writing.book import Book, PageSetup
from estimator.workbook.writing.sheet_pen import Column, SheetPen

TITLE = "Items"
NOTE = (
    "Estimate against actual by cost code. Billed, accrued and paid add up the sheet Ledger; "
    "what follows from them is worked out here. Left is what the rest of the work is forecast to "
    "cost."
)
_MONEY, _INDEX = "money", "quantity 3"
COLUMNS = (
    Column("Code", 18), Column("Work", 34), Column("Baseline\n[$]", 13, True),
    Column("Changes\n[$]", 12, True), Column("Budget\n[$]", 13, True),
    Column("On order\n[$]", 12, True), Column("Billed\n[$]", 13, True),
    Column("Accrued\n[$]", 12, True), Column("Incurred\n[$]", 13, True),
    Column("Paid\n[$]", 13, True), Column("Open\n[$]", 13, True), Column("Unit", 8),
    Column("Budgeted", 11, True), Column("In place", 11, True), Column("Planned\n[$]", 13, True),
    Column("Earned\n[$]", 13, True), Column("Cost\nvariance [$]", 13, True),
    Column("Cost\nindex", 8, True), Column("Left\n[$]", 13, True),
    Column("Forecast\n[$]", 13, True), Column("Over budget\n[$]", 13, True),
    Column("Not in the forecast:\nnone has come yet", 22), Column("Hours\nlogged", 10, True),
    Column("Hours\nper unit", 10, True), Column("Estimated\nper unit", 10, True),
)  # fmt: skip
(
    BASELINE, CHANGES, BUDGET, ORDERED, BILLED, ACCRUED, INCURRED, PAID, OPEN, _UNIT, _BUDGETED,
    _IN_PLACE, PLANNED, EARNED, VARIANCE, _COST_INDEX, _LEFT, FORECAST, OVER, _LEFT_OUT,
    _HOURS, _EACH, _PLANNED_EACH,
) = range(3, 26)  # fmt: skip
_SUMMED = (
    BASELINE, CHANGES, BUDGET, ORDERED, BILLED, ACCRUED, INCURRED, PAID, OPEN, PLANNED, EARNED,
    VARIANCE, FORECAST, OVER,
)  # fmt: skip


def write_track_items(
    book: Book, track: Track, ledger: LedgerPlaced, hours: Iterable[HoursOfCode], page: PageSetup
) -> Mapping[int, str]:
    """Write the sheet and return where the totals of its columns of money stand."""
    of_code = {one.code: one for one in hours}
    pen = SheetPen(book, TITLE, COLUMNS)
    pen.top(TITLE, NOTE, names=2)
    codes = track.status.codes
    work = [one for one in codes if one.how_earned not in (WITH_THE_WORK, WHEN_DRAWN)]
    others = [one for one in codes if one not in work]
    first = pen.row
    for code in work:
        _write_hours(pen, of_code.get(code.code))
        _write_code(pen, track, code, ledger, 0)
    subtotal = pen.row
    _write_sums(pen, "Measured work", "band", track, work, [f"{{0}}{first}:{{0}}{pen.row - 1}"])
    first_other = pen.row
    for code in others:
        _write_code(pen, track, code, ledger, subtotal)
    parts = [f"{{0}}{subtotal}"]
    if others:
        parts.append(f"{{0}}{first_other}:{{0}}{pen.row - 1}")
    total = pen.row
    _write_sums(pen, "The whole job", "total", track, codes, parts)
    totals = {column: pen.from_elsewhere(column, total) for column in _SUMMED}
    pen.finish(page)
    pen.sheet.page_setup.fitToWidth = 2
    return totals


def code_figures(track: Track, code: CodeStatus) -> Mapping[int, int]:
    """Return the figures of a code by column [0.01 $]; the contingency has no variance."""
    spent, forecast = code.spent, track.forecast_cents(code)
    variance = 0 if code.code == CONTINGENCY else code.performance.cost_variance_cents
    return {
        BASELINE: code.baseline_cents, CHANGES: code.change_cents, BUDGET: code.budget_cents,
        ORDERED: code.committed_cents, BILLED: spent.billed_cents, ACCRUED: spent.accrued_cents,
        INCURRED: spent.incurred_cents, PAID: spent.paid_cents, OPEN: spent.open_cents,
        PLANNED: code.planned_cents, EARNED: code.earned_cents, VARIANCE: variance,
        FORECAST: forecast, OVER: forecast - code.budget_cents,
    }  # fmt: skip


def _write_code(
    pen: SheetPen, track: Track, code: CodeStatus, ledger: LedgerPlaced, subtotal: int
) -> None:
    figures = code_figures(track, code)
    pen.text(1, code.code, "strong")
    pen.text(2, code.name)
    for column in (BASELINE, CHANGES, ORDERED, PLANNED):
        pen.number(column, figures[column] / 100, f"plain {_MONEY}")
    pen.text(_UNIT, code.unit)
    pen.number(_BUDGETED, float(code.budget_quantity), "plain quantity 2")
    pen.number(_IN_PLACE, float(code.quantity), "plain quantity 2")
    rest = track.rests.get(code.code)
    pen.number(_LEFT, None if rest is None else rest.cents / 100, f"plain {_MONEY}")
    for column, formula in _formulas(pen, code, ledger, subtotal, rest).items():
        pen.formula(column, formula, figures[column] / 100, f"plain {_MONEY}")
    _write_index(pen, "plain", figures)
    pen.text(_LEFT_OUT, ", ".join(track.left_out_kinds(code)))
    pen.down()


def _write_hours(pen: SheetPen, hours: HoursOfCode | None) -> None:
    if hours is None:
        return
    pen.number(_HOURS, float(hours.hours), "plain quantity 2")
    if hours.per_unit is not None:
        formula = f'IF({pen.at(_IN_PLACE)}=0,"",{pen.at(_HOURS)}/{pen.at(_IN_PLACE)})'
        pen.formula(_EACH, formula, hours.per_unit, f"plain {_INDEX}")
    pen.number(_PLANNED_EACH, hours.planned_per_unit, f"plain {_INDEX}")


def _formulas(
    pen: SheetPen, code: CodeStatus, ledger: LedgerPlaced, subtotal: int, rest: Rest | None
) -> dict[int, str]:
    at = pen.at
    sums = {BILLED: ledger.billed, ACCRUED: ledger.accrued, PAID: ledger.paid}
    formulas = {
        column: f"ROUND(SUMIFS({cells},{ledger.codes},{at(1)}),2)" for column, cells in sums.items()
    }
    forecast = f"ROUND(MAX({at(BUDGET)},{at(INCURRED)}+{at(ORDERED)}),2)"
    if rest is not None:
        forecast = f"ROUND({at(INCURRED)}+{at(_LEFT)},2)"
    return formulas | {
        BUDGET: f"ROUND({at(BASELINE)}+{at(CHANGES)},2)",
        INCURRED: f"ROUND({at(BILLED)}+{at(ACCRUED)},2)",
        OPEN: f"ROUND({at(INCURRED)}-{at(PAID)},2)",
        EARNED: _earned(pen, code, subtotal),
        VARIANCE: "0" if code.code == CONTINGENCY else f"ROUND({at(EARNED)}-{at(INCURRED)},2)",
        FORECAST: forecast,
        OVER: f"ROUND({at(FORECAST)}-{at(BUDGET)},2)",
    }


def _earned(pen: SheetPen, code: CodeStatus, subtotal: int) -> str:
    at = pen.at
    if code.how_earned == WHEN_DRAWN:
        return "0"
    if code.how_earned == WITH_THE_WORK:
        whole, earned = at(BUDGET, subtotal), at(EARNED, subtotal)
        return f"IF({whole}=0,0,ROUND({at(BUDGET)}*{earned}/{whole},2))"
    share = f"MIN({at(_IN_PLACE)}/{at(_BUDGETED)},1)"
    return f"IF({at(_BUDGETED)}=0,0,ROUND({at(BUDGET)}*{share},2))"


def _write_index(pen: SheetPen, manner: str, figures: Mapping[int, int]) -> None:
    earned, incurred = figures[EARNED], figures[INCURRED]
    formula = f'IF({pen.at(INCURRED)}=0,"",{pen.at(EARNED)}/{pen.at(INCURRED)})'
    if incurred:
        pen.formula(_COST_INDEX, formula, earned / incurred, f"{manner} {_INDEX}")
    else:
        pen.number(_COST_INDEX, None, f"{manner} {_INDEX}")


def _write_sums(
    pen: SheetPen, title: str, manner: str, track: Track, codes: Sequence[CodeStatus],
    parts: Sequence[str],
) -> None:  # fmt: skip
    """Write the sums of the columns of money over parts, in which {0} stands for the column."""
    figures = [code_figures(track, one) for one in codes]
    sums = {column: sum(one[column] for one in figures) for column in _SUMMED}
    pen.over(1, 2, title, manner)
    pen.fill(manner)
    for column in _SUMMED:
        cells = ",".join(part.format(pen.letters[column - 1]) for part in parts)
        pen.formula(column, f"ROUND(SUM({cells}),2)", sums[column] / 100, f"{manner} {_MONEY}")
    _write_index(pen, manner, sums)
    pen.down()
