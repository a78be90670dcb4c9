"""The plan of the cash as the books, the forecast and the draws so far give it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from functools import cached_property

from estimator.funding.cash_plan import (
    MONTHLY,
    NOT_DRAWABLE,
    CashPlan,
    DrawnToDate,
    PendingDraw,
    PlannedCost,
    PlannedLine,
)
from estimator.funding.draw_day import DrawDay
from estimator.funding.draw_decisions import Funding
from estimator.funding.draw_from_books import equity_terms
from estimator.funding.draw_requests import INTEREST, WORK, DrawRequest
from estimator.funding.drawings import DrawHistory, Drawing
from estimator.funding.draws import COST, DrawLine
from estimator.funding.lender_schedule import spread_over_lines
from estimator.funding.loan_interest import BalanceChange
from estimator.funding.loan_schedule import Loan
from estimator.funding.loan_terms import FROM_RESERVE
from estimator.money import apportion
from estimator.tracking.books import Books
from estimator.tracking.budget import CONTINGENCY, Budget
from estimator.tracking.job_outlook import CostAndDates
from estimator.tracking.job_track import Track
from estimator.tracking.status import CodeStatus

LONGEST_DAYS = 1_830
"""[day] No cost is laid out later than five years ahead."""
_DAY = timedelta(1)


@dataclass(frozen=True)
class CashFacts:
    """What the owner says of the cash.

    Parameters
    ----------
    expected : tuple of BalanceChange
        Money that is to come in: a sale of salvage, a refund.
    own_cash_cents : int
        [0.01 $] What the owner has besides the equity, to pay before the lender does.
    days_to_pay : int
        [day] From a cost to its payment; what is open is paid as many days after the first day.
    draw_days : str
        `monthly` or `twice a month`.
    """

    expected: tuple[BalanceChange, ...] = ()
    own_cash_cents: int = 0
    days_to_pay: int = 0
    draw_days: str = MONTHLY


@dataclass(frozen=True)
class DrawsSoFar:
    """The draws of a loan up to a day.

    Parameters
    ----------
    history : DrawHistory
        What those came to that were funded.
    fundings : tuple of Funding
        Of each of them.
    pending : DrawRequest or None
        The one that is submitted, or granted, and not funded.
    submitted_on : date or None
        When it was.
    """

    history: DrawHistory
    fundings: tuple[Funding, ...] = ()
    pending: DrawRequest | None = None
    submitted_on: date | None = None


def cash_plans(
    loan: Loan,
    baseline: Budget,
    books: Books,
    draws: DrawsSoFar,
    ahead: CostAndDates,
    as_of: date,
    known_on: datetime,
    facts: CashFacts,
) -> tuple[CashPlan, CashPlan]:
    """Return the plans at the P50 and at the P80 of the cost at completion.

    Parameters
    ----------
    loan : Loan
        With its frozen schedule.
    baseline : mapping of str to BudgetCode
        The accepted estimate that it was frozen from.
    books : Books
        All rows of the project.
    draws : DrawsSoFar
        What was drawn.
    ahead : CostAndDates
        P50 and P80 of the cost at completion, and when each code is done.
    as_of, known_on : date, datetime
        Happened by; entered by [UTC].
    facts : CashFacts
        What the owner says.

    Notes
    -----
    The rest of P50 and P80 is split over the codes like the forecast by what is left, by the
    largest remainder; the contingency that is not drawn is in neither. A code runs over its planned
    days while they lie ahead, else up to the day on which it is done at its own pace. What has no
    date runs up to the last date of the others, or to the end of the loan. Nothing is laid out
    later than five years ahead.

    What is left of cost codes on a line of kind interest is no cost of the plan: the course of the
    cash works it out from the days on which the loan is out, so it counts once.
    """
    known = books.known(as_of, known_on)
    drawing = Drawing(1, 1, as_of)
    day = DrawDay(loan, baseline, known, drawing, draws.history, known_on)
    builder = _Builder(loan, day, draws, ahead, facts)
    return builder.plan(ahead.cost.p50_cents), builder.plan(ahead.cost.p80_cents)


@dataclass(frozen=True)
class _Builder:
    loan: Loan
    day: DrawDay
    draws: DrawsSoFar
    ahead: CostAndDates
    facts: CashFacts

    def plan(self, at_completion_cents: int) -> CashPlan:
        """Return the plan that comes to a cost at completion."""
        terms, history, facts = self.loan.terms, self.draws.history, self.facts
        states = [DrawLine(self.day.state(one), 0, 0, 0) for one in self.loan.lines]
        borne = {code for one in self.day.bearing if one.line in self._of_interest
                 for code in one.shares}  # fmt: skip
        rests = {code: cents for code, cents in _rests(self.report, at_completion_cents).items()
                 if code not in borne}  # fmt: skip
        costs, undated = self._costs(rests)
        added = self._added_cents()
        return CashPlan(
            as_of=self.report.as_of,
            terms=terms,
            equity=equity_terms(terms, states),
            lines=self._lines(),
            costs=tuple(costs),
            funded=tuple(BalanceChange(one.day, one.loan_cents) for one in self.draws.fundings),
            drawn=_drawn(history.last),
            equity_cents=history.equity_cents,
            fees_cents=sum(one.fees_cents for one in self.draws.fundings),
            interest_cents=added,
            reserve_cents=self._reserve_cents() - added,
            draws=self._number(),
            pending=self._pending(),
            received_cents=self.report.receipt_cents,
            expected=facts.expected,
            own_cash_cents=facts.own_cash_cents,
            draw_days=facts.draw_days,
            undated_cents=undated,
        )

    @property
    def report(self) -> Track:
        """What the books say."""
        return self.day.report

    @cached_property
    def _of_interest(self) -> frozenset[str]:
        """The lines of interest: one, or none."""
        return frozenset(one.line for one in self.loan.lines if one.kind == INTEREST)

    def _added_cents(self) -> int:
        """Return the interest that draws added to the loan."""
        done = self.draws.history.lines
        return sum(done[one].figures.done_cents for one in self._of_interest if one in done)

    def _reserve_cents(self) -> int:
        """Return what is reserved for interest; nothing where the owner pays it."""
        if self.loan.terms.interest != FROM_RESERVE:
            return 0
        return sum(self.day.revised[one] for one in self._of_interest)

    def _lines(self) -> tuple[PlannedLine, ...]:
        accrued = self._by_line({one.code: one.spent.accrued_cents for one in self._codes()})
        lines, beside = [], self.day.beside
        for one in self.loan.lines:
            if one.kind == INTEREST:
                continue
            before = self.draws.history.lines.get(one.line)
            incurred = self.day.state(one).incurred_cents + accrued.get(one.line, 0)
            lines.append(
                PlannedLine(
                    line=one.line,
                    kind=one.kind,
                    basis=one.basis_under(self.loan.terms),
                    value_cents=self.day.revised[one.line],
                    incurred_cents=incurred,
                    paid_cents=min(beside.paid[one.line], incurred),
                    earned_cents=beside.earned[one.line],
                    is_released=before is not None and before.is_released,
                )
            )
        paid = self.report.status.whole().spent.paid_cents - sum(one.paid_cents for one in lines)
        # Interest of the books that the reserve bore is in what the loan rose by, not the owner's.
        paid -= min(sum(beside.paid[one] for one in self._of_interest), self._added_cents())
        return (*lines, PlannedLine(NOT_DRAWABLE, WORK, COST, 0, paid_cents=paid))

    def _costs(self, rests: Mapping[str, int]) -> tuple[list[PlannedCost], int]:
        """Return what is open and what is to come, and how much of that has no date."""
        first, dates = self.report.as_of + _DAY, self._dates()
        until = max((end for _, end in dates.values()), default=self.loan.terms.ends)
        until = min(max(until, first), self.report.as_of + timedelta(LONGEST_DAYS))
        costs = [
            PlannedCost(
                one.code, line, cents, first, first, self.facts.days_to_pay, is_incurred=True
            )
            for one in self._codes()
            for line, cents in self._on_lines(one.code, one.spent.open_cents)
        ]
        for code, rest in rests.items():
            start, finish = dates.get(code, (first, until))
            costs += [
                PlannedCost(code, line, cents, start, finish, self.facts.days_to_pay)
                for line, cents in self._on_lines(code, rest)
            ]
        return costs, sum(cents for code, cents in rests.items() if code not in dates)

    def _codes(self) -> Sequence[CodeStatus]:
        return self.report.status.codes

    def _by_line(self, cents: Mapping[str, int]) -> Mapping[str, int]:
        borne = {code for one in self.day.bearing for code in one.shares}
        return spread_over_lines(
            {code: own for code, own in cents.items() if code in borne}, self.day.bearing
        )

    def _on_lines(self, code: str, cents: int) -> Iterator[tuple[str, int]]:
        """Yield what each line bears of a sum on a code; no line of costs bears interest."""
        if not cents:
            return
        by_line = {
            line: own
            for line, own in self._by_line({code: cents}).items()
            if own and line not in self._of_interest
        }
        yield from by_line.items() if by_line else ((NOT_DRAWABLE, cents),)

    def _dates(self) -> dict[str, tuple[date, date]]:
        """Return first and last day of what is left of each code that has a date."""
        first = self.report.as_of + _DAY
        done_by = {one.code: one.done_by for one in self.ahead.finishes}
        dates = {}
        for own in self.report.status.codes:
            code, start, finish = own.code, own.start, own.finish
            by_pace = done_by.get(code)
            if start is not None and finish is not None and start >= first:
                dates[code] = (start, finish)
            elif by_pace is not None:
                dates[code] = (first, max(by_pace, first))
            elif finish is not None and finish >= first:
                dates[code] = (first, finish)
        last = self.report.as_of + timedelta(LONGEST_DAYS)
        return {code: (min(a, last), min(b, last)) for code, (a, b) in dates.items()}

    def _number(self) -> int:
        last = self.draws.pending or self.draws.history.last
        return 0 if last is None else last.number

    def _pending(self) -> PendingDraw | None:
        if self.draws.pending is None or self.draws.submitted_on is None:
            return None
        funded = self.draws.submitted_on + timedelta(self.loan.terms.days_to_funding)
        return PendingDraw(_drawn(self.draws.pending), funded)


def _drawn(request: DrawRequest | None) -> DrawnToDate:
    """Return what a draw comes to, to date, without interest."""
    lines = [] if request is None else [one for one in request.lines if one.kind != INTEREST]
    return DrawnToDate(
        sum(one.figures.done_and_stored_cents for one in lines),
        sum(one.figures.retainage_cents for one in lines),
    )


def _rests(report: Track, at_completion_cents: int) -> dict[str, int]:
    """Return what each code still costs, so that the job comes to a sum at completion."""
    codes = [one for one in report.status.codes if one.code != CONTINGENCY]
    incurred = report.status.whole().spent.incurred_cents
    rest = max(at_completion_cents - incurred, 0)
    weights = [max(report.forecast_cents(one) - one.spent.incurred_cents, 0) for one in codes]
    if not rest or not sum(weights):
        return {}
    parts = apportion(rest, weights)
    return {one.code: cents for one, cents in zip(codes, parts, strict=True) if cents}
