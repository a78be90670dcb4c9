"""What is to be paid and drawn from a day on: the costs to come, by line and date."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, timedelta

from estimator.funding.draws import EquityTerms
from estimator.funding.loan_interest import BalanceChange
from estimator.funding.loan_terms import LoanTerms

NOT_DRAWABLE = ""
"""The line of what no line of the schedule bears, or was incurred before costs may be drawn."""
MONTHLY, TWICE_A_MONTH = "monthly", "twice a month"
_MIDDLE = 15


@dataclass(frozen=True)
class PlannedLine:
    """A line of the schedule on the day of the plan.

    Parameters
    ----------
    line, kind, basis : str
        Its number, kind, and what it counts as done.
    value_cents : int
        [0.01 $] Scheduled value with changes.
    incurred_cents, paid_cents, earned_cents : int
        [0.01 $] So far: cost that may be drawn, paid, worth of what is in place.
    is_released : bool
        True where nothing is held back any more.
    """

    line: str
    kind: str
    basis: str
    value_cents: int
    incurred_cents: int = 0
    paid_cents: int = 0
    earned_cents: int = 0
    is_released: bool = False


@dataclass(frozen=True)
class PlannedCost:
    """What is to be paid on a code and line.

    Parameters
    ----------
    code, line : str
        Cost code; the line that bears it, or `NOT_DRAWABLE`.
    cents : int
        [0.01 $]
    start, finish : date
        First and last day on which it comes about, each calendar day the same.
    days_to_pay : int
        [day] From then to its payment.
    is_incurred : bool
        True of what came about already and is only to be paid.
    """

    code: str
    line: str
    cents: int
    start: date
    finish: date
    days_to_pay: int = 0
    is_incurred: bool = False


@dataclass(frozen=True)
class DrawnToDate:
    """What draws came to, without interest from the reserve: granted, or requested.

    Parameters
    ----------
    done_cents, retainage_cents : int
        [0.01 $] Work and stored material to date; held back of it.
    """

    done_cents: int = 0
    retainage_cents: int = 0

    @property
    def earned_cents(self) -> int:
        """Done less what is held back [0.01 $]."""
        return self.done_cents - self.retainage_cents


@dataclass(frozen=True)
class PendingDraw:
    """A draw that is submitted and not funded yet.

    Parameters
    ----------
    drawn : DrawnToDate
        To date, with it.
    funded_on : date
        As the terms say.
    """

    drawn: DrawnToDate
    funded_on: date


@dataclass(frozen=True)
class CashPlan:
    """Where loan, equity and costs stand on a day, and what is to come.

    Parameters
    ----------
    as_of : date
        The day; the plan begins with the next.
    terms : LoanTerms
        Of the loan.
    equity : EquityTerms
        Loan and equity, with approved changes beyond the contingency.
    lines : tuple of PlannedLine
        Of the schedule, and one for what is not drawable.
    costs : tuple of PlannedCost
        To be paid.
    funded : tuple of BalanceChange
        What the balance of the loan rose by, with fees and interest.
    drawn : DrawnToDate
        By the draws that were funded.
    equity_cents : int
        [0.01 $] Of the equity, what these draws counted as paid in.
    fees_cents, interest_cents : int
        [0.01 $] Withheld so far, and added to the loan from the reserve.
    reserve_cents : int
        [0.01 $] Left for interest.
    draws : int
        How many draws there were, with one that is pending.
    pending : PendingDraw or None
        The draw that is on its way.
    received_cents : int
        [0.01 $] Money that came in: sales, refunds.
    expected : tuple of BalanceChange
        Money that is expected to come in, by day.
    own_cash_cents : int
        [0.01 $] What the owner has besides the equity, to pay before the lender does.
    draw_days : str
        `monthly`, through the last day; or `twice a month`, through the 15th as well.
    undated_cents : int
        [0.01 $] Of the costs to come, what has no date of its own.
    """

    as_of: date
    terms: LoanTerms
    equity: EquityTerms
    lines: tuple[PlannedLine, ...]
    costs: tuple[PlannedCost, ...]
    funded: tuple[BalanceChange, ...] = ()
    drawn: DrawnToDate = DrawnToDate()
    equity_cents: int = 0
    fees_cents: int = 0
    interest_cents: int = 0
    reserve_cents: int = 0
    draws: int = 0
    pending: PendingDraw | None = None
    received_cents: int = 0
    expected: tuple[BalanceChange, ...] = ()
    own_cash_cents: int = 0
    draw_days: str = MONTHLY
    undated_cents: int = 0

    @property
    def loan_cents(self) -> int:
        """The balance of the loan [0.01 $]."""
        return sum(one.cents for one in self.funded)

    @property
    def paid_cents(self) -> int:
        """Money that left for costs so far [0.01 $]."""
        return sum(one.paid_cents for one in self.lines)

    @property
    def owner_cents(self) -> int:
        """What the owner has paid so far beyond what the lender and others paid in [0.01 $]."""
        lent = self.loan_cents - self.fees_cents - self.interest_cents
        return self.paid_cents - lent - self.received_cents

    @property
    def to_come_cents(self) -> int:
        """Costs that have not come about yet [0.01 $]."""
        return sum(one.cents for one in self.costs if not one.is_incurred)

    @property
    def open_cents(self) -> int:
        """Costs that came about and are not paid [0.01 $]."""
        return sum(one.cents for one in self.costs if one.is_incurred)

    @property
    def last_cost(self) -> date:
        """The last day on which a cost comes about."""
        return max((one.finish for one in self.costs), default=self.as_of)

    def is_draw_day(self, day: date) -> bool:
        """Return whether a draw goes through a day."""
        ends_month = (day + timedelta(1)).day == 1
        return ends_month or (self.draw_days == TWICE_A_MONTH and day.day == _MIDDLE)

    def paying_later(self, code: str, days: int) -> CashPlan:
        """Return the plan with the costs to come of a code paid so many days after they come."""
        costs = tuple(
            replace(one, days_to_pay=days) if one.code == code and not one.is_incurred else one
            for one in self.costs
        )
        return replace(self, costs=costs)

    def phase_later(self, phase: str, days: int) -> CashPlan:
        """Return the plan with the costs to come of a phase so many days later."""
        later = timedelta(days)
        costs = tuple(
            replace(one, start=one.start + later, finish=one.finish + later)
            if one.code.partition(".")[0] == phase and not one.is_incurred
            else one
            for one in self.costs
        )
        return replace(self, costs=costs)
