"""Where the job stands on a day: budget, spent, in place and earned, by code, phase and in all."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from fractions import Fraction
from functools import cached_property, reduce
from itertools import groupby
from operator import add
from types import MappingProxyType
from typing import TypeVar

from estimator.money import whole_half_up
from estimator.tracking.budget import CONTINGENCY, Budget, BudgetCode, code_without_budget
from estimator.tracking.earned_value import Performance, earned_cents, planned_cents
from estimator.tracking.kind_status import (
    KindStatus,
    kinds_of,
    kinds_together,
    performance_by_kind,
)
from estimator.tracking.progress import InPlace
from estimator.tracking.spent import Place, Spent

MEASURED = "measured"
PERCENT = "percent"
NOT_MEASURED = "not measured yet"
WITH_THE_WORK = "with the work"
WHEN_DRAWN = "when drawn"

Amount = TypeVar("Amount")

_NOTHING, _NOTHING_DONE = Spent(), Performance(0, 0, 0, 0)


@dataclass(frozen=True)
class CodeStatus:
    """Where a cost code stands.

    Parameters
    ----------
    code, name, phase, unit : str
        As in the budget.
    baseline_cents, budget_cents : int
        [0.01 $] As accepted; with approved changes.
    committed_cents : int
        [0.01 $] Ordered or subcontracted and still to come, with tax: see `still_to_come`.
    spent : Spent
        In all.
    kinds : mapping of str to KindStatus
        The same by kind.
    budget_quantity, quantity, expected : Decimal
        [unit] Budgeted; in place; final quantity as measured last, else the budgeted one.
    planned_cents, earned_cents : int
        [0.01 $]
    how_earned : str
        `measured`, `percent`, `with the work` (a markup), `not measured yet`, or `when drawn`
        (the contingency).
    phase_name : str
        As in the budget.
    unused_cents : int
        [0.01 $] Of what was incurred: material that is bought and not used yet.
    start, finish : date or None
        First and last day as planned, with the days of approved changes.
    kinds_without_cost : tuple of str
        Kinds of its budget that have cost nothing yet: what is left takes none of them into account
        once another kind has come.
    """

    code: str
    name: str
    phase: str
    unit: str
    baseline_cents: int
    budget_cents: int
    committed_cents: int
    spent: Spent
    kinds: Mapping[str, KindStatus]
    budget_quantity: Decimal
    quantity: Decimal
    expected: Decimal
    planned_cents: int
    earned_cents: int
    how_earned: str
    phase_name: str = ""
    kinds_without_cost: tuple[str, ...] = ()
    unused_cents: int = 0
    start: date | None = None
    finish: date | None = None

    @property
    def in_place_cents(self) -> int:
        """What was incurred, without material that is not used yet [0.01 $]."""
        return self.spent.incurred_cents - self.unused_cents

    @property
    def cost_per_unit_cents(self) -> int | None:
        """What a unit in place has cost [0.01 $]; None where nothing is measured by quantity."""
        return self._each(self.in_place_cents, self.quantity)

    @property
    def budget_per_unit_cents(self) -> int | None:
        """What a unit may cost by the budget [0.01 $]; None without a budgeted quantity."""
        return self._each(self.budget_cents, self.budget_quantity)

    def _each(self, cents: int, quantity: Decimal) -> int | None:
        if not quantity or self.how_earned == PERCENT:
            return None
        return whole_half_up(Fraction(cents) / Fraction(quantity))

    @property
    def change_cents(self) -> int:
        """What approved changes added; negative where they took off [0.01 $]."""
        return self.budget_cents - self.baseline_cents

    @property
    def performance(self) -> Performance:
        """Its earned value beside plan and cost."""
        return Performance(
            self.budget_cents, self.planned_cents, self.earned_cents, self.spent.incurred_cents
        )

    @cached_property
    def performance_by_kind(self) -> Mapping[str, Performance]:
        """The same of each kind, split by the budgets of the kinds."""
        return performance_by_kind(self.kinds, self.planned_cents, self.earned_cents)

    @property
    def percent(self) -> Decimal:
        """[%] In place of what is expected, at most 100; of a percent, itself."""
        if not self.expected:
            return Decimal(0)
        return min(self.quantity / self.expected * 100, Decimal(100))


@dataclass(frozen=True)
class Total:
    """Codes together: a phase, or the whole job.

    Parameters
    ----------
    code, name : str
        Of the phase; both empty for the job and for its markups.
    baseline_cents, budget_cents, committed_cents : int
        [0.01 $]
    spent : Spent
        Billed, accrued and paid, in all.
    performance : Performance
        Without the contingency, which is no work until it is drawn.
    """

    code: str
    name: str
    baseline_cents: int
    budget_cents: int
    committed_cents: int
    spent: Spent
    performance: Performance


@dataclass(frozen=True)
class JobStatus:
    """Where the job stands on a day.

    Parameters
    ----------
    as_of : date
        The last day that counts.
    codes : tuple of CodeStatus
        In the order of the budget; codes that have costs and no budget come last.
    """

    as_of: date
    codes: tuple[CodeStatus, ...]

    def by_phase(self) -> tuple[Total, ...]:
        """Return the totals of the phases, in order; markups come last under an empty code."""
        ordered = sorted(self.codes, key=lambda one: (not one.phase, one.phase))
        groups = groupby(ordered, key=lambda one: one.phase)
        return tuple(_phase_total(phase, list(own)) for phase, own in groups)

    def by_kind(self) -> Mapping[str, KindStatus]:
        """Return where each kind stands: its budget, what is ordered and what was spent."""
        return kinds_together(one.kinds for one in self.codes)

    def performance_by_kind(self) -> Mapping[str, Performance]:
        """Return the earned value of each kind, without the contingency: see `Total`."""
        nothing = dict.fromkeys(self.by_kind(), _NOTHING_DONE)
        working = (one for one in self.codes if one.code != CONTINGENCY)
        return kinds_together([nothing, *(one.performance_by_kind for one in working)])

    def whole(self) -> Total:
        """Return the total of the job."""
        return total(self.codes)


def total(codes: Iterable[CodeStatus], code: str = "", name: str = "") -> Total:
    """Return codes together; every figure is the exact sum of theirs."""
    listed = list(codes)
    working = (one.performance for one in listed if one.code != CONTINGENCY)
    return Total(
        code,
        name,
        sum(one.baseline_cents for one in listed),
        sum(one.budget_cents for one in listed),
        sum(one.committed_cents for one in listed),
        reduce(add, (one.spent for one in listed), _NOTHING),
        reduce(add, working, _NOTHING_DONE),
    )


def _phase_total(phase: str, codes: Sequence[CodeStatus]) -> Total:
    """Return a phase; a code that the estimate lacks does not know what it is called."""
    name = next((one.phase_name for one in codes if one.phase_name), "")
    return total(codes, phase, name)


def job_status(
    baseline: Budget,
    budget: Budget,
    spent: Mapping[Place, Spent],
    committed_cents: Mapping[Place, int],
    progress: Mapping[str, InPlace],
    as_of: date,
    unused_cents: Mapping[Place, int] = MappingProxyType({}),
) -> JobStatus:
    """Return where the job stands, from what was known on a day.

    Parameters
    ----------
    baseline, budget : mapping of str to BudgetCode
        As accepted, and as changed by that day: see `current_budget`.
    spent : mapping of (code, kind) to Spent
        See `KnownBooks.spent`.
    committed_cents : mapping of (code, kind) to int
        [0.01 $] See `still_to_come`.
    progress : mapping of str to InPlace
        See `in_place`; our own figures, never the inspector's.
    as_of : date
        The last day that counts.
    unused_cents : mapping of (code, kind) to int
        [0.01 $] Of what was spent: material that is not used yet. See `KnownBooks.unused_cents`.

    Notes
    -----
    A markup (site overhead, insurance) has no quantity: it is planned and earned in the same
    proportion as the measured work. The contingency is neither, until a change draws on it.
    """
    of_code = _by_code(spent)
    ordered_by_code, unused_by_code = _by_code(committed_cents), _by_code(unused_cents)
    first = [
        _code_status(
            one,
            baseline[one.code].cents_by_kind if one.code in baseline else {},
            of_code.get(one.code, {}),
            ordered_by_code.get(one.code, {}),
            sum(unused_by_code.get(one.code, {}).values()),
            progress.get(one.code),
            as_of,
        )
        for one in _codes(budget, of_code)
    ]
    job = total(one for one in first if one.how_earned not in (WITH_THE_WORK, WHEN_DRAWN))
    return JobStatus(as_of, tuple(_with_the_work(one, job.performance) for one in first))


def _by_code(amounts: Mapping[Place, Amount]) -> dict[str, dict[str, Amount]]:
    by_code: dict[str, dict[str, Amount]] = {}
    for (code, kind), own in amounts.items():
        by_code.setdefault(code, {})[kind] = own
    return by_code


def _codes(budget: Budget, spent: Mapping[str, object]) -> list[BudgetCode]:
    """Return the codes of the budget, then those that have costs and no budget."""
    without = [code for code in spent if code not in budget]
    return [*budget.values(), *(code_without_budget(one) for one in without)]


def _code_status(
    code: BudgetCode,
    baseline_cents: Mapping[str, int],
    spent: Mapping[str, Spent],
    committed_cents: Mapping[str, int],
    unused_cents: int,
    stands: InPlace | None,
    as_of: date,
) -> CodeStatus:
    how = _how_earned(code, stands)
    is_percent = how == PERCENT
    quantity = stands.quantity if stands else Decimal(0)
    budgeted = Decimal(100) if is_percent else code.quantity
    expected = stands.expected if stands and stands.expected is not None else budgeted
    is_work = how in (MEASURED, PERCENT, NOT_MEASURED)
    return CodeStatus(
        code=code.code,
        name=code.name,
        phase=code.phase,
        unit="%" if is_percent else code.unit,
        baseline_cents=sum(baseline_cents.values()),
        budget_cents=code.cents,
        committed_cents=sum(committed_cents.values()),
        spent=reduce(add, spent.values(), _NOTHING),
        kinds=kinds_of(baseline_cents, code.cents_by_kind, committed_cents, spent),
        budget_quantity=budgeted,
        quantity=quantity,
        expected=expected,
        planned_cents=_planned(code, as_of) if is_work else 0,
        earned_cents=earned_cents(code.cents, budgeted, quantity) if quantity and is_work else 0,
        how_earned=how,
        phase_name=code.phase_name,
        kinds_without_cost=tuple(
            kind for kind in code.cents_by_kind if not spent.get(kind, _NOTHING).incurred_cents
        ),
        unused_cents=unused_cents,
        start=code.start,
        finish=code.finish,
    )


def _how_earned(code: BudgetCode, stands: InPlace | None) -> str:
    if code.code == CONTINGENCY:
        return WHEN_DRAWN
    if stands is not None and (stands.is_percent or not code.quantity):
        return PERCENT
    if not code.phase:
        return WITH_THE_WORK
    return MEASURED if stands is not None else NOT_MEASURED


def _planned(code: BudgetCode, as_of: date) -> int:
    if code.start is None or code.finish is None:
        return 0
    return planned_cents(code.cents, code.start, code.finish, as_of)


def _with_the_work(code: CodeStatus, job: Performance) -> CodeStatus:
    """Return a markup planned and earned in the proportion of the measured work."""
    if code.how_earned != WITH_THE_WORK or not job.budget_cents:
        return code

    def own(cents: int) -> int:
        return whole_half_up(Fraction(code.budget_cents * cents, job.budget_cents))

    return replace(code, planned_cents=own(job.planned_cents), earned_cents=own(job.earned_cents))
