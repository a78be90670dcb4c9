"""The dates of a job: items in order, phases that overlap, crews that are few."""

from datetime import date

import pytest

from estimator.errors import PhaseOrderFaulty
from estimator.pricing.estimate import price
from estimator.production.working_calendar import WorkingCalendar
from estimator.scheduling.job_dates import job_activities, job_schedule, one_more
from estimator.scope.scope import Scope
from tests.factories import SPRING, item, made_tables, scope_with

MONDAY = date(2026, 4, 6)
PLAIN = WorkingCalendar(country="")


@pytest.fixture(scope="module")
def tables(tmp_path_factory):
    return made_tables(tmp_path_factory.mktemp("made"))


def phase(code, *items, **plan):
    return {"code": code, "name": f"Phase {code}", "items": list(items), **plan}


def cut(code, feet):
    """Return an item of the solo crew: 30 ft an hour, eight hours a day."""
    return item(code, "floor-cut", length=f"{feet} ft")


def estimate_of(tables, *phases):
    scope: Scope = scope_with(tables, list(phases))
    return price(scope, tables, SPRING)


def dates(schedule):
    return [(one.code, one.start.day, one.finish.day) for one in schedule.items]


def test_items_follow_one_another_and_a_phase_waits_for_the_one_before(tables):
    """480 ft are two days, 240 ft one: Monday and Tuesday, Wednesday; then Thursday."""
    estimate = estimate_of(
        tables, phase("20", cut("010", 480), cut("020", 240)), phase("30", cut("010", 240))
    )
    schedule = job_schedule(estimate, PLAIN, MONDAY)
    assert dates(schedule) == [("20.010", 6, 7), ("20.020", 8, 8), ("30.010", 9, 9)]
    assert (schedule.start, schedule.finish, schedule.days) == (MONDAY, date(2026, 4, 9), 4.0)
    assert all(one.is_critical for one in schedule.phases)


def test_phases_without_a_wait_overlap_and_the_shorter_has_float(tables):
    estimate = estimate_of(
        tables, phase("20", cut("010", 480)), phase("30", cut("010", 240), after=[])
    )
    schedule = job_schedule(estimate, PLAIN, MONDAY)
    assert dates(schedule) == [("20.010", 6, 7), ("30.010", 6, 6)]
    assert [one.float_days for one in schedule.phases] == [0.0, 1.0]


def test_a_crew_of_one_does_one_thing_at_a_time_and_one_more_is_worth_the_day(tables):
    """Two days and one day of the owner: three days with one pair of hands, two with two."""
    estimate = estimate_of(
        tables, phase("20", cut("010", 480)), phase("30", cut("010", 240), after=[])
    )
    schedule = job_schedule(estimate, PLAIN, MONDAY, {"owner-hand": 1})
    assert (schedule.days, schedule.is_shortest) == (3.0, True)
    waiting = [one for one in schedule.items if one.waits_for]
    assert len(waiting) == 1
    (way,) = one_more(estimate, {"owner-hand": 1}, 310.0)
    assert (way.days, way.worth, way.is_proven) == (1.0, 310.0, True)


def test_enough_crew_gives_the_longest_path(tables):
    estimate = estimate_of(
        tables, phase("20", cut("010", 480)), phase("30", cut("010", 240), after=[])
    )
    free = job_schedule(estimate, PLAIN, MONDAY)
    assert job_schedule(estimate, PLAIN, MONDAY, {"owner-hand": 9}).days == free.days


def test_weekends_and_holidays_are_not_worked(tables):
    """Three days from Friday, July 3, 2026, which the Fourth is observed on: Monday on."""
    estimate = estimate_of(tables, phase("20", cut("010", 720)))
    schedule = job_schedule(estimate, WorkingCalendar(), date(2026, 7, 3))
    assert (schedule.start, schedule.finish) == (date(2026, 7, 6), date(2026, 7, 8))


def test_a_phase_that_states_its_duration_is_one_activity_of_its_likely_length(tables):
    estimate = estimate_of(
        tables, phase("20", cut("010", 480), duration=["4 day", "5 day", "12 day"])
    )
    assert job_schedule(estimate, PLAIN, MONDAY).days == 5.0
    (work,) = [one for one in job_activities(estimate) if one.code == "20"]
    assert dict(work.needs) == {"owner-hand": 1}


def test_a_longer_calendar_never_finishes_earlier(tables):
    estimate = estimate_of(tables, phase("20", cut("010", 2400)))
    six_days = WorkingCalendar(frozenset({"Mon", "Tue", "Wed", "Thu", "Fri", "Sat"}), "")
    ends = [job_schedule(estimate, one, MONDAY).finish for one in (six_days, PLAIN)]
    assert ends == sorted(ends)


def test_work_that_needs_more_than_there_is_and_circles_are_refused(tables):
    estimate = estimate_of(
        tables, phase("20", cut("010", 480), after=["30"]), phase("30", cut("010", 240))
    )
    with pytest.raises(PhaseOrderFaulty, match="goes in a circle"):
        job_schedule(estimate, PLAIN, MONDAY)
