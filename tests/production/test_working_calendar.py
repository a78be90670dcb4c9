"""From working days to dates and back."""

import math
from dataclasses import replace
from datetime import date, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import CalendarFaulty
from estimator.production.working_calendar import (
    WorkingCalendar,
    days_net_of_weather,
    finish,
    is_working_day,
    next_working_day,
    working_days_between,
)

PLAIN = WorkingCalendar(country="")
FEDERAL = WorkingCalendar()
days = st.dates(date(2020, 1, 1), date(2040, 12, 31))


def test_a_day_of_work_ends_on_the_day_it_starts():
    found = finish(PLAIN, date(2026, 3, 2), 1.0)
    assert (found.first_day, found.last_day) == (date(2026, 3, 2), date(2026, 3, 2))
    assert (found.days_on_site, found.calendar_days) == (1, 1)


@pytest.mark.parametrize(
    ("working_days", "last", "on_site"),
    [(0.3, 2, 1), (5.0, 6, 5), (5.1, 9, 6), (8.4 / 2.8, 4, 3), (10.0, 13, 10)],
)
def test_part_of_a_day_takes_one_more_date(working_days, last, on_site):
    found = finish(PLAIN, date(2026, 3, 2), working_days)
    assert (found.last_day, found.days_on_site) == (date(2026, 3, last), on_site)


def test_a_start_on_saturday_moves_to_monday():
    assert finish(PLAIN, date(2026, 3, 7), 1.0).first_day == date(2026, 3, 9)
    assert next_working_day(PLAIN, date(2026, 3, 9)) == date(2026, 3, 9)


def test_public_holidays_are_days_off_where_they_are_requested():
    thanksgiving = date(2026, 11, 26)
    assert not is_working_day(FEDERAL, thanksgiving)
    assert is_working_day(PLAIN, thanksgiving)
    assert finish(FEDERAL, date(2026, 11, 25), 2.0).last_day == date(2026, 11, 27)


def test_a_state_may_keep_more_days():
    patriots_day = date(2026, 4, 20)
    assert is_working_day(FEDERAL, patriots_day)
    assert not is_working_day(WorkingCalendar(subdivision="MA"), patriots_day)


def test_the_new_year_that_falls_on_saturday_is_kept_in_the_old_year():
    assert not is_working_day(FEDERAL, date(2027, 12, 31))


def test_own_days_off_count_and_a_day_worked_anyway_wins():
    friday, saturday = date(2026, 3, 6), date(2026, 3, 7)
    own = replace(PLAIN, days_off=frozenset([friday]), days_worked=frozenset([saturday]))
    assert not is_working_day(own, friday)
    assert is_working_day(own, saturday)
    assert finish(own, date(2026, 3, 2), 5.0).last_day == saturday


def test_weather_stretches_the_work_of_its_month():
    # March 2026 has 22 working days; 5.5 lost leave each three quarters of itself
    rainy = replace(PLAIN, weather_days=(0.0, 0.0, 5.5, *(0.0,) * 9))
    assert finish(rainy, date(2026, 3, 2), 3.0).days_on_site == 4
    assert finish(rainy, date(2026, 4, 1), 3.0).days_on_site == 3
    assert days_net_of_weather(rainy, date(2026, 3, 1), date(2026, 3, 31)) == 16.5
    assert working_days_between(rainy, date(2026, 3, 1), date(2026, 3, 31)) == 22


def test_a_month_that_weather_takes_whole_is_waited_out():
    frozen = replace(PLAIN, weather_days=(31.0, 31.0, *(0.0,) * 10))
    assert finish(frozen, date(2026, 1, 5), 1.0).last_day == date(2026, 3, 2)


def test_the_working_days_of_a_year_without_holidays_are_261():
    assert working_days_between(PLAIN, date(2026, 1, 1), date(2026, 12, 31)) == 261
    assert working_days_between(FEDERAL, date(2026, 1, 1), date(2026, 12, 31)) == 250


@given(days, st.integers(1, 300))
def test_from_first_to_last_day_lie_the_days_that_were_requested(start, working_days):
    found = finish(FEDERAL, start, float(working_days))
    assert working_days_between(FEDERAL, found.first_day, found.last_day) == working_days
    assert found.first_day >= start
    assert is_working_day(FEDERAL, found.last_day)


@given(days, st.floats(0.1, 300.0), st.floats(0.1, 300.0))
def test_more_work_never_ends_earlier(start, one, other):
    rainy = replace(FEDERAL, weather_days=(4.0,) * 12)
    less, more = sorted([one, other])
    assert finish(rainy, start, less).last_day <= finish(rainy, start, more).last_day


@pytest.mark.parametrize(
    ("change", "told"),
    [
        ({"weekdays": frozenset()}, "weekdays: are missing"),
        ({"weekdays": frozenset(["Mon", "Moonday"])}, "weekdays: 'Moonday' is not a weekday"),
        ({"country": "XX"}, "country: no public holidays are known for 'XX'"),
        ({"subdivision": "ZZ"}, "country: no public holidays are known for 'US ZZ'"),
        ({"weather_days": (1.0,) * 11}, "weather_days: has 11 numbers; give one for each month"),
        ({"weather_days": (-1.0,) * 12}, "weather_days of month 1: is negative"),
        ({"weather_days": (math.nan,) * 12}, "weather_days of month 12: is not a finite number"),
        ({"weather_days": (40.0,) * 12}, "weather_days of month 1: are more than the month has"),
        ({"days_off": frozenset([date(1492, 10, 12)])}, "date: 1492-10-12 is out of range"),
        ({"days_off": frozenset(["2026-03-05"])}, "date: '2026-03-05' is not a plain date"),
    ],
)
def test_a_calendar_that_cannot_be_is_refused(change, told):
    with pytest.raises(CalendarFaulty, match=told):
        replace(FEDERAL, **change)


@pytest.mark.parametrize("wrong", [0.0, -1.0, math.nan, math.inf, 10_001.0])
def test_working_days_that_cannot_be_are_refused(wrong):
    with pytest.raises(CalendarFaulty, match="working_days: is "):
        finish(PLAIN, date(2026, 3, 2), wrong)


def test_work_that_weather_never_lets_end_is_refused():
    drowned = replace(PLAIN, weather_days=(31.0,) * 12)
    with pytest.raises(CalendarFaulty, match="does not end within 60 years of 2026-03-02"):
        finish(drowned, date(2026, 3, 2), 1.0)


def test_dates_in_the_wrong_order_and_times_of_day_are_refused():
    with pytest.raises(CalendarFaulty, match="2026-03-01 lies before 2026-03-02"):
        working_days_between(PLAIN, date(2026, 3, 2), date(2026, 3, 1))
    with pytest.raises(CalendarFaulty, match="is not a plain date"):
        is_working_day(PLAIN, datetime(2026, 3, 2, 7))
