"""The pace of the days so far, and single machines."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import ProductionFaulty
from estimator.production.machine_output import (
    cyclic_output_per_hr,
    machines_to_keep_up,
    roller_output_cy_per_hr,
    trucks_by_field_manual,
)
from estimator.production.placed_so_far import observed_pace, what_now

logs = st.lists(st.floats(0.0, 500.0), min_size=1, max_size=40).filter(lambda log: max(log) > 1.0)


def test_the_pace_is_the_mean_of_all_days_with_those_that_broke_down():
    pace = observed_pace([40.0, 0.0, 50.0])
    assert (pace.days, pace.placed, pace.per_day) == (3, 90.0, 30.0)
    assert pace.deviation == pytest.approx(26.4575, abs=1e-4)
    assert pace.usual_range == pytest.approx((14.7247, 45.2753), abs=1e-4)


def test_the_rest_takes_its_days_at_the_pace_of_the_crew():
    now = what_now([38.0, 46.0, 42.0, 50.0], 290.0, 58.0)
    assert (now.remaining, now.beyond_plan) == (114.0, 0.0)
    assert now.remaining_days == pytest.approx(2.5909, abs=1e-4)
    assert now.remaining_days_range == pytest.approx((2.4473, 2.7524), abs=1e-4)
    assert now.planned_days == pytest.approx(1.9655, abs=1e-4)
    assert now.pace_of_plan == pytest.approx(0.7586, abs=1e-4)


@pytest.mark.parametrize("log", [[42.0], [42.0, 0.0, 0.0], [1e9, 1e-8]])
def test_one_day_that_placed_all_tells_no_spread(log):
    pace = observed_pace(log)
    assert (pace.has_spread, pace.deviation) == (False, 0.0)
    assert what_now(log, 2e8, 40.0).remaining_days_range[0] >= 0.0


def test_what_is_placed_beyond_the_plan_is_told_and_leaves_no_days():
    now = what_now([60.0, 50.0], 100.0, 50.0)
    assert (now.remaining, now.beyond_plan, now.remaining_days) == (0.0, 10.0, 0.0)


@given(logs)
def test_the_order_of_days_does_not_matter(log):
    one, other = observed_pace(log), observed_pace(log[::-1])
    assert one == other


@given(logs, st.floats(1.0, 1e6))
def test_the_days_that_remain_lie_within_their_range(log, quantity):
    now = what_now(log, quantity, 50.0)
    fast, slow = now.remaining_days_range
    assert fast <= now.remaining_days * (1 + 1e-9)
    assert now.remaining_days <= slow * (1 + 1e-9)
    assert math.isfinite(slow)


@pytest.mark.parametrize(
    ("log", "told"),
    [
        ([], "placed_per_day: has 0 days"),
        ([0.0, 0.0], "placed_per_day: is zero on all days: there is no pace yet"),
        ([40.0, -3.0], "placed on day 2: is negative"),
        ([40.0, math.nan], "placed on day 2: is not a finite number"),
        ([1.0] * 10_001, "placed_per_day: has 10001 days"),
    ],
)
def test_a_log_without_a_pace_is_refused(log, told):
    with pytest.raises(ProductionFaulty, match=told):
        observed_pace(log)


def test_a_plan_without_quantity_or_pace_is_refused():
    with pytest.raises(ProductionFaulty) as refusal:
        what_now([40.0], 0.0, math.inf)
    assert [fault.where for fault in refusal.value.faults] == ["quantity", "planned_per_day"]


def test_output_falls_with_the_efficiency_and_rises_with_the_fill():
    assert cyclic_output_per_hr(2.0, 0.5) == 240.0
    assert cyclic_output_per_hr(2.0, 0.5, efficiency=0.5) == 120.0
    assert cyclic_output_per_hr(2.0, 0.5, fill_factor=1.1) == pytest.approx(264.0)


def test_twice_the_passes_halve_a_rollers_output():
    assert roller_output_cy_per_hr(4.0, 2.0, 6.0, 4) == pytest.approx(195.5556, abs=1e-4)
    assert roller_output_cy_per_hr(4.0, 2.0, 6.0, 8) == pytest.approx(97.7778, abs=1e-4)


def test_machines_that_just_keep_up_are_enough():
    assert machines_to_keep_up(8.4, 2.8) == 3
    assert machines_to_keep_up(8.5, 2.8) == 4
    assert trucks_by_field_manual(2.8, 8.4) == 4


@pytest.mark.parametrize(
    ("wrong", "told"),
    [
        (lambda: cyclic_output_per_hr(2.0, 0.0), "cycle_minutes: is zero"),
        (lambda: cyclic_output_per_hr(2.0, 0.5, 1.2), "efficiency: is above 1"),
        (lambda: roller_output_cy_per_hr(5.0, 6.0, 6.0, 0), "passes: is below 1"),
        (lambda: roller_output_cy_per_hr(5.0, -6.0, 6.0, 5), "speed_mph: is negative"),
        (lambda: machines_to_keep_up(math.nan, 1.0), "flow_per_hr: is not a finite number"),
        (lambda: trucks_by_field_manual(5.0, 4.0), "load_minutes: is longer than the whole cycle"),
    ],
)
def test_machines_that_cannot_be_are_refused(wrong, told):
    with pytest.raises(ProductionFaulty, match=told):
        wrong()
