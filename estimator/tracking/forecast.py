"""Forecasts of the cost at completion: by the published methods, and by what is left to do."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from types import MappingProxyType

from estimator.errors import AmountFaulty, fault
from estimator.money import exact_decimal, whole_half_up
from estimator.tracking.earned_value import Performance


def at_budgeted_cost(performance: Performance) -> int:
    """Return actual cost plus the budget of what is not yet earned [0.01 $].

    It supposes that the rest costs what the budget says.

    Examples
    --------
    >>> at_budgeted_cost(Performance(50_000_000, 25_000_000, 20_000_000, 29_000_000))
    59000000
    """
    return performance.incurred_cents + performance.budget_cents - performance.earned_cents


def at_cost_index(performance: Performance) -> int:
    """Return the budget over the cost index [0.01 $]: the rest costs as much over as so far.

    Raises
    ------
    AmountFaulty
        If nothing is earned yet: there is no index to go by.

    Examples
    --------
    >>> at_cost_index(Performance(50_000_000, 25_000_000, 20_000_000, 29_000_000))
    72500000
    """
    return _over(performance, Fraction(1))


def at_cost_and_schedule_index(performance: Performance) -> int:
    """Return actual cost plus the rest over both indexes [0.01 $]: delay costs money too.

    Raises
    ------
    AmountFaulty
        If nothing is earned or planned yet.

    References
    ----------
    U.S. Department of Defense, "Earned Value Management Gold Card": EAC = AC + (BAC - EV) / factor.

    Examples
    --------
    >>> at_cost_and_schedule_index(Performance(50_000_000, 25_000_000, 20_000_000, 29_000_000))
    83375000
    """
    if not performance.planned_cents:
        raise fault(AmountFaulty, "nothing is planned by this day", "there is no schedule index")
    return _over(performance, performance.schedule_index.ratio)


def by_cost_index(performance: Performance) -> int | None:
    """Return `at_cost_index`, or None while there is no index to go by."""
    return at_cost_index(performance) if performance.earned_cents else None


def by_both_indexes(performance: Performance) -> int | None:
    """Return `at_cost_and_schedule_index`, or None while there is no index to go by."""
    is_known = performance.earned_cents and performance.planned_cents
    return at_cost_and_schedule_index(performance) if is_known else None


def _over(performance: Performance, schedule_index: Fraction) -> int:
    if not performance.earned_cents:
        what = "nothing is earned yet, so there is no index to forecast by"
        raise fault(AmountFaulty, what, "log progress, or forecast by what is left")
    rest = performance.budget_cents - performance.earned_cents
    spent_per_earned = Fraction(performance.incurred_cents, performance.earned_cents)
    return performance.incurred_cents + whole_half_up(rest * spent_per_earned / schedule_index)


OBSERVED = "observed"


@dataclass(frozen=True)
class Observed:
    """What was placed and what it cost over a window of time, of one code.

    Parameters
    ----------
    quantity : Decimal
        [unit] Placed within the window.
    cents_by_kind : mapping of str to int
        [0.01 $] Incurred within the window, without costs that do not recur and without stock that
        is not yet used.
    """

    quantity: Decimal
    cents_by_kind: Mapping[str, int]


@dataclass(frozen=True)
class Rest:
    """What a code still needs, by kind.

    Parameters
    ----------
    quantity : Decimal
        [unit] Expected at the end less what is in place; never below zero.
    cents_by_kind : mapping of str to int
        [0.01 $]
    basis_by_kind : mapping of str to str
        What each sum rests on: `observed`, `committed` or `budgeted`.
    """

    quantity: Decimal
    cents_by_kind: Mapping[str, int]
    basis_by_kind: Mapping[str, str]

    @property
    def cents(self) -> int:
        """The sum of all kinds [0.01 $]."""
        return sum(self.cents_by_kind.values())


def what_is_left(
    expected: Decimal | int,
    in_place: Decimal | int,
    observed: Observed,
    budgeted: Observed,
    committed_cents: Mapping[str, int] = MappingProxyType({}),
    unused_cents: Mapping[str, int] = MappingProxyType({}),
) -> Rest:
    """Return what the rest of a code costs at the pace and prices of a window.

    Parameters
    ----------
    expected, in_place : Decimal or int
        [unit] Final quantity as measured last, and what is in place to date.
    observed : Observed
        Of the window; where nothing was placed in it, the budget's unit costs hold.
    budgeted : Observed
        Quantity and cost of the budget.
    committed_cents : mapping of str to int
        [0.01 $] Of each kind that is ordered or subcontracted: what is left of the commitment, at
        its price, in place of a unit cost.
    unused_cents : mapping of str to int
        [0.01 $] Of each kind: what was bought and is not used yet. The rest uses it up first, so it
        costs so much less, and never less than nothing.

    Raises
    ------
    AmountFaulty
        If the quantities of window and budget are both zero while work is left.

    Notes
    -----
    Over a window that holds all costs, with the planned quantity as the final one, incurred cost
    plus this is the budget over the cost index, to the cent a kind.

    Examples
    --------
    112 of 400 tons are in place at $41.80; the rest at that price:

    >>> four_weeks = Observed(Decimal(112), {"material": 336_000, "labor": 132_160})
    >>> planned = Observed(Decimal(400), {"material": 1_100_000, "labor": 360_000})
    >>> dict(what_is_left(400, 112, four_weeks, planned).cents_by_kind)
    {'material': 864000, 'labor': 339840}

    With a pile of $300.00 beside it, which is in no unit cost, the rest takes that first:

    >>> rest = what_is_left(400, 112, four_weeks, planned, unused_cents={"material": 30_000})
    >>> rest.cents_by_kind["material"]
    834000
    """
    left = max(exact_decimal(expected) - exact_decimal(in_place), Decimal(0))
    source, basis = (observed, OBSERVED) if observed.quantity else (budgeted, "budgeted")
    if left and not source.quantity:
        what = "work is left, and neither the window nor the budget has a quantity"
        raise fault(AmountFaulty, what, "give the budgeted quantity")
    share = Fraction(left) / Fraction(source.quantity) if left else Fraction(0)
    cents = {kind: whole_half_up(share * own) for kind, own in source.cents_by_kind.items()}
    for kind, unused in unused_cents.items():
        cents[kind] = max(cents.get(kind, 0) - unused, 0)
    bases = dict.fromkeys(cents, basis) | dict.fromkeys(committed_cents, "committed")
    return Rest(left, MappingProxyType(cents | dict(committed_cents)), MappingProxyType(bases))
