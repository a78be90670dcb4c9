"""Earned value: what the work in place is worth in the budget, beside its plan and its cost."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from fractions import Fraction

from estimator.errors import AmountFaulty, fault
from estimator.money import exact_decimal, rounded, whole_half_up

_INDEX_DECIMALS = 3


@dataclass(frozen=True)
class Index:
    """A ratio of two sums of money, kept exact; undefined where it would divide by nothing.

    Parameters
    ----------
    above, below : int
        [0.01 $]

    Examples
    --------
    >>> str(Index(20_000_000, 29_000_000)), str(Index(5, 0))
    ('0.690', 'undefined')
    """

    above: int
    below: int

    @property
    def is_defined(self) -> bool:
        """Whether there is something to divide by."""
        return self.below != 0

    @property
    def ratio(self) -> Fraction:
        """The exact ratio.

        Raises
        ------
        AmountFaulty
            If it is undefined.
        """
        if not self.is_defined:
            raise fault(AmountFaulty, "an index over nothing is undefined", "look at is_defined")
        return Fraction(self.above, self.below)

    def __str__(self) -> str:
        if not self.is_defined:
            return "undefined"
        ratio = self.ratio
        return str(rounded(Decimal(ratio.numerator) / ratio.denominator, _INDEX_DECIMALS))


@dataclass(frozen=True)
class Performance:
    """Where a code, a phase or the job stands on a day.

    Parameters
    ----------
    budget_cents, planned_cents, earned_cents, incurred_cents : int
        [0.01 $] Budget at completion; planned value, earned value and actual cost to the day.

    Notes
    -----
    Variances are earned minus the other: negative is over cost, or behind the plan.

    References
    ----------
    U.S. Department of Defense, "Earned Value Management Gold Card" (formulas).

    Examples
    --------
    >>> case = Performance(50_000_000, 25_000_000, 20_000_000, 29_000_000)
    >>> case.cost_variance_cents, case.schedule_variance_cents
    (-9000000, -5000000)
    >>> str(case.cost_index), str(case.schedule_index), str(case.to_complete_index)
    ('0.690', '0.800', '1.429')
    """

    budget_cents: int
    planned_cents: int
    earned_cents: int
    incurred_cents: int

    def __add__(self, other: Performance) -> Performance:
        """Return both together."""
        return Performance(
            self.budget_cents + other.budget_cents,
            self.planned_cents + other.planned_cents,
            self.earned_cents + other.earned_cents,
            self.incurred_cents + other.incurred_cents,
        )

    @property
    def cost_variance_cents(self) -> int:
        """Earned value less actual cost [0.01 $]."""
        return self.earned_cents - self.incurred_cents

    @property
    def schedule_variance_cents(self) -> int:
        """Earned value less planned value [0.01 $]."""
        return self.earned_cents - self.planned_cents

    @property
    def cost_index(self) -> Index:
        """Cost performance index: earned value over actual cost."""
        return Index(self.earned_cents, self.incurred_cents)

    @property
    def schedule_index(self) -> Index:
        """Schedule performance index: earned value over planned value."""
        return Index(self.earned_cents, self.planned_cents)

    @property
    def to_complete_index(self) -> Index:
        """Earned value still to come, over the money that the budget has left for it."""
        return Index(self.budget_cents - self.earned_cents, self.budget_cents - self.incurred_cents)


def earned_cents(budget_cents: int, budget_quantity: Decimal | int, in_place: Decimal | int) -> int:
    """Return the earned value: budgeted unit price x quantity in place, at most the budget.

    Parameters
    ----------
    budget_cents : int
        [0.01 $] Budget of the code, not negative.
    budget_quantity : Decimal or int
        [unit] Of the budget, above zero; 100 where progress is a percent.
    in_place : Decimal or int
        [unit] To date, not negative.

    Returns
    -------
    int
        [0.01 $] Rounded half-up.

    Raises
    ------
    AmountFaulty
        If the budget has no quantity, or a number is negative.

    Examples
    --------
    A wall of 240 sf has a budget of $4,800, and 90 sf stand:

    >>> earned_cents(480_000, 240, 90), earned_cents(480_000, 240, 300)
    (180000, 480000)
    """
    whole = Fraction(exact_decimal(budget_quantity))
    done = Fraction(exact_decimal(in_place))
    if whole <= 0 or done < 0 or budget_cents < 0:
        what = "earned value needs a budget and a quantity in place that are not negative"
        raise fault(AmountFaulty, what, "and a budgeted quantity above zero")
    return whole_half_up(budget_cents * min(done / whole, Fraction(1)))


def planned_cents(budget_cents: int, start: date, finish: date, as_of: date) -> int:
    """Return the planned value on a day: the budget in a straight line from start to finish.

    Parameters
    ----------
    budget_cents : int
        [0.01 $]
    start, finish : date
        First and last day of the work; each calendar day has the same share.
    as_of : date
        Its whole day counts.

    Returns
    -------
    int
        [0.01 $] Nothing before the start, the budget from the finish on; rounded half-up.

    Raises
    ------
    AmountFaulty
        If the work ends before it starts.

    Examples
    --------
    >>> planned_cents(100_000, date(2026, 5, 4), date(2026, 5, 13), date(2026, 5, 6))
    30000
    """
    days = (finish - start).days + 1
    if days < 1:
        raise fault(AmountFaulty, f"the work ends on {finish}, before it starts on {start}")
    passed = min(max((as_of - start).days + 1, 0), days)
    return whole_half_up(Fraction(budget_cents * passed, days))
