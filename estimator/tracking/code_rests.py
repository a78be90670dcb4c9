"""What each cost code still needs, and what it comes to at the end."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from decimal import Decimal
from types import MappingProxyType

from estimator.tracking.budget import Budget
from estimator.tracking.forecast import Observed, Rest, what_is_left
from estimator.tracking.progress import InPlace
from estimator.tracking.spent import Place
from estimator.tracking.status import NOT_MEASURED, CodeStatus, JobStatus


def rests_of(
    status: JobStatus,
    budget: Budget,
    before: Mapping[str, InPlace],
    used: Mapping[Place, int],
    left: Mapping[Place, int],
    unused: Mapping[Place, int],
) -> Mapping[str, Rest]:
    """Return what each code still needs; what has no quantity to go by is left out.

    Parameters
    ----------
    status : JobStatus
        Where the job stands.
    budget : mapping of str to BudgetCode
        As changed by that day.
    before : mapping of str to InPlace
        What was in place before the window of the forecast.
    used, left, unused : mapping of (code, kind) to int
        [0.01 $] What recurs and is used, within the window; what is left of orders; what is bought
        and not used yet.
    """
    rests = {}
    by_code, ordered, there = map(_by_code, (used, left, unused))
    for code in status.codes:
        if not code.phase or not code.expected or code.how_earned == NOT_MEASURED:
            continue
        already = before[code.code].quantity if code.code in before else Decimal(0)
        observed = Observed(code.quantity - already, by_code[code.code])
        of_budget = budget[code.code].cents_by_kind if code.code in budget else {}
        budgeted = Observed(code.budget_quantity or code.expected, of_budget)
        in_place = code.quantity
        if not code.spent.incurred_cents:  # no bill has come: all of it costs what the budget says
            in_place, observed = Decimal(0), Observed(Decimal(0), {})
        rests[code.code] = what_is_left(
            code.expected, in_place, observed, budgeted, ordered[code.code], there[code.code]
        )
    return MappingProxyType(rests)


def _by_code(cents: Mapping[Place, int]) -> dict[str, dict[str, int]]:
    """Return sums by kind of each code, where they come to anything."""
    by_code: dict[str, dict[str, int]] = defaultdict(dict)
    for (code, kind), own in cents.items():
        if own:
            by_code[code][kind] = own
    return by_code


def forecast_of(code: CodeStatus, rests: Mapping[str, Rest]) -> int:
    """Return what a code comes to: incurred and what is left [0.01 $].

    A code without a quantity to go by, or not measured yet, comes to its budget, or to what was
    incurred and what is ordered if that is more.
    """
    incurred = code.spent.incurred_cents
    if code.code in rests:
        return incurred + rests[code.code].cents
    return max(code.budget_cents, incurred + code.committed_cents)
