"""The longest path over arrays: column by column what it is for single lengths."""

from dataclasses import replace
from datetime import date

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from estimator.production.working_calendar import WorkingCalendar
from estimator.scheduling.activities import FINISH, START, Activity, Link
from estimator.scheduling.longest_path import critical_path
from estimator.scheduling.many_dates import calendar_spans, in_days, many_times
from estimator.scheduling.worked_days import WorkedDays

PLAIN = WorkingCalendar(country="")
MONDAY = date(2026, 4, 6)


def drawn(activities, lengths):
    days = WorkedDays(PLAIN, MONDAY)
    return many_times(activities, lambda one: np.array(lengths[one.code], np.float32), days)


def test_concrete_cures_by_the_calendar_whatever_its_length():
    """Poured on Monday, or done on Friday noon: seven days later is Monday, or the Friday after."""
    pour = Activity("pour", "Slab", 0)
    post = Activity("post", "Post", 0, (Link("pour", calendar_days=7),))
    times = drawn([pour, post], {"pour": [100, 450], "post": [100, 100]})
    assert in_days(times.starts["post"]).tolist() == [5.0, 9.0]
    assert in_days(times.finishes["post"]).tolist() == [6.0, 10.0]


def test_what_puts_off_the_end_is_counted_draw_by_draw():
    """The east side takes longer in one draw of four, both alike in one: then both are critical."""
    sides = [Activity(code, code, 0) for code in ("east", "west")]
    roof = Activity("roof", "Roof", 0, (Link("east"), Link("west")))
    lengths = {"east": [300, 100, 100, 200], "west": [200, 200, 200, 200], "roof": [50] * 4}
    critical = drawn([*sides, roof], lengths).critical
    shares = {code: where.mean() for code, where in critical.items()}
    assert shares == {"east": 0.5, "west": 0.75, "roof": 1.0}


@st.composite
def networks(draw):
    activities = []
    for number in range(draw(st.integers(2, 7))):
        others = draw(st.lists(st.sampled_from(range(number)), max_size=2)) if number else []
        links = [
            Link(
                str(other),
                *draw(st.sampled_from([(0, FINISH, 0), (150, FINISH, 0), (0, START, 0),
                                       (0, FINISH, 4), (0, START, 9)])),
            )
            for other in others
        ]  # fmt: skip
        activities.append(Activity(str(number), "", 0, tuple(links)))
    return activities


@settings(max_examples=25, deadline=None)
@given(networks(), st.data())
def test_each_draw_has_the_times_of_the_single_path(activities, data):
    each = st.lists(st.integers(0, 900), min_size=3, max_size=3)
    lengths = {one.code: data.draw(each) for one in activities}
    times = drawn(activities, lengths)
    for number in range(3):
        single = [replace(one, length=lengths[one.code][number]) for one in activities]
        table = critical_path(single, WorkedDays(PLAIN, MONDAY))
        assert {code: int(row[number]) for code, row in times.starts.items()} == table.starts
        assert {code: int(row[number]) for code, row in times.finishes.items()} == table.finishes


@pytest.mark.parametrize(
    ("begun", "done", "spanned"),
    [
        (0, 100, 1),  # Monday, all of it
        (0, 50, 1),
        (0, 0, 1),  # what takes no time is there on its day
        (50, 100, 1),
        (50, 101, 2),  # a hundredth of Tuesday is Tuesday
        (0, 500, 5),
        (400, 501, 4),  # from Friday to Monday
        (500, 600, 1),  # Friday's evening is Monday's morning
    ],
)
def test_days_on_the_calendar_are_counted_from_the_first_day_of_work_to_its_last(
    begun, done, spanned
):
    times = (np.array([one], np.float32) for one in (begun, done))
    assert calendar_spans(WorkedDays(PLAIN, MONDAY), *times).tolist() == [spanned]
