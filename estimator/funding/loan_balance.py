"""Is the loan in balance: what there is to pay with, against what is still to be paid."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from fractions import Fraction

from estimator.funding.cash_course import CashCourse, cash_course
from estimator.funding.cash_plan import CashPlan
from estimator.funding.loan_terms import WITHHELD
from estimator.money import cents_money, whole_half_up
from estimator.tracking.books import Books
from estimator.tracking.spent import paid_by_split

SOURCE, USE = "source", "use"


@dataclass(frozen=True)
class BalanceLine:
    """A line of the balance.

    Parameters
    ----------
    side, name : str
        `source` or `use`; what it is.
    p50_cents, p80_cents : int
        [0.01 $] With the cost at completion at its P50 and its P80; a deduction is negative.
    """

    side: str
    name: str
    p50_cents: int
    p80_cents: int


@dataclass(frozen=True)
class LoanBalance:
    """The balance of a loan on a day.

    Parameters
    ----------
    as_of : date
        The day.
    lines : tuple of BalanceLine
        Sources, then uses.
    """

    as_of: date
    lines: tuple[BalanceLine, ...]

    def sums(self, side: str) -> tuple[int, int]:
        """Return a side at P50 and at P80 [0.01 $]."""
        own = [one for one in self.lines if one.side == side]
        return sum(one.p50_cents for one in own), sum(one.p80_cents for one in own)

    @property
    def surplus_cents(self) -> tuple[int, int]:
        """Sources less uses at P50 and at P80; negative where money is missing [0.01 $]."""
        (have50, have80), (need50, need80) = self.sums(SOURCE), self.sums(USE)
        return have50 - need50, have80 - need80

    @property
    def sentence(self) -> str:
        """Whether the loan is in balance, in words."""
        amounts = [
            f"{cents_money(cents)} over" if cents >= 0 else f"{cents_money(-cents)} short"
            for cents in self.surplus_cents
        ]
        at50, at80 = (cents >= 0 for cents in self.surplus_cents)
        verdict = "in balance" if at50 and at80 else "out of balance at P80"
        verdict = verdict if at50 else "out of balance"
        return f"The loan is {verdict}: {amounts[0]} at P50, {amounts[1]} at P80."


@dataclass(frozen=True)
class OpenCosts:
    """What came about and is not paid, by what it is.

    Parameters
    ----------
    accrued_cents, unpaid_cents, part_paid_cents : int
        [0.01 $] Known before its bill; of bills on which nothing is paid; of bills that are paid in
        part: what is held back from vendors is in this.
    """

    accrued_cents: int
    unpaid_cents: int
    part_paid_cents: int


def open_costs(known: Books, open_cents: int) -> OpenCosts:
    """Return what is open by what it is.

    Parameters
    ----------
    known : Books
        As known on the day.
    open_cents : int
        [0.01 $] All of it: incurred less paid.
    """
    unpaid = part_paid = 0
    for bill, parts in paid_by_split(known.costs, known.payments):
        paid = sum(parts)
        if not paid:
            unpaid += bill.cents
        else:
            part_paid += bill.cents - paid
    return OpenCosts(open_cents - unpaid - part_paid, unpaid, part_paid)


def loan_balance(
    plans: tuple[CashPlan, CashPlan],
    still_open: OpenCosts,
    contingency_fraction: Decimal | None = None,
) -> LoanBalance:
    """Return the balance of a loan at P50 and P80 of the cost at completion.

    Parameters
    ----------
    plans : tuple of 2 CashPlan
        At P50 and at P80: see `cash_plans`.
    still_open : OpenCosts
        See `open_costs`.
    contingency_fraction : Decimal or None
        Of the cost to complete, what the lender wants left for contingency: 0.05 for 5 %; None for
        what the terms require.

    Notes
    -----
    Interest and fees to come are those of the course of the cash. Sources less uses is all money
    that the job gets, less its cost at completion, all interest and fees, and that contingency:
    who paid what so far moves lines, never the sum.
    """
    left = contingency_fraction
    left = plans[0].terms.contingency_fraction if left is None else left
    rows = [list(_rows(plan, cash_course(plan), still_open, left)) for plan in plans]
    lines = [
        BalanceLine(side, name, p50, p80)
        for (side, name, p50), (_, _, p80) in zip(*rows, strict=True)
    ]
    return LoanBalance(plans[0].as_of, tuple(lines))


_Row = tuple[str, str, int]


def _rows(
    plan: CashPlan, course: CashCourse, still_open: OpenCosts, contingency_fraction: Decimal
) -> Iterator[_Row]:
    fees, interest = course.fees_to_come_cents, course.interest_to_come_cents
    added = course.days[-1].added_cents - course.days[0].added_cents
    withheld = fees if plan.terms.fees == WITHHELD else 0
    owner, equity = plan.owner_cents, plan.equity.required_cents
    yield SOURCE, "Loan not drawn yet", plan.equity.commitment_cents - plan.loan_cents
    yield SOURCE, "less fees to be withheld", -withheld
    yield SOURCE, "less interest from the reserve", -added
    yield SOURCE, "Equity not paid in yet", max(equity - owner, 0)
    yield SOURCE, "Receipts expected", sum(one.cents for one in plan.expected)
    yield USE, "Cost to complete", plan.to_come_cents
    yield USE, "Known before its bill", still_open.accrued_cents
    yield USE, "Bills not paid", still_open.unpaid_cents
    yield USE, "Bills paid in part, with retainage of vendors", still_open.part_paid_cents
    yield USE, "Owed to the owner beyond the equity", max(owner - equity, 0)
    yield USE, "Interest to be paid", interest - added
    yield USE, "Fees to be paid", fees - withheld
    required = whole_half_up(plan.to_come_cents * Fraction(contingency_fraction))
    yield USE, "Contingency that must be left", required
