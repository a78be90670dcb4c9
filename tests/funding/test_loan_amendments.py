"""What is agreed after the closing: it holds from its day on, and never undoes what came before."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from estimator.errors import FundingFaulty
from estimator.funding.loan_amendments import LoanAmendment, check_amendment, terms_on
from estimator.funding.loan_interest import RateStep
from tests.funding.made import CLOSED, LATER, NOW, TERMS, loan, moment

JUNE, JULY = date(2026, 6, 1), date(2026, 7, 1)
EXTENDED = replace(TERMS, ends=date(2027, 10, 1))


def amendment(terms=EXTENDED, number=1, since=JUNE):
    return LoanAmendment(number, moment(since), since, "letter of the bank", terms)


def test_terms_hold_from_their_day_on_and_once_they_are_entered():
    later = amendment(replace(EXTENDED, most_draws=9), 2, JULY)
    both = [amendment(), later]
    assert terms_on(loan(), both, date(2026, 5, 31), LATER) == TERMS
    assert terms_on(loan(), both, JUNE, LATER).ends == date(2027, 10, 1)
    assert terms_on(loan(), both, JULY, LATER).most_draws == 9
    assert terms_on(loan(), both, JULY, NOW) == TERMS


@pytest.mark.parametrize(
    ("differing", "since", "sentence"),
    [
        ({}, JUNE, "terms: nothing changes; state what is new"),
        ({"ends": date(2027, 6, 1)}, date(2026, 3, 1), "since: 2026-03-01 is before 2026-04-01"),
        ({"equity_cents": 1}, JUNE, "equity: is fixed at the closing"),
        ({"rates": (RateStep(CLOSED, Decimal("0.09")),)}, JUNE, "rates: change before 2026-06-01"),
        ({"commitment_cents": 39_999_99}, JUNE, "comes to $40,000.00; it cannot be less"),
        ({"waivers": "some"}, JUNE, "waivers: is 'some'; one of none, conditional, both"),
    ],
)
def test_what_contradicts_the_loan_or_its_past_is_refused(differing, since, sentence):
    new = amendment(replace(TERMS, **differing), since=since)
    with pytest.raises(FundingFaulty) as refused:
        check_amendment(loan(), TERMS, new, CLOSED, 25_000_00)
    assert sentence in str(refused.value)


def test_an_extension_another_rate_and_a_larger_commitment_are_taken():
    rates = (*TERMS.rates, RateStep(JULY, Decimal("0.0925")))
    more = replace(EXTENDED, rates=rates, commitment_cents=45_000_00)
    check_amendment(loan(), TERMS, amendment(more), CLOSED, 25_000_00)
    check_amendment(loan(), TERMS, amendment(more), JUNE, 25_000_00)
