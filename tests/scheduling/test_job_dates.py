"""The dates of a job: items in order, phases that overlap, crews that are few."""

from datetime import date

import pytest

from estimator.errors import PhaseOrderFaulty
from estimator.production.working_calendar import WorkingCalendar
from estimator.scheduling.activities_of_job import job_activities
from estimator.scheduling.dated_estimate import price
from estimator.scheduling.days_on_site import on_site
from estimator.scheduling.job_dates import job_schedule
from estimator.scheduling.worth_of_one_more import one_more
from estimator.scope.scope import Scope
from tests.factories import SPRING, item, made_tables, scope_with

MONDAY = date(2026, 4, 6)
PIT = {"length": "60 ft", "width": "20 ft", "depth": "24 in"}
PLAIN = WorkingCalendar(country="")


@pytest.fixture(scope="module")
def tables(tmp_path_factory):
    return made_tables(tmp_path_factory.mktemp("made"))


def phase(code, *items, **plan):
    return {"code": code, "name": f"Phase {code}", "items": list(items), **plan}


def cut(code, feet):
    """Return an item of the solo crew: 30 ft an hour, eight hours a day."""
    return item(code, "floor-cut", length=f"{feet} ft")


def estimate_of(tables, *phases, **head):
    scope: Scope = scope_with(tables, list(phases), **head)
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
        tables,
        phase("20", cut("010", 480)),
        phase("30", cut("010", 240), after=[]),
        day_worth="$310/day",
    )
    schedule = job_schedule(estimate, PLAIN, MONDAY, {"owner-hand": 1})
    assert (schedule.days, schedule.is_shortest) == (3.0, True)
    waiting = [one for one in schedule.items if one.waits_for]
    assert len(waiting) == 1
    (way,) = one_more(estimate, schedule)
    assert (way.days, way.worth, way.is_proven) == (1.0, 310.0, True)
    assert (schedule.finish.day, way.finish.day) == (8, 7)


def test_a_second_machine_is_worth_its_days_and_dollars(tables):
    """160 cy at 1.35 ton are 216, 13.5 hr at 16 ton/hr, 1.69 days; two pits that share a loader."""
    pit = item("010", "stone-fill", length="27 ft", width="20 ft", depth="8 ft")
    phases = phase("20", pit), phase("30", pit, after=[])
    estimate = estimate_of(tables, *phases, day_worth="$310/day")
    (way,) = one_more(estimate, job_schedule(estimate, PLAIN, MONDAY, {"loader": 1}))
    assert (way.resource, way.days, way.is_proven) == ("loader", 1.69, True)
    assert way.worth == pytest.approx(523.90)  # 1.69 x $310


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
    assert dict(work.needs) == {"owner-hand": 1_000}


def test_a_longer_calendar_never_finishes_earlier(tables):
    estimate = estimate_of(tables, phase("20", cut("010", 2400)))
    six_days = WorkingCalendar(frozenset({"Mon", "Tue", "Wed", "Thu", "Fri", "Sat"}), "")
    ends = [job_schedule(estimate, one, MONDAY).finish for one in (six_days, PLAIN)]
    assert ends == sorted(ends)


def test_work_that_needs_more_than_there_is_is_refused(tables):
    estimate = estimate_of(tables, phase("20", item("010", "stone-fill", **PIT)))
    with pytest.raises(PhaseOrderFaulty, match=r"item 20\.010: needs 2 of 'laborer'"):
        job_schedule(estimate, PLAIN, MONDAY, {"laborer": 1})


def test_concrete_cures_by_the_calendar_and_a_notice_runs_by_working_days(tables):
    """Poured on Monday and Tuesday: seven days later is Tuesday, three working days Friday."""
    for wait, day in (("7 days", 14), ("3 working days", 13), ("0 days", 8)):
        estimate = estimate_of(
            tables, phase("20", cut("010", 480)), phase("30", cut("010", 240), wait=wait)
        )
        assert dates(job_schedule(estimate, PLAIN, MONDAY))[1] == ("30.010", day, day)


def test_work_may_start_the_day_that_other_work_starts(tables):
    estimate = estimate_of(
        tables,
        phase("20", cut("010", 240), cut("020", 480)),
        phase("30", cut("010", 240), starts_with=["20.020"]),
    )
    schedule = job_schedule(estimate, PLAIN, MONDAY)
    assert dates(schedule) == [("20.010", 6, 6), ("20.020", 7, 8), ("30.010", 7, 7)]
    assert [one.float_days for one in schedule.items] == [0.0, 0.0, 1.0]


def test_what_runs_along_lasts_as_long_as_those_and_takes_no_hands_from_them(tables):
    estimate = estimate_of(
        tables,
        phase("20", cut("010", 480)),
        phase("30", cut("010", 240)),
        phase("40", cut("010", 60), along=["20", "30"]),
        phase("50", cut("010", 240)),
        crew={"owner-hand": "1"},
    )
    schedule = job_schedule(estimate, PLAIN, MONDAY)
    assert dates(schedule) == [
        ("20.010", 6, 7), ("30.010", 8, 8), ("40.010", 6, 8), ("50.010", 9, 9),
    ]  # fmt: skip
    assert (schedule.items[2].days, schedule.items[2].work_days) == (3.0, 0.25)
    assert schedule.chain == ("20.010", "30.010", "50.010")


def test_calendar_crew_and_first_day_are_those_of_the_scope(tables):
    """Ten hours a day, 300 ft; four days a week from Wednesday, May 27, 2026; Monday is worked."""
    estimate = estimate_of(
        tables,
        phase("20", cut("010", 600)),
        phase("30", cut("010", 300), after=[]),
        calendar={"start": "2026-05-27", "week": "4 days of 10 hr", "days_off": ["2026-05-28"]},
        crew={"owner-hand": "1"},
    )
    schedule = job_schedule(estimate)
    assert (schedule.start, schedule.finish) == (date(2026, 5, 27), date(2026, 6, 2))
    assert (schedule.days, schedule.path_days, schedule.there) == (3.0, 2.0, {"owner-hand": 1})
    assert set(schedule.chain) == {"20.010", "30.010"}


def test_an_item_takes_the_duration_that_it_states(tables):
    estimate = estimate_of(tables, phase("20", {**cut("010", 480), "duration": "6 day"}))
    assert job_schedule(estimate, PLAIN, MONDAY).items[0].work_days == 6.0


def test_who_is_on_the_site_has_the_days_of_the_items(tables):
    pit = item("020", "stone-fill", **PIT)
    estimate = estimate_of(tables, phase("20", cut("010", 480), pit))
    there = {one.resource: one for one in on_site(estimate, job_schedule(estimate, PLAIN, MONDAY))}
    assert there["owner-hand"].start == MONDAY
    assert [stay.item for stay in there["loader"].stays] == ["20.020"]
    assert there["loader"].start == date(2026, 4, 8)
    assert there["loader"].kind == "equipment"
