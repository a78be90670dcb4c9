"""Rents by dates and prices of the phase's middle: a method costs what its item costs."""

from decimal import Decimal

import pytest

from estimator.money import to_cents
from estimator.production.placed_so_far import pace_of_sum
from estimator.scheduling.dated_estimate import price
from estimator.studies.comparison.changing_course import changed_course
from estimator.studies.comparison.comparison import compare
from estimator.studies.comparison.method_dates import date_sentences, rest_sentences
from tests.factories import SPRING, item, scope_of, scope_with
from tests.scope.methods.choices import BY_HAND, PIT, shipped

BOOM = {"name": "lowering it in", "assembly": "stone-fill-telehandler"}
WHEEL = {"name": "wheeling it in"}
START = {"start": "2026-06-01"}
RISING = START | {"escalation": {"yearly": "6 %"}}
# The telehandler serves another pit, in the phase after this one: it may stay between the two.
OTHER = item("010", "stone-fill-telehandler", **PIT)
LOAN = {
    "code": "75", "name": "Interest", "along": ["30", "40"],
    "items": [item(
        "010", "loan-interest", days="along", average_balance="$190,000", yearly_rate="8.75 %",
        days_a_year="360 day",
    )],
}  # fmt: skip


def job(choice, calendar):
    fill = item("010", "stone-fill-skid-steer", **PIT)
    fill |= {"methods": [BOOM, WHEEL, BY_HAND], "method": choice}
    more = {} if calendar is None else {"calendar": calendar}
    return scope_of(shipped(), {"30": [fill], "40": [OTHER]}, **more)


def on_borrowed_money(choice, more):
    return compare(borrowing_scope(choice, more), shipped(), SPRING, "30.010")


def borrowing_scope(choice, more):
    fill = item("010", "stone-fill-skid-steer", **PIT)
    fill |= {"methods": [BOOM, WHEEL, BY_HAND], "method": choice}
    works = [
        {"code": code, "name": code, "items": [one]} for code, one in (("30", fill), ("40", OTHER))
    ]
    head = {"calendar": START, "day_worth": "$310/day"}
    return scope_with(shipped(), works + more, **head)


def interest_cents(choice):
    items = price(borrowing_scope(choice, [LOAN]), shipped(), SPRING).items
    (cents,) = items.loc[items["item"] == "75.010", "cash_cents"]
    return cents


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
    assert words[2] == (
        "all else here counts machines by single days, at the prices of the pricing date"
    )


def cheapest(results):
    return min(results, key=lambda one: one.in_all).method.name


def test_prices_of_all_methods_move_to_the_middle_of_the_phase():
    compared = compare(job("carrying it in", RISING), shipped(), SPRING, "30.010")
    for moved, plain in zip(compared.by_dates, compared.results, strict=True):
        assert moved.by_kind["labor"] > plain.by_kind["labor"]


def test_the_interest_of_the_job_is_never_added_to_the_worth_of_a_day():
    """A slow method makes a longer job of more interest, and the worth of a day holds that."""
    quick, slow = map(interest_cents, ("lowering it in", "carrying it in"))
    assert 0 < quick < slow
    alone, borrowed = (on_borrowed_money("carrying it in", more) for more in ([], [LOAN]))
    assert (borrowed.day_worth, len(borrowed.by_dates)) == (310, 3)
    assert alone.by_dates == borrowed.by_dates


def under_way(tons, days, calendar=START):
    """What now, of a pit of 100.8 tons that was begun on Monday, June 1, 2026."""
    fill = item("010", "stone-fill-skid-steer", **PIT) | {"methods": [BOOM, WHEEL, BY_HAND]}
    more = {} if calendar is None else {"calendar": calendar}
    compared = compare(scope_of(shipped(), {"30": [fill]}, **more), shipped(), SPRING, "30.010")
    return compared, changed_course(compared, 0, pace_of_sum(tons, days))


def rises(course):
    return [way.by_dates - way.in_all for way in course.ways]


def test_a_machine_that_is_there_adds_to_the_rest_what_the_rents_rise_by():
    """Monday to Thursday the telehandler, at $420 a day or $1,470 a week; the rest is a half day.

    Its week is cheaper than four days and has Friday in it: nothing more, where the table has a day
    of $420. Tax of 7 % is $29.40, overhead of 6 % $25.20, insurance of 1.2 % on $445.20 $5.3424,
    contingency of 12 % on $474.60 $56.952: $536.89 in all. A skid steer by the day comes with its
    way of $300, $21.00 of tax, $18.00, $3.816 and $40.68: $383.50, a cent less by rounding.
    """
    compared, course = under_way(90.0, 4)
    assert rises(course) == [Decimal("-536.89"), Decimal("383.49"), 0]
    assert course.best.method.name == "wheeling it in"
    dates, by_dates = rest_sentences(compared, course)
    assert dates.endswith("lowering it in, by 2026-06-05; wheeling it in, by 2026-06-05; "
                          "carrying it in, by 2026-06-05")  # fmt: skip
    assert by_dates.endswith("then lowering it in is cheapest")


def test_a_rest_that_outlasts_the_paid_week_adds_the_days_beyond_it():
    """80 tons in 4 days leave 1.04 days: Friday and Monday, June 8.

    One week and a day, $1,470 + $420, against the week so far: a rise of $420, where the table has
    two days of $420; again $536.89 less.
    """
    _, course = under_way(80.0, 4)
    assert rises(course)[0] == Decimal("-536.89")


def test_without_a_calendar_the_rest_is_by_single_days():
    compared, course = under_way(90.0, 4, calendar=None)
    assert not course.is_dated
    assert list(rest_sentences(compared, course)) == []
