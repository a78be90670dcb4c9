"""Amendments of a loan: what the lender agrees to later, each from a day on, with its history."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime

from estimator.errors import Faults, FundingFaulty
from estimator.funding.loan_schedule import Loan
from estimator.funding.loan_terms import LoanTerms, check_terms
from estimator.money import cents_money

AT_CLOSING = ("lender", "equity_cents", "closed", "costs_from", "day_count", "interest", "preset")
"""Terms that are fixed at the closing."""


@dataclass(frozen=True)
class LoanAmendment:
    """The terms of a loan from a day on.

    Parameters
    ----------
    number : int
        Of the amendment, from 1.
    entered : datetime
        [UTC]
    since : date
        First day on which they hold; a draw goes by those of its last day.
    reason : str
        Why, and where it is signed.
    terms : LoanTerms
        All of them, with what is new.
    """

    number: int
    entered: datetime
    since: date
    reason: str
    terms: LoanTerms


def terms_on(
    loan: Loan, amendments: Iterable[LoanAmendment], day: date, known_on: datetime
) -> LoanTerms:
    """Return the terms of a loan that hold on a day.

    Parameters
    ----------
    loan : Loan
        As it was closed.
    amendments : iterable of LoanAmendment
        In their order.
    day : date
        The last day of a draw, or the day of a report.
    known_on : datetime
        [UTC] What was entered by then counts.
    """
    in_force = loan.terms
    for one in amendments:
        if one.since <= day and one.entered <= known_on:
            in_force = one.terms
    return in_force


def check_amendment(
    loan: Loan, before: LoanTerms, amendment: LoanAmendment, last_since: date, drawn_cents: int
) -> None:
    """Refuse an amendment that contradicts the loan or what came of it.

    Parameters
    ----------
    loan : Loan
        With its frozen schedule.
    before : LoanTerms
        As they hold up to then.
    amendment : LoanAmendment
        With the terms from then on.
    last_since : date
        From which the amendment before holds; the closing if there is none.
    drawn_cents : int
        [0.01 $] What the lender has paid out, with fees that were withheld.

    Raises
    ------
    FundingFaulty
        With every fault: nothing changes; it holds before the one before; what is fixed at the
        closing; past interest; a commitment below the schedule or what is drawn; contradictions.
    """
    after, faults = amendment.terms, Faults()
    try:
        check_terms(after)
    except FundingFaulty as error:
        faults.take("", error)
    if after == before:
        faults.add("terms", "nothing changes", "state what is new")
    if amendment.since < last_since:
        what = f"{amendment.since} is before {last_since}"
        faults.add("since", what, "begin on that day or later")
    for name in AT_CLOSING:
        if getattr(after, name) != getattr(before, name):
            faults.add(name.removesuffix("_cents"), "is fixed at the closing")
    past = [one for one in after.rates if one.since < amendment.since]
    if past != [one for one in before.rates if one.since < amendment.since]:
        faults.add("rates", f"change before {amendment.since}", "interest of the past stays")
    least = max(loan.scheduled_cents - after.equity_cents, drawn_cents)
    if after.commitment_cents < min(least, before.commitment_cents):
        what = f"schedule less equity, or what is drawn, comes to {cents_money(least)}"
        faults.add("commitment", what, "it cannot be less")
    faults.raise_if_any(FundingFaulty)
