"""Balance of the loan and course of the cash, from books, forecast and draws."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, timedelta
from decimal import Decimal
from uuid import UUID

from api.draws.amended_loans import loan_on
from api.draws.cash_shapes import BalanceQuery, CashQuery
from api.draws.drafts import submitted_draws
from api.draws.loans import stored_loan
from api.draws.rows import FUNDED, RETURNED, DrawStep, StoredDraw
from api.draws.stored_draws import (
    funding_of_step,
    granted_request,
    is_granted,
    request_of,
    state_of,
    steps_of,
)
from api.ledger.baselines import baseline_of
from api.ledger.known_books import books_of, known_by
from api.ledger.outlooks import cost_and_dates_of
from api.ledger.reports import track_of
from api.store.sessions import AccountSession
from estimator.errors import FundingFaulty, fault
from estimator.funding.cash_course import CashCourse, cash_course
from estimator.funding.cash_from_books import LONGEST_DAYS, CashFacts, DrawsSoFar, cash_plans
from estimator.funding.cash_plan import CashPlan
from estimator.funding.draw_decisions import Funding
from estimator.funding.draw_requests import DrawRequest
from estimator.funding.drawings import DrawHistory
from estimator.funding.loan_balance import LoanBalance, loan_balance, open_costs
from estimator.funding.loan_interest import BalanceChange
from estimator.money import to_cents
from estimator.tracking.books import Books


@dataclass(frozen=True)
class CashOf:
    """The cash of a project, at the P50 and at the P80 of its cost at completion.

    Parameters
    ----------
    plans : tuple of 2 CashPlan
        What is to be paid and drawn.
    known : Books
        As known on the day.
    open_cents : int
        [0.01 $] Incurred and not paid.
    """

    plans: tuple[CashPlan, CashPlan]
    known: Books
    open_cents: int

    def balance(self, contingency_fraction: Decimal | None = None) -> LoanBalance:
        """Return the balance, with a part of the cost to complete left for contingency."""
        still_open = open_costs(self.known, self.open_cents)
        return loan_balance(self.plans, still_open, contingency_fraction)

    def course(self, at: str) -> CashCourse:
        """Return the course at `P50` or `P80`."""
        return cash_course(self.plans[at == "P80"])


def cash_facts(query: CashQuery, as_of: date) -> CashFacts:
    """Return what a query says of the cash.

    Raises
    ------
    FundingFaulty
        If money is expected on a day that is past or far away.
    """
    expected, day = to_cents(query.expected), query.expected_on or as_of + timedelta(1)
    if not 0 < (day - as_of).days <= LONGEST_DAYS:
        remedy = f"a day after {as_of}, within five years"
        raise fault(FundingFaulty, f"is {day}", remedy, "expected_on")
    return CashFacts(
        expected=(BalanceChange(day, expected),) if expected else (),
        own_cash_cents=to_cents(query.own_cash),
        days_to_pay=query.days_to_pay,
        draw_days=query.draw_days,
    )


def contingency_fraction(query: BalanceQuery) -> Decimal | None:
    """Return the part of the cost to complete that must be left; None for that of the terms."""
    return None if query.contingency_percent is None else query.contingency_percent / 100


def cash_of(
    session: AccountSession, project_id: UUID, as_of: date, known_on: datetime, facts: CashFacts
) -> CashOf:
    """Return the cash of a project on a day.

    Raises
    ------
    NotFound
        If it has no loan.
    LedgerFaulty
        If the books were not open by then.
    """
    stored = stored_loan(session, project_id)
    report = track_of(session, project_id, as_of, known_on)
    known = books_of(session, project_id, known_by(as_of, known_on))
    plans = cash_plans(
        loan_on(session, stored, as_of, known_on),
        baseline_of(session, project_id, stored.frozen_on),
        known,
        draws_so_far(session, project_id, as_of),
        cost_and_dates_of(session, project_id, report),
        as_of,
        known_on,
        facts,
    )
    open_cents = report.status.whole().spent.open_cents
    return CashOf(plans, known, open_cents)


def draws_so_far(session: AccountSession, project_id: UUID, as_of: date) -> DrawsSoFar:
    """Return the draws of a loan that were submitted by a day, with what was funded by then."""
    draws = [
        one for one in submitted_draws(session, project_id) if one.submitted_at.date() <= as_of
    ]
    steps = steps_of(session, StoredDraw.project_id == project_id)
    funded = [one for one in draws if _funding(steps[one.id], as_of) is not None]
    fundings = [own for one in draws if (own := _funding(steps[one.id], as_of)) is not None]
    history = DrawHistory(
        last=granted_request(steps[funded[-1].id]) if funded else None,
        equity_cents=sum(one.equity_cents for one in fundings),
        loan_cents=sum(one.loan_cents for one in fundings),
    )
    last = draws[-1] if draws else None
    if last is None or last in funded or state_of(steps[last.id]) == RETURNED:
        return DrawsSoFar(history, tuple(fundings))
    pending = _as_it_stands(last, steps[last.id])
    return DrawsSoFar(history, tuple(fundings), pending, last.submitted_at.date())


def _funding(steps: list[DrawStep], as_of: date) -> Funding | None:
    own = [funding_of_step(one) for one in steps if one.state == FUNDED]
    return next((one for one in own if one.day <= as_of), None)


def _as_it_stands(draw: StoredDraw, steps: list[DrawStep]) -> DrawRequest:
    return granted_request(steps) if is_granted(steps) else request_of(draw)
