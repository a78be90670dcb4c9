"""The rules of a loan in words, as the sheet prints them, each with whether it is the default."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from estimator.errors import how_many
from estimator.funding.draws import LESSER
from estimator.funding.loan_terms import (
    BOTH,
    CONDITIONAL,
    FREE,
    FROM_RESERVE,
    JOINTLY,
    NO_WAIVERS,
    PAID,
    TO_OWNER,
    TO_VENDOR,
    WITHHELD,
    LoanTerms,
    exact_percent,
)  # fmt: skip
from estimator.funding.retainage import EVERYTHING, NEW_WORK, STOP, RetainageTerms
from estimator.money import cents_money

_BASES = {LESSER: "the lesser of cost and percent"}
_INTEREST = {
    PAID: "paid by the owner each month",
    FROM_RESERVE: "added to the loan from a reserve",
}
_FEES = {WITHHELD: "withheld from what the lender pays out", PAID: "paid by the owner"}
_PAID_TO = {TO_OWNER: "the owner", TO_VENDOR: "the vendor", JOINTLY: "both jointly"}
_WAIVERS = {
    NO_WAIVERS: "none",
    CONDITIONAL: "conditional with each draw",
    BOTH: "conditional with each draw, unconditional with the next",
}


@dataclass(frozen=True)
class Rule:
    """A rule of the loan as the sheet prints it.

    Parameters
    ----------
    name, words : str
        What it is about, and what holds.
    is_default : bool
        True where the terms left it out, or say what holds without them.
    """

    name: str
    words: str
    is_default: bool


def rules_of(terms: LoanTerms) -> tuple[Rule, ...]:
    """Return the rules of a loan in words, each with whether it is the default.

    Parameters
    ----------
    terms : LoanTerms
        Of the loan.
    """
    usual = LoanTerms(
        terms.lender, terms.commitment_cents, terms.equity_cents, terms.closed, terms.ends,
        terms.rates,
    )  # fmt: skip
    words, defaults = dict(_words(terms)), dict(_words(usual))
    return tuple(Rule(name, text, text == defaults.get(name)) for name, text in words.items())


def _words(terms: LoanTerms) -> Iterator[tuple[str, str]]:
    owners = f"the {terms.changes} pays for changes beyond the contingency"
    yield "equity", f"{terms.equity_order}; {owners}"
    yield "costs", f"incurred from {terms.drawable_from} on"
    yield "draws", _draw_words(terms)
    yield "basis of a line", _BASES.get(terms.basis, terms.basis)
    yield "retainage", _retainage_words(terms.retainage)
    yield "stored material", _stored_words(terms)
    yield "interest", f"{_rate_words(terms)}; {terms.day_count}; {_INTEREST[terms.interest]}"
    yield "fees", _FEES[terms.fees]
    yield "vendors not paid yet", f"the lender pays {_PAID_TO[terms.vendors]}"
    yield "waivers", _waiver_words(terms)
    yield "contingency", _contingency_words(terms)
    yield "transfers", _transfer_words(terms)
    yield "funding", _funding_words(terms.days_to_funding)


def _funding_words(days: int) -> str:
    return f"{how_many(days, 'day')} after submission" if days else "on the day of submission"


def _draw_words(terms: LoanTerms) -> str:
    smallest = cents_money(terms.smallest_cents)
    least = f"at least {smallest} each" if terms.smallest_cents else "of any sum"
    most = f"at most {terms.most_draws}" if terms.most_draws else "any number"
    return f"{least}, {most}, until {terms.ends}"


def _rate_words(terms: LoanTerms) -> str:
    return ", ".join(f"{exact_percent(one.rate_fraction)} from {one.since}" for one in terms.rates)


def _waiver_words(terms: LoanTerms) -> str:
    words = _WAIVERS[terms.waivers]
    if terms.waivers == NO_WAIVERS or not terms.no_waiver_from:
        return words
    return f"{words}; none from {', '.join(terms.no_waiver_from)}"


def _contingency_words(terms: LoanTerms) -> str:
    left = f"{exact_percent(terms.contingency_fraction)} of the cost to complete must be left"
    use = "used freely" if terms.contingency_use == FREE else "used in proportion to work done"
    return f"{use}; {left if terms.contingency_fraction else 'none has to be left'}"


def _transfer_words(terms: LoanTerms) -> str:
    if terms.transfer_fraction == 1:
        return "without a limit"
    most = exact_percent(terms.transfer_fraction)
    return f"up to {most} of the value of the line they lower; the lender approves more"


def _stored_words(terms: LoanTerms) -> str:
    named = {
        "on site": terms.stored_on_site,
        "off site": terms.stored_off_site,
        "deposits": terms.deposits,
    }
    return ", ".join(f"{name}: {'yes' if drawn else 'no'}" for name, drawn in named.items())


def _retainage_words(terms: RetainageTerms) -> str:
    of_work, of_stored = exact_percent(terms.work_fraction), exact_percent(terms.stored_fraction)
    held = f"{of_work} of work, {of_stored} of stored"
    if not terms.effect:
        return held
    compared = "more than" if terms.is_strict else "at least"
    counted = "work and stored" if terms.counts_stored else "work"
    of = "the whole" if terms.of_whole else "the line"
    reached = f"{compared} {exact_percent(terms.reached_fraction)} of {of} ({counted})"
    reduced = exact_percent(terms.reduced_fraction)
    then = {
        STOP: "nothing more of work",
        NEW_WORK: f"{reduced} of new work",
        EVERYTHING: f"{reduced} of all work",
    }
    return f"{held}; once {reached} is done, {then[terms.effect]}"
