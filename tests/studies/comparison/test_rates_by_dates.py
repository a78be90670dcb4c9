"""Rents by dates and prices of the phase's middle: a method costs what its item costs."""

import pytest

from estimator.money import to_cents
from estimator.scheduling.dated_estimate import price
from estimator.studies.comparison.comparison import compare
from estimator.studies.comparison.method_dates import date_sentences
from tests.factories import SPRING, item, scope_of
from tests.scope.methods.choices import BY_HAND, PIT, shipped

BOOM = {"name": "lowering it in", "assembly": "stone-fill-telehandler"}
WHEEL = {"name": "wheeling it in"}
START = {"start": "2026-06-01"}
RISING = START | {"escalation": {"yearly": "6 %"}}
# The telehandler serves another pit, in the phase after this one: it may stay between the two.
OTHER = item("010", "stone-fill-telehandler", **PIT)


def job(choice, calendar):
    fill = item("010", "stone-fill-skid-steer", **PIT)
    fill |= {"methods": [BOOM, WHEEL, BY_HAND], "method": choice}
    more = {} if calendar is None else {"calendar": calendar}
    return scope_of(shipped(), {"30": [fill], "40": [OTHER]}, **more)


def direct_cents(method):
    return sum(map(to_cents, method.by_kind.values()))


@pytest.mark.parametrize("calendar", [None, START, RISING])
@pytest.mark.parametrize("choice", ["lowering it in", "wheeling it in", "carrying it in"])
def test_the_chosen_method_costs_what_its_item_costs_in_the_estimate(choice, calendar):
    scope = job(choice, calendar)
    estimate = price(scope, shipped(), SPRING)
    (cash,) = estimate.items.loc[estimate.items["item"] == "30.010", "cash_cents"]
    comparison = compare(scope, shipped(), SPRING, "30.010")
    results = comparison.by_dates or comparison.results
    assert direct_cents(results[comparison.place(choice)]) == cash


def test_a_machine_bears_its_way_and_stays_for_the_next_work_where_that_is_less():
    """By the day no way is paid; by dates it is a part of a rental that may serve both pits."""
    plain = compare(job("lowering it in", None), shipped(), SPRING, "30.010")
    dated = compare(job("lowering it in", START), shipped(), SPRING, "30.010")
    assert plain.by_dates == ()
    assert [one.in_all for one in plain.results] == [one.in_all for one in dated.results]
    by_hand = [one[2].in_all for one in (dated.results, dated.by_dates)]
    assert by_hand[0] == by_hand[1]
    words = list(date_sentences(dated, None))
    total, more = dated.by_dates[0].in_all, dated.by_dates[0].in_all - dated.results[0].in_all
    said = f"lowering it in ${total:,}, ${abs(more):,} {'more' if more > 0 else 'less'}"
    assert said in words[1]
    assert words[1].endswith(f"then {cheapest(dated.by_dates)} is cheapest")
    assert words[2] == "all else here is by single days of machines, at the prices of the day"


def cheapest(results):
    return min(results, key=lambda one: one.in_all).method.name


def test_prices_of_all_methods_move_to_the_middle_of_the_phase():
    compared = compare(job("carrying it in", RISING), shipped(), SPRING, "30.010")
    for moved, plain in zip(compared.by_dates, compared.results, strict=True):
        assert moved.by_kind["labor"] > plain.by_kind["labor"]
