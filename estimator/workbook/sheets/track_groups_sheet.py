"""The sheet of phases and kinds: budget, ordered, spent and earned, group by group."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from estimator.tracking.earned_value import Performance
from estimator.tracking.job_track import Track
from estimator.tracking.kind_status import KindStatus
from estimator.tracking.spent import Spent
from estimator.tracking.status import Total
from estimator.workbook.sheets.ledger_sheet import LedgerPlaced
from estimator.workbook.writing.book import Book, PageSetup
from estimator.workbook.writing.sheet_pen import Column, SheetPen

TITLE = "Phases and kinds"
NOTE = (
    "The whole job by phase, then by kind of cost. For a kind, billed, accrued and paid add up "
    "the sheet Ledger. What a code earned is split over its kinds by their budgets, because no "
    "kind is measured by itself. Earned value and variances leave the contingency out."
)
COLUMNS = (
    Column("Phase\nor kind", 14), Column("Work", 34), Column("Baseline\n[$]", 13, True),
    Column("Changes\n[$]", 12, True), Column("Budget\n[$]", 13, True),
    Column("On order\n[$]", 12, True), Column("Billed\n[$]", 13, True),
    Column("Accrued\n[$]", 12, True), Column("Paid\n[$]", 13, True),
    Column("Incurred\n[$]", 13, True), Column("Open\n[$]", 13, True),
    Column("Planned\n[$]", 13, True), Column("Earned\n[$]", 13, True),
    Column("Cost\nvariance [$]", 13, True), Column("Schedule\nvariance [$]", 13, True),
    Column("Cost perform-\nance index", 13), Column("Schedule perform-\nance index", 16),
)  # fmt: skip
_FIRST, _BUDGET, _BILLED, _ACCRUED, _PAID, _INCURRED, _OPEN, _PLANNED = 3, 5, 7, 8, 9, 10, 11, 12


def write_groups(book: Book, track: Track, ledger: LedgerPlaced, page: PageSetup) -> None:
    """Write the sheet."""
    pen = SheetPen(book, TITLE, COLUMNS)
    pen.top(TITLE, NOTE, names=2)
    for phase in track.status.by_phase():
        _write_phase(pen, phase)
        _write_earned(pen, phase.performance)
    performances = track.status.performance_by_kind()
    for kind, own in track.status.by_kind().items():
        _write_kind(pen, kind, own, ledger)
        _write_earned(pen, performances[kind])
    pen.finish(page)


def _write_phase(pen: SheetPen, phase: Total) -> None:
    pen.text(1, phase.code, "strong")
    pen.text(2, phase.name or ("" if phase.code else "Markups"))
    _write_budget(pen, phase.baseline_cents, phase.budget_cents, phase.committed_cents)
    _write_spent(pen, phase.spent, pen.number)


def _write_kind(pen: SheetPen, kind: str, own: KindStatus, ledger: LedgerPlaced) -> None:
    sums: Mapping[int, str] = {
        _BILLED: ledger.billed, _ACCRUED: ledger.accrued, _PAID: ledger.paid,
    }  # fmt: skip

    def put(column: int, value: float, style: str) -> None:
        formula = f"ROUND(SUMIFS({sums[column]},{ledger.kinds},{pen.at(1)}),2)"
        pen.formula(column, formula, value, style)

    pen.text(1, kind, "strong")
    _write_budget(pen, own.baseline_cents, own.budget_cents, own.committed_cents)
    _write_spent(pen, own.spent, put)


def _write_budget(pen: SheetPen, baseline: int, budget: int, committed: int) -> None:
    for column, cents in enumerate((baseline, budget - baseline), start=_FIRST):
        pen.number(column, cents / 100, "plain money")
    formula = f"ROUND({pen.at(_FIRST)}+{pen.at(_FIRST + 1)},2)"
    pen.formula(_BUDGET, formula, budget / 100, "plain money")
    pen.number(_BUDGET + 1, committed / 100, "plain money")


def _write_spent(pen: SheetPen, spent: Spent, put: Callable[[int, float, str], None]) -> None:
    put(_BILLED, spent.billed_cents / 100, "plain money")
    put(_ACCRUED, spent.accrued_cents / 100, "plain money")
    put(_PAID, spent.paid_cents / 100, "plain money")
    incurred = f"ROUND({pen.at(_BILLED)}+{pen.at(_ACCRUED)},2)"
    pen.formula(_INCURRED, incurred, spent.incurred_cents / 100, "plain money")
    still_open = f"ROUND({pen.at(_INCURRED)}-{pen.at(_PAID)},2)"
    pen.formula(_OPEN, still_open, spent.open_cents / 100, "plain money")


def _write_earned(pen: SheetPen, performance: Performance) -> None:
    """Write what was planned and earned, variances and indexes, and go to the next line."""
    cents = (
        performance.planned_cents, performance.earned_cents,
        performance.cost_variance_cents, performance.schedule_variance_cents,
    )  # fmt: skip
    for column, own in enumerate(cents, start=_PLANNED):
        pen.number(column, own / 100, "plain money")
    for column, index in enumerate(
        (performance.cost_index, performance.schedule_index), start=_PLANNED + len(cents)
    ):
        pen.text(column, str(index))
    pen.down()
