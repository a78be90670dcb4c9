"""The course of the cash: day by day what is paid, drawn and owed, and the day it runs out."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta
from fractions import Fraction

from estimator.funding.cash_plan import NOT_DRAWABLE, CashPlan, DrawnToDate, PlannedLine
from estimator.funding.draw_requests import WORK
from estimator.funding.draws import COST, LESSER, owner_part
from estimator.funding.loan_interest import BalanceChange, accrued_interest
from estimator.funding.retainage import retainage_held
from estimator.money import whole_half_up
from estimator.tracking.earned_value import planned_cents

_DAY = timedelta(1)


@dataclass
class CashDay:
    """Where the cash stands at the end of a day; sums from the beginning of the job [0.01 $].

    Parameters
    ----------
    day : date
        Its end.
    paid_cents, interest_cents, fees_cents : int
        [0.01 $] Paid for costs; of interest and fees, what was paid or withheld.
    added_cents, balance_cents : int
        [0.01 $] Interest that the reserve bore; the balance of the loan, with it and with fees.
    received_cents : int
        [0.01 $] From sales and refunds.
    equity_cents : int
        [0.01 $] Of the equity, what draws counted as paid in.
    requested, granted : DrawnToDate
        By draws that were requested, and by those that were funded.
    short_cents : int
        [0.01 $] Granted and not funded, as the loan is used up or the lender paid less.
    beyond_cents : int
        [0.01 $] Paid for what no line has room for.
    """

    day: date
    paid_cents: int = 0
    interest_cents: int = 0
    fees_cents: int = 0
    added_cents: int = 0
    balance_cents: int = 0
    received_cents: int = 0
    equity_cents: int = 0
    requested: DrawnToDate = field(default_factory=DrawnToDate)
    granted: DrawnToDate = field(default_factory=DrawnToDate)
    short_cents: int = 0
    beyond_cents: int = 0

    @property
    def owner_cents(self) -> int:
        """What the owner has paid beyond what the lender and others paid in [0.01 $]."""
        out = self.paid_cents + self.interest_cents + self.fees_cents
        return out - self.balance_cents - self.received_cents

    @property
    def causes(self) -> Mapping[str, int]:
        """What the owner has paid, by what it waits for; with what was counted as equity [0.01 $].

        They add up to `owner_cents`.
        """
        return {
            "paid and in no draw yet": self.paid_cents
            - self.beyond_cents
            - self.requested.done_cents,
            "requested and not funded yet": self.requested.done_cents - self.granted.done_cents,
            "held back as retainage": self.granted.retainage_cents,
            "more than its line has room for, or not drawable": self.beyond_cents,
            "granted and not funded": self.short_cents,
            "interest paid": self.interest_cents - self.added_cents,
            "fees": self.fees_cents,
            "equity that draws have counted": self.equity_cents,
            "money received": -self.received_cents,
        }


@dataclass(frozen=True)
class CashCourse:
    """The course of the cash from a day on.

    Parameters
    ----------
    plan : CashPlan
        What it rests on.
    days : tuple of CashDay
        The day of the plan, and each day after it up to the last that moves money.
    """

    plan: CashPlan
    days: tuple[CashDay, ...]

    @property
    def peak(self) -> CashDay:
        """The day on which the owner has paid most, the first of several."""
        return max(self.days, key=lambda one: one.owner_cents)

    @property
    def runs_out(self) -> CashDay | None:
        """The first day on which more is paid than equity and own cash; None if none is."""
        has = self.plan.equity.required_cents + self.plan.own_cash_cents
        return next((one for one in self.days if one.owner_cents > has), None)

    @property
    def month_ends(self) -> tuple[CashDay, ...]:
        """The last day of each month, and the last of all."""
        ends = [one for one in self.days[1:] if (one.day + _DAY).day == 1]
        return tuple(ends if ends and ends[-1] is self.days[-1] else [*ends, self.days[-1]])

    @property
    def interest_to_come_cents(self) -> int:
        """Interest from the day of the plan on [0.01 $]."""
        return self.days[-1].interest_cents - self.days[0].interest_cents

    @property
    def fees_to_come_cents(self) -> int:
        """Fees from the day of the plan on [0.01 $]."""
        return self.days[-1].fees_cents - self.days[0].fees_cents


def cash_course(plan: CashPlan) -> CashCourse:
    """Return the course of the cash by a plan.

    Parameters
    ----------
    plan : CashPlan
        What is to be paid and drawn.

    Raises
    ------
    FundingFaulty
        If no rate holds on a day on which money is out.

    Notes
    -----
    Costs come about evenly over the calendar days of their dates, and are paid as many days later
    as the plan says. A draw goes through each draw day, asks for the cost of each line as its basis
    has it, and is funded as many days later as the terms say; the one after the last cost releases
    the retainage, and the last one that the terms allow is kept for it. What a line has no room for
    and what the loan has no money for stays with the owner. Percent in place follows cost: it rises
    from what is in place to the whole value as the cost rises to its forecast. Interest is posted
    on the first of each month.
    """
    return _Running(plan).course()


class _Running:
    """The plan on its way: what has come by the day."""

    def __init__(self, plan: CashPlan) -> None:
        self.plan, self.terms = plan, plan.terms
        self.incurred = {one.line: one.incurred_cents for one in plan.lines}
        self.paid = {one.line: one.paid_cents for one in plan.lines}
        self.forecast = dict(self.incurred)
        self.comes: dict[date, dict[str, int]] = defaultdict(lambda: defaultdict(int))
        self.goes: dict[date, dict[str, int]] = defaultdict(lambda: defaultdict(int))
        self.changes = list(plan.funded)
        self.due: dict[date, DrawnToDate] = {}
        self.reserve, self.draws, self.is_done = plan.reserve_cents, plan.draws, False
        self.posted = plan.as_of.replace(day=1)
        self.now = self._begin()
        self._lay_out()

    def _begin(self) -> CashDay:
        plan = self.plan
        work = plan.loan_cents - plan.interest_cents
        if plan.pending:
            self.due[max(plan.pending.funded_on, plan.as_of + _DAY)] = plan.pending.drawn
        return CashDay(
            day=plan.as_of,
            paid_cents=plan.paid_cents,
            interest_cents=plan.interest_cents,
            fees_cents=plan.fees_cents,
            added_cents=plan.interest_cents,
            balance_cents=plan.loan_cents,
            received_cents=plan.received_cents,
            equity_cents=plan.equity_cents,
            requested=plan.pending.drawn if plan.pending else plan.drawn,
            granted=plan.drawn,
            short_cents=plan.drawn.earned_cents - plan.equity_cents - work,
            beyond_cents=self._beyond(),
        )

    def _lay_out(self) -> None:
        """Lay each cost out over its days."""
        for cost in self.plan.costs:
            before, later = 0, timedelta(cost.days_to_pay)
            for number in range((cost.finish - cost.start).days + 1):
                day = cost.start + number * _DAY
                to_date = planned_cents(cost.cents, cost.start, cost.finish, day)
                self.goes[day + later][cost.line] += to_date - before
                if not cost.is_incurred:
                    self.comes[day][cost.line] += to_date - before
                before = to_date
            if not cost.is_incurred:
                self.forecast[cost.line] += cost.cents

    def course(self) -> CashCourse:
        """Return the course: the days go on until nothing is due."""
        days = [self.now]
        received = {one.day: one.cents for one in self.plan.expected}
        last = max([*self.goes, *received, self.plan.last_cost], default=self.plan.as_of)
        while not self._is_over(last):
            self.now = self._next(received)
            days.append(self.now)
        return CashCourse(self.plan, tuple(days))

    def _is_over(self, last: date) -> bool:
        day = self.now.day
        may_draw = not self.is_done and day < self.terms.ends and self._is_left()
        is_posted = day.day == 1 or not self.changes
        return day >= last and not self.due and not may_draw and is_posted

    def _is_draw_day(self, day: date) -> bool:
        may_be = not self.is_done and self._is_left() and day <= self.terms.ends
        return may_be and self.plan.is_draw_day(day)

    def _is_left(self) -> bool:
        """Whether another draw may come."""
        return not self.terms.most_draws or self.draws < self.terms.most_draws

    def _next(self, received: Mapping[date, int]) -> CashDay:
        day = self.now.day + _DAY
        self.now = CashDay(**vars(self.now) | {"day": day})
        for line, cents in self.comes[day].items():
            self.incurred[line] += cents
        for line, cents in self.goes[day].items():
            self.paid[line] += cents
            self.now.paid_cents += cents
        self.now.beyond_cents = self._beyond()
        self.now.received_cents += received.get(day, 0)
        if day in self.due:
            self._fund(self.due.pop(day))
        if day.day == 1:
            self._post_interest(day)
        if self._is_draw_day(day):
            self._ask(day)
        return self.now

    def _beyond(self) -> int:
        """Return what is paid and no line has room for."""
        return sum(max(self.paid[one.line] - _room(one), 0) for one in self.plan.lines)

    def _ask(self, day: date) -> None:
        """Ask for what is done; the draw after the last cost releases what is held back."""
        is_last = day >= self.plan.last_cost
        drawn = self._drawn(is_last=is_last)
        more = drawn.earned_cents - self.now.requested.earned_cents
        self.is_done = is_last
        is_reserved = self.draws + 1 == self.terms.most_draws  # the last one is for the end
        if more <= 0 or (not is_last and (is_reserved or more < self.terms.smallest_cents)):
            return
        self.draws += 1
        self.now.requested = drawn
        self.due[day + timedelta(max(self.terms.days_to_funding, 1))] = drawn

    def _drawn(self, *, is_last: bool) -> DrawnToDate:
        lines = [one for one in self.plan.lines if one.line != NOT_DRAWABLE]
        done = {one.line: self._done(one) for one in lines}
        work = [one for one in lines if one.kind == WORK and not one.is_released]
        terms = self.terms.retainage
        if is_last:
            held = 0
        elif terms.of_whole:
            value = sum(one.value_cents for one in work)
            held = retainage_held(terms, value, sum(done[one.line] for one in work))
        else:
            held = sum(retainage_held(terms, one.value_cents, done[one.line]) for one in work)
        return DrawnToDate(sum(done.values()), held)

    def _done(self, line: PlannedLine) -> int:
        """Return what a line counts as done, as its basis has it, within its value."""
        incurred, rest = self.incurred[line.line], self.forecast[line.line] - line.incurred_cents
        measured = line.earned_cents
        if rest > 0:
            share = Fraction(incurred - line.incurred_cents, rest)
            measured += whole_half_up((line.value_cents - line.earned_cents) * share)
        by_basis = {COST: incurred, LESSER: min(incurred, measured)}
        return max(min(by_basis.get(line.basis, measured), line.value_cents), 0)

    def _fund(self, drawn: DrawnToDate) -> None:
        """Take what equity and loan pay of a draw, and its fees."""
        now, equity = self.now, self.plan.equity
        wanted = drawn.earned_cents - now.granted.earned_cents + now.short_cents
        owner = owner_part(wanted, equity, now.equity_cents)
        lent = min(wanted - owner, max(equity.commitment_cents - now.balance_cents, 0))
        now.granted, now.short_cents = drawn, wanted - owner - lent
        now.equity_cents += owner
        now.fees_cents += self._fees()
        self._owe(lent)

    def _fees(self) -> int:
        once = 0 if self.changes else self.terms.origination_cents
        return self.terms.inspection_cents + once

    def _owe(self, cents: int) -> None:
        self.changes.append(BalanceChange(self.now.day, cents))
        self.now.balance_cents += cents

    def _post_interest(self, day: date) -> None:
        """Post the interest of a month: added to the loan from the reserve, else paid."""
        terms = self.terms
        owed = accrued_interest(self.changes, terms.rates, self.posted, day, terms.day_count)
        cents, self.posted = whole_half_up(owed), day
        self.now.interest_cents += cents
        left = max(self.plan.equity.commitment_cents - self.now.balance_cents, 0)
        added = min(cents, self.reserve, left)
        if added:
            self.reserve -= added
            self.now.added_cents += added
            self._owe(added)


def _room(line: PlannedLine) -> int:
    """Return what of the cost of a line may be drawn at most [0.01 $]."""
    return 0 if line.line == NOT_DRAWABLE else max(line.value_cents, 0)
