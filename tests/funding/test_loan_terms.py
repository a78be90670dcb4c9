"""Terms of a loan: what contradicts itself is refused at once, and the rules are printed."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from estimator.errors import FundingFaulty
from estimator.funding.loan_interest import RateStep
from estimator.funding.loan_rules import rules_of
from estimator.funding.loan_terms import LoanTerms, check_terms
from estimator.funding.retainage import STOP, RetainageTerms, retainage_held

CLOSED, ENDS = date(2026, 4, 1), date(2027, 4, 1)
TERMS = LoanTerms(
    "Canal Bank", 25_000_000, 6_000_000, CLOSED, ENDS, (RateStep(CLOSED, Decimal("0.0875")),)
)


def test_plain_terms_hold_and_their_rules_say_that_they_are_the_defaults():
    check_terms(TERMS)
    rules = {one.name: one for one in rules_of(TERMS)}
    assert rules["basis of a line"].words == "the lesser of cost and percent"
    assert rules["retainage"].words == "10 % of work, 10 % of stored"
    assert rules["draws"].words == "of any sum, any number, until 2027-04-01"
    assert all(one.is_default for one in rules.values())
    reduced = RetainageTerms(effect=STOP, is_strict=True, of_whole=True)
    rules = {one.name: one for one in rules_of(replace(TERMS, retainage=reduced, basis="cost"))}
    words = (
        "10 % of work, 10 % of stored; once more than 50 % of the whole (work) is done, nothing "
        "more of work"
    )
    assert (rules["retainage"].words, rules["retainage"].is_default) == (words, False)
    assert not rules["basis of a line"].is_default


def test_each_rule_says_who_pays_what_and_when():
    terms = replace(
        TERMS, changes="lender", interest="reserve", fees="paid", vendors="jointly",
        waivers="conditional", no_waiver_from=("City permit office",), smallest_cents=250_000,
        most_draws=5, days_to_funding=0, transfer_fraction=Decimal("0.1"),
    )  # fmt: skip
    rules = {one.name: one.words for one in rules_of(terms)}
    assert rules["equity"] == "equity first; the lender pays for changes beyond the contingency"
    assert rules["draws"] == "at least $2,500.00 each, at most 5, until 2027-04-01"
    assert rules["interest"].endswith("; added to the loan from a reserve")
    assert rules["fees"] == "paid by the owner"
    assert rules["vendors not paid yet"] == "the lender pays both jointly"
    assert rules["waivers"] == "conditional with each draw; none from City permit office"
    assert rules["contingency"] == "used freely; none has to be left"
    assert rules["transfers"] == (
        "up to 10 % of the value of the line they lower; the lender approves more"
    )
    assert rules["funding"] == "on the day of submission"
    (funding,) = (
        one for one in rules_of(replace(TERMS, days_to_funding=1)) if one.name == "funding"
    )
    assert funding.words == "1 day after submission"


@pytest.mark.parametrize(
    ("costs_from", "day", "notes"),
    [
        (None, date(2026, 4, 1), []),
        (
            None,
            date(2026, 3, 31),
            [
                "2026-03-31 is before the loan closes on 2026-04-01; costs may be drawn from "
                "2026-04-01 on"
            ],
        ),
        (
            date(2026, 1, 15),
            date(2026, 2, 2),
            [
                "2026-02-02 is before the loan closes on 2026-04-01; costs may be drawn from "
                "2026-01-15 on"
            ],
        ),
        (date(2026, 1, 15), date(2026, 4, 1), []),
        (
            date(2026, 5, 1),
            date(2026, 4, 30),
            ["2026-04-30 is early: costs may be drawn from 2026-05-01 on"],
        ),
        (date(2026, 5, 1), date(2026, 5, 1), []),
    ],
)
def test_a_cost_before_the_loan_is_noted_with_the_day_from_which_it_is_drawn(
    costs_from, day, notes
):
    assert replace(TERMS, costs_from=costs_from).notes_of_early_cost(day) == notes


@pytest.mark.parametrize(
    ("differing", "sentence"),
    [
        ({"ends": CLOSED}, "ends: 2026-04-01 is not after the closing on 2026-04-01"),
        ({"costs_from": date(2028, 1, 1)}, "costs_from: 2028-01-01 is after the end of the loan"),
        ({"rates": ()}, "rates: there is none"),
        ({"rates": (RateStep(ENDS, Decimal(0)),)}, "there is none from 2026-04-01 to 2027-04-01"),
        ({"rates": TERMS.rates * 2}, "rates: two hold from the same day"),
        (
            {"rates": (RateStep(CLOSED, Decimal("8.75")),)},
            "rates: 875 % a year is not an interest rate",
        ),
        ({"commitment_cents": 0}, "commitment: is not above zero"),
        ({"smallest_cents": 31_000_001}, "smallest_draw: is more than loan and equity together"),
        ({"equity_cents": 0, "equity_order": "pro rata"}, "there is no equity"),
        ({"waivers": "none", "no_waiver_from": ("City",)}, "no waivers are requested"),
        ({"basis": "guess"}, "basis: is 'guess'; one of cost, percent, lesser"),
        (
            {"retainage": RetainageTerms(effect=STOP, reduced_fraction=Decimal("0.05"))},
            "retainage: stops, and yet holds a reduced part",
        ),
        (
            {"retainage": RetainageTerms(effect="new work", reduced_fraction=Decimal("0.10"))},
            "retainage: is not less after its reduction",
        ),
    ],
)
def test_terms_that_contradict_each_other_are_refused(differing, sentence):
    with pytest.raises(FundingFaulty) as refused:
        check_terms(replace(TERMS, **differing))
    assert sentence in str(refused.value)


def test_all_contradictions_come_together():
    with pytest.raises(FundingFaulty) as refused:
        check_terms(replace(TERMS, ends=CLOSED, rates=(), commitment_cents=0))
    assert len(refused.value.faults) == 3


def test_stored_material_counts_toward_the_reduction_only_where_the_terms_say_so():
    """$400 done and $200 stored of $1,000: 60 % with what is stored, 40 % without."""
    alone = RetainageTerms(stored_fraction=Decimal(0), effect="everything")
    both = replace(alone, counts_stored=True)
    assert retainage_held(alone, 100_000, 40_000, 20_000) == 4_000
    assert retainage_held(both, 100_000, 40_000, 20_000) == 0
