"""Lifts that go slower, and the hours of hired trucks."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import ProductionFaulty
from estimator.production.hired import hired_hours
from estimator.production.lifts import Lift, time_in_lifts
from estimator.production.pace_range import production_range, time_for
from estimator.production.time_at_work import WorkingTime, whole_loads, working_time
from estimator.production.working_system import with_carriers
from tests.production.four_ways import CONVEYOR_TRUCK, FOUR_WAYS, STONE_TON

LAST_FIFTH_SLOW = (Lift("open pit", 0.8), Lift("under the joists", 0.2, 0.5))


def test_where_placing_limits_the_last_lift_costs_its_full_slowness():
    trucks = with_carriers(CONVEYOR_TRUCK, 6)
    # 273 tons at 20.4545 an hour, over 0.8333
    time = time_in_lifts(STONE_TON, trucks, "opening", LAST_FIFTH_SLOW)
    assert time.at_best.hours == pytest.approx(16.016)


def test_where_one_truck_limits_only_its_own_stay_grows():
    truck = with_carriers(CONVEYOR_TRUCK, 1)
    # 8.1818 an hour with a cycle of 110 minutes, and 5.8442 with one of 154
    time = time_in_lifts(STONE_TON, truck, "opening", LAST_FIFTH_SLOW)
    assert time.at_best.hours == pytest.approx(36.036)
    assert time.loads == 16


@pytest.mark.parametrize("system", FOUR_WAYS, ids=lambda one: one.name)
def test_lifts_at_full_speed_change_nothing(system):
    plain = time_for(100.0, production_range(system))
    placing = system.stations[0].name
    lifted = time_in_lifts(100.0, system, placing, [Lift("a", 0.3), Lift("b", 0.7)])
    assert lifted.at_best.hours == pytest.approx(plain.at_best.hours)
    assert lifted.with_waiting.hours == pytest.approx(plain.with_waiting.hours)


@pytest.mark.parametrize(
    ("lifts", "told"),
    [
        ([], "lifts: are 0; enter 1 to 200"),
        ([Lift("a", 0.5)], r"shares add up to 0\.5 instead of 1"),
        ([Lift("a", 0.6), Lift("b", 0.6)], r"shares add up to 1\.2 instead of 1"),
    ],
)
def test_lifts_that_are_not_the_whole_fill_are_refused(lifts, told):
    with pytest.raises(ProductionFaulty, match=told):
        time_in_lifts(1.0, CONVEYOR_TRUCK, "opening", lifts)


@pytest.mark.parametrize(
    ("share", "factor", "told"),
    [
        (0.0, 1.0, "lift 'top', share: is zero"),
        (1.5, 1.0, "lift 'top', share: is above 1"),
        (0.5, 0.0, "lift 'top', speed_factor: is zero"),
        (0.5, float("inf"), "lift 'top', speed_factor: is not a finite number"),
    ],
)
def test_a_lift_that_cannot_be_is_refused(share, factor, told):
    with pytest.raises(ProductionFaulty, match=told):
        Lift("top", share, factor)


def test_two_trucks_are_paid_for_the_time_they_wait():
    time = time_for(STONE_TON, production_range(CONVEYOR_TRUCK)).with_waiting
    hours = hired_hours(STONE_TON, CONVEYOR_TRUCK, time)
    assert hours.paid == pytest.approx(40.626, abs=1e-3)  # two trucks, 20.313 hours
    assert hours.working == pytest.approx(27.806, abs=1e-3)  # 15.17 loads of 110 minutes
    assert hours.waiting == pytest.approx(6.049, abs=1e-3)
    assert hours.lost == pytest.approx(6.771, abs=1e-3)  # a sixth of every hour
    assert hours.not_worked == pytest.approx(12.820, abs=1e-3)


def test_a_short_last_day_is_paid_to_the_minimum():
    # 16.683 hours: two days of 8 and 0.683 hours, paid as 4, by two trucks
    time = time_for(STONE_TON, production_range(CONVEYOR_TRUCK)).at_best
    hours = hired_hours(STONE_TON, CONVEYOR_TRUCK, time, minimum_hr=4.0)
    assert hours.below_minimum == pytest.approx(6.6333, abs=1e-4)
    assert hours.paid == pytest.approx(40.0)
    assert hours.waiting == pytest.approx(0.0, abs=1e-9)


@given(st.integers(1, 12), st.floats(1.0, 5000.0), st.floats(0.0, 10.0))
def test_every_paid_hour_is_accounted_for(trucks, quantity, minimum_hr):
    system = with_carriers(CONVEYOR_TRUCK, trucks)
    time = time_for(quantity, production_range(system)).with_waiting
    hours = hired_hours(quantity, system, time, minimum_hr)
    there = trucks * time.hours
    assert hours.working + hours.waiting + hours.lost == pytest.approx(there)
    assert hours.paid >= max(there, trucks * time.whole_days * minimum_hr) * (1 - 1e-9)


def test_a_time_that_is_just_long_enough_leaves_no_wait_and_a_second_less_is_refused():
    needed = STONE_TON / 18.0 * 110.0 / 60.0  # hours of one truck, 50 minutes of each worked
    days = needed / 2 / (50 / 60) / 8.0
    hours = hired_hours(STONE_TON, CONVEYOR_TRUCK, WorkingTime(days * 8.0, 8.0))
    assert hours.waiting == pytest.approx(0.0, abs=1e-9)
    with pytest.raises(ProductionFaulty, match="time: is too short for these carriers"):
        hired_hours(STONE_TON, CONVEYOR_TRUCK, WorkingTime(days * 8.0 - 1 / 3600, 8.0))


def test_a_time_in_which_the_trucks_cannot_bring_it_is_refused():
    with pytest.raises(ProductionFaulty, match="time: is too short for these carriers"):
        hired_hours(STONE_TON, CONVEYOR_TRUCK, WorkingTime(10.0, 8.0))
    with pytest.raises(ProductionFaulty, match="minimum_hr: is above 24"):
        hired_hours(STONE_TON, CONVEYOR_TRUCK, WorkingTime(30.0, 8.0), 25.0)


@pytest.mark.parametrize(
    ("hours", "days", "whole", "last"),
    [
        (8.0, 1.0, 1, 0.0),
        (0.5, 0.0625, 1, 0.5),
        (8.4 / 2.8 * 8.0, 3.0, 3, 0.0),
        (20.0, 2.5, 3, 4.0),
    ],
)
def test_hours_become_days_with_a_part_of_the_last(hours, days, whole, last):
    time = WorkingTime(hours, 8.0)
    assert time.days == pytest.approx(days)
    assert (time.whole_days, time.last_day_hr) == (whole, pytest.approx(last))


@pytest.mark.parametrize(
    ("quantity", "rate", "shift", "told"),
    [
        (0.0, 1.0, 8.0, "quantity: is zero"),
        (1.0, -1.0, 8.0, "output_per_hr: is negative"),
        (1.0, 1.0, 24.5, "shift_hr: is above 24"),
        (1.0, 1.0, float("nan"), "shift_hr: is not a finite number"),
    ],
)
def test_time_without_work_rate_or_day_is_refused(quantity, rate, shift, told):
    with pytest.raises(ProductionFaulty, match=told):
        working_time(quantity, rate, shift)


def test_the_last_load_is_a_load_although_it_is_not_full():
    assert [whole_loads(quantity, 18.0) for quantity in (18.0, 18.1, 270.0, 273.0)] == [
        1,
        2,
        15,
        16,
    ]
