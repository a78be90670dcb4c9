"""What holds of any order: more days off or fewer hands never end it sooner, and links are kept."""

from datetime import date, timedelta

from hypothesis import given, settings
from hypothesis import strategies as st

from estimator.production.working_calendar import WorkingCalendar
from estimator.scheduling.activities import START, Activity, Link
from estimator.scheduling.crew_chain import with_crew_links
from estimator.scheduling.longest_path import critical_path
from estimator.scheduling.scarce_crews import shortest_order
from estimator.scheduling.worked_days import WorkedDays

MONDAY = date(2026, 4, 6)
CALENDAR = WorkingCalendar(country="")


@st.composite
def jobs(draw):
    """Up to six pieces of work of up to three days, each after some of those before it."""
    activities = []
    for place in range(draw(st.integers(1, 6))):
        links = tuple(
            Link(
                f"{draw(st.integers(0, place - 1))}",
                from_=draw(st.sampled_from(("finish", "start"))),
                calendar_days=draw(st.sampled_from((0, 0, 3, 7))),
            )
            for _ in range(draw(st.integers(0, 2)) if place else 0)
        )
        length = 50 * draw(st.integers(1, 6))
        needs = {"laborer": draw(st.integers(0, 2))}
        activities.append(Activity(f"{place}", f"{place}", length, links, needs))
    return activities


def days(calendar=CALENDAR):
    return WorkedDays(calendar, MONDAY)


def end(activities, number, calendar=CALENDAR):
    """Return the last day of work with so many laborers."""
    worked = days(calendar)
    order = shortest_order(activities, {"laborer": number}, days=worked)
    return max(worked.span(order.starts[code], done)[1] for code, done in order.finishes.items())


@settings(max_examples=25, deadline=None)
@given(jobs(), st.sets(st.integers(0, 20), max_size=6))
def test_more_days_off_never_end_it_sooner(activities, off):
    fewer = WorkingCalendar(
        country="", days_off=frozenset(MONDAY + timedelta(days=one) for one in off)
    )
    assert end(activities, 2, fewer) >= end(activities, 2)


@settings(max_examples=25, deadline=None)
@given(jobs())
def test_more_hands_never_end_it_later_and_enough_give_the_longest_path(activities):
    few, more, many = (
        shortest_order(activities, {"laborer": number}, days=days()).finish for number in (2, 3, 12)
    )
    assert few >= more >= many == critical_path(activities, days()).finish


@settings(max_examples=25, deadline=None)
@given(jobs(), st.integers(2, 3))
def test_the_chain_of_crews_keeps_within_what_there_is_at_its_latest_times_too(activities, number):
    there = {"laborer": number}
    order = shortest_order(activities, there, days=days())
    table = critical_path(with_crew_links(activities, order.starts, there), days())
    assert table.finish <= order.finish
    latest = {code: start + table.total_float[code] for code, start in table.starts.items()}
    for starts in (table.starts, latest):
        for one in activities:
            busy = sum(
                other.needs["laborer"]
                for other in activities
                if starts[other.code] <= starts[one.code] < starts[other.code] + other.length
            )
            assert busy <= number
            for link in one.links:
                other = next(before for before in activities if before.code == link.after)
                done = starts[link.after] + (0 if link.from_ == START else other.length)
                ready = days().after(done, link.calendar_days, from_start=link.from_ == START)
                assert starts[one.code] >= ready


@settings(max_examples=50, deadline=None)
@given(st.integers(0, 3000), st.integers(0, 30), st.booleans())
def test_the_latest_time_before_a_wait_is_its_inverse(units, wait, from_start):
    worked = days()
    latest = worked.latest(units, wait, from_start=from_start)
    if latest >= 0:
        assert worked.after(latest, wait, from_start=from_start) <= units
    assert worked.after(latest + 1, wait, from_start=from_start) > units
