"""What holds of any order: more days off or fewer hands never end it sooner, and links are kept."""

from datetime import date, timedelta

from hypothesis import example, given, settings
from hypothesis import strategies as st

from estimator.production.working_calendar import WorkingCalendar
from estimator.scheduling.activities import FINISH, START, Activity, Link
from estimator.scheduling.crew_chain import with_crew_links
from estimator.scheduling.longest_path import critical_path
from estimator.scheduling.scarce_crews import shortest_order
from estimator.scheduling.worked_days import WorkedDays

MONDAY = date(2026, 4, 6)
CALENDAR = WorkingCalendar(country="")


@st.composite
def jobs(draw):
    """Up to six pieces of work of no length or up to three days, after some of those before."""
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
        length = 50 * draw(st.integers(0, 6))
        needs = {"laborer": draw(st.integers(0, 2))}
        activities.append(Activity(f"{place}", f"{place}", length, links, needs))
    return activities


@st.composite
def chains(draw):
    """Up to six pieces of work, many of no length, with waits of both kinds, for any crew."""
    waits = st.sampled_from(((0, 0), (150, 0), (0, 1), (0, 3), (0, 7)))
    activities = []
    for place in range(draw(st.integers(2, 6))):
        links = []
        for _ in range(draw(st.integers(0, 2)) if place else 0):
            other, from_ = draw(st.integers(0, place - 1)), draw(st.sampled_from((FINISH, START)))
            wait, calendar_days = draw(waits)
            links.append(Link(f"{other}", wait, from_, calendar_days))
        length = draw(st.sampled_from((0, 0, 50, 100, 200)))
        activities.append(Activity(f"{place}", "", length, tuple(links)))
    return activities


def days(calendar=CALENDAR):
    return WorkedDays(calendar, MONDAY)


def end(activities, number, calendar=CALENDAR):
    """Return the last day of work with so many laborers."""
    worked = days(calendar)
    order = shortest_order(activities, {"laborer": number}, days=worked)
    return max(worked.span(order.starts[code], done)[1] for code, done in order.finishes.items())


def without(off):
    """Return a calendar without so many days from the first Monday on."""
    return WorkingCalendar(
        country="", days_off=frozenset(MONDAY + timedelta(days=one) for one in off)
    )


@settings(max_examples=25, deadline=None)
@given(jobs(), st.sets(st.integers(0, 20), max_size=6))
def test_more_days_off_never_end_it_sooner(activities, off):
    assert end(activities, 2, without(off)) >= end(activities, 2)


@settings(max_examples=100, deadline=None)
@given(chains(), st.sets(st.integers(0, 12), max_size=6))
@example(
    [
        Activity("0", "", 0),
        Activity("1", "", 0, (Link("0", calendar_days=3),)),
        Activity("2", "", 0, (Link("1", calendar_days=3),)),
    ],
    {2},
)
def test_with_more_days_off_no_work_begins_sooner_whatever_it_waits_for(activities, off):
    few, all_days = days(without(off)), days()
    later, sooner = (critical_path(activities, each).starts for each in (few, all_days))
    for code in later:
        assert few.first_day(later[code]) >= all_days.first_day(sooner[code])


def test_waits_in_a_row_count_from_the_day_on_which_the_one_before_is_over():
    """From Monday 3 days are Thursday, and 3 more Sunday: work on Monday, the Wednesday off or not.

    A delivery on Monday evening is waited for from Monday, whatever else of no length there is.
    """
    order = Activity("order", "", 100)
    there = Activity("there", "", 0, (Link("order", calendar_days=3),))
    named = Activity("named", "", 0, (Link("there"),))
    begins = Activity("begins", "", 100, (Link("named", calendar_days=3),))
    for calendar, units in ((CALENDAR, 500), (without({2}), 400)):
        table = critical_path([order, there, named, begins], days(calendar))
        assert (table.starts["begins"], set(table.starts)) == (
            units, {"order", "there", "named", "begins"},
        )  # fmt: skip
    noted = Activity("noted", "", 0, (Link("order"),))
    after = Activity("after", "", 100, (Link("noted", calendar_days=3),))
    assert critical_path([order, noted, after], days()).starts["after"] == 300


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
