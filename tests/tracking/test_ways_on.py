"""What would cost less: the rest of an item by another of its methods."""

from dataclasses import replace
from datetime import date
from decimal import Decimal
from fractions import Fraction

import numpy as np
import pytest

from estimator.opening import SAMPLE_SCOPE, open_scope
from estimator.production.placed_so_far import ObservedPace
from estimator.scope.input_value import InputValue
from estimator.studies.comparison.changing_course import changed_course, with_one_more
from estimator.studies.comparison.comparison import compare
from estimator.studies.comparison.method_prices import Changes, method_prices
from estimator.studies.comparison.rest_of_work import rest_of
from estimator.studies.comparison.step_times import StepTimes
from estimator.tracking.books import Books
from estimator.tracking.job_outlook import Outlook, with_outlook
from estimator.tracking.job_record import PACE, JobRate
from estimator.tracking.job_track import track
from estimator.tracking.learned_rates import Learned
from estimator.tracking.spent import Spent
from estimator.tracking.status import CodeStatus, JobStatus
from estimator.tracking.ways_on import better_ways_on
from tests.tracking.rows import at

FILL = "30.020"


@pytest.fixture(scope="module")
def sample():
    return open_scope(SAMPLE_SCOPE)


def report(quantity, expected="291.09"):
    code = CodeStatus(
        FILL, "Stone fill", "30", "ton", 0, 0, 0, Spent(), {}, Decimal("291.09"),
        Decimal(quantity), Decimal(expected), 0, 0, "measured",
    )  # fmt: skip
    day = date(2026, 5, 22)
    return replace(track(Books(), {}, day, at(day)), status=JobStatus(day, (code,)))


def record(hours_against_plan):
    learned = Learned(9, 0.2282 * hours_against_plan, 0.0, 1.0, 0.8, 0.01, ())
    return [JobRate(PACE, FILL, "hr/ton", learned, 0.2282)]


def ways(sample, hours_against_plan, quantity, **more):
    return better_ways_on(report(quantity, **more), record(hours_against_plan), *sample)


def test_work_that_is_faster_than_its_plan_goes_on(sample):
    assert ways(sample, 0.8, "58.2") == ()


def test_each_sum_of_the_sentence_is_what_the_comparison_comes_to(sample):
    """Three times the hours of the plan: 232.89 ton are left, and another method costs less."""
    (one,) = ways(sample, 3.0, "58.2")
    compared = compare(*sample, FILL)
    whole = float(compared.as_written[0].quantity[0])
    per_day = whole / float(compared.as_written[0].days[0]) / 3
    course = changed_course(compared, 0, ObservedPace(1, whole - 232.89, per_day, 0.0, False))
    saved = course.going_on.in_all - course.best.in_all
    assert saved > 0
    assert one.cents == int(100 * saved)
    assert one.sentence == (
        f"30.020 Stone fill: the 232.89 tons left cost ${saved:,.2f} less by "
        f"{course.best.method.name} from Tuesday than going on at the hours so far "
        f"(${course.best.in_all:,.2f} against ${course.going_on.in_all:,.2f}, at the rates of the "
        "estimate, with the worth of their days)"
    )


def with_a_day_worth(scope, dollars, *places):
    """Return the sample with some of the methods of its fill, and what a day sooner is worth."""

    def shorter(item):
        if item.code != FILL:
            return item
        return replace(item, methods=tuple(item.methods[place] for place in places))

    phases = tuple(replace(one, items=tuple(map(shorter, one.items))) for one in scope.phases)
    return replace(scope, phases=phases, day_worth=InputValue(Fraction(dollars), "stated"))


@pytest.mark.parametrize("places", [(0, 4), (0,)], ids=["of two methods", "of the only method"])
def test_a_second_machine_is_said_where_it_costs_least(sample, places):
    """A telehandler and its operator, twice: at $9,000 a day the shorter rest is worth both."""
    scope, tables, on = sample
    dear = with_a_day_worth(scope, 9_000, *places)
    (one,) = ways((dear, tables, on), 1.0, "58.2")
    compared = compare(dear, tables, on, FILL, least_methods=1)
    planned = compared.as_written[0]
    whole = float(planned.quantity[0])
    pace = ObservedPace(1, whole - 232.89, whole / float(planned.days[0]), 0.0, False)
    course = changed_course(compared, 0, pace)
    second = with_one_more(compared, 0, pace)
    saved = course.going_on.in_all - second.in_all
    assert second.in_all < course.best.in_all
    assert one.cents == int(100 * saved)
    assert one.sentence == (
        f"30.020 Stone fill: the 232.89 tons left cost ${saved:,.2f} less with one more bucket "
        "(equipment operator, telehandler) and its delivery from Tuesday than going on at the "
        f"hours so far (${second.in_all:,.2f} against ${course.going_on.in_all:,.2f}, at the rates "
        "of the estimate, with the worth of their days)"
    )


def test_of_the_only_method_nothing_is_said_where_one_more_machine_does_not_pay(sample):
    scope, tables, on = sample
    assert ways((with_a_day_worth(scope, 0, 0), tables, on), 3.0, "58.2") == ()


def test_a_rest_with_two_machines_is_priced_as_the_estimate_prices_two(sample):
    """At the pace of the plan: the share of the hours of two machines, and one more delivery."""
    scope, tables, on = sample
    compared = compare(scope, tables, on, FILL)
    planned = compared.as_written[0]
    whole, days = float(planned.quantity[0]), float(planned.days[0])
    second = with_one_more(compared, 0, ObservedPace(1, whole / 2, whole / days, 0.0, False))
    two = Changes(
        steps=StepTimes(carriers={"carriers": np.asarray(2.0)}), mobilization=np.asarray(460.0)
    )
    rest = method_prices(rest_of(compared.prepared[0], 0.5), two)
    assert second.days == pytest.approx(float(rest.days[0]), rel=0.02)
    assert float(second.full) == pytest.approx(float(rest.full_cents[0]) / 100, rel=0.05)


def test_nobody_knows_what_a_second_machine_brings_where_the_scope_does_not_say(sample):
    compared = compare(*sample, FILL)
    pace = ObservedPace(1, 100.0, 50.0, 0.0, False)
    assert [with_one_more(compared, place, pace) is None for place in range(5)] == [
        False, True, False, False, False,
    ]  # fmt: skip


def test_what_is_done_or_more_than_the_scope_has_left_says_nothing(sample):
    assert ways(sample, 3.0, "291.09") == ()
    assert ways(sample, 3.0, "10", expected="900") == ()


def test_it_stands_among_what_needs_attention_by_what_it_saves(sample):
    better = ways(sample, 3.0, "58.2")
    shown = with_outlook(report("58.2"), Outlook(None, (), "", better))
    assert shown.attention == better


def test_another_way_begins_on_the_next_working_day(sample):
    monday = replace(report("58.2"), as_of=date(2026, 5, 18))
    (one,) = better_ways_on(monday, record(3), *sample)
    assert " from Tuesday than going on " in one.sentence
