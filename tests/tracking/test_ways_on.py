"""What would cost less: the rest of an item by another of its methods."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from estimator.opening import SAMPLE_SCOPE, open_scope
from estimator.production.placed_so_far import ObservedPace
from estimator.studies.comparison.changing_course import changed_course
from estimator.studies.comparison.comparison import compare
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


def test_what_is_done_or_more_than_the_scope_has_left_says_nothing(sample):
    assert ways(sample, 3.0, "291.09") == ()
    assert ways(sample, 3.0, "10", expected="900") == ()


def test_it_stands_among_what_needs_attention_by_what_it_saves(sample):
    better = ways(sample, 3.0, "58.2")
    shown = with_outlook(report("58.2"), Outlook(None, (), "", better))
    assert shown.attention == better
