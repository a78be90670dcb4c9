"""The pace of the days so far, and single machines."""

import math

import numpy as np
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
from estimator.production.placed_so_far import observed_pace, pace_of_sum, what_now

logs = st.lists(st.floats(0.0, 500.0), min_size=1, max_size=40).filter(lambda log: max(log) > 1.0)


def test_the_pace_is_the_mean_of_all_days_with_those_that_broke_down():
    pace = observed_pace([40.0, 0.0, 50.0])
    assert (pace.days, pace.placed, pace.per_day) == (3, 90.0, 30.0)
    assert pace.deviation == pytest.approx(26.4575, abs=1e-4)
    # t of 2 degrees for 80 % is 1.8856; 26.4575 / sqrt(3) is 15.2753: 30 +- 28.8033
    assert pace.likely_range == pytest.approx((1.1967, 58.8033), abs=1e-4)


def test_the_rest_takes_its_days_at_the_pace_of_the_crew():
    now = what_now(observed_pace([38.0, 46.0, 42.0, 50.0]), 290.0, 58.0)
    assert (now.remaining, now.beyond_plan) == (114.0, 0.0)
    assert now.remaining_days == pytest.approx(2.5909, abs=1e-4)
    # t of 3 degrees for 80 % is 1.6377; both ends solve (114 - 44 T)^2 = 71.53 (T^2 / 4 + T)
    assert now.remaining_days_range == pytest.approx((2.2324, 3.0350), abs=1e-4)
    assert now.planned_days == pytest.approx(1.9655, abs=1e-4)
    assert now.pace_of_plan == pytest.approx(0.7586, abs=1e-4)


@pytest.mark.parametrize("log", [[42.0], [42.0, 0.0], [38.0, 46.0]])
def test_fewer_than_three_days_tell_no_range(log):
    pace = observed_pace(log)
    assert (pace.has_spread, pace.deviation, pace.likely_range) == (False, 0.0, None)
    assert what_now(pace, 2e8, 40.0).remaining_days_range is None


def test_one_sum_over_many_days_tells_a_pace_without_a_range():
    pace = pace_of_sum(400.0, 9)
    assert (pace.days, pace.placed) == (9, 400.0)
    assert pace.per_day == pytest.approx(44.4444, abs=1e-4)
    assert pace.likely_range is None


def test_days_that_hardly_tell_a_pace_leave_the_slow_end_open():
    now = what_now(observed_pace([42.0, 0.0, 0.0]), 100.0, 40.0)
    assert now.remaining_days_range is not None
    fast, slow = now.remaining_days_range
    assert 0.0 < fast < now.remaining_days
    assert slow == math.inf


def test_equal_days_leave_one_answer():
    now = what_now(observed_pace([40.0, 40.0, 40.0]), 200.0, 40.0)
    assert now.remaining_days_range == pytest.approx((2.0, 2.0))


@pytest.mark.parametrize("days", [3, 5, 10])
def test_the_range_of_the_pace_holds_the_truth_four_times_in_five(days):
    """Days around 44 with a deviation of 8, 20,000 records; three errors of 0.28 % allowed."""
    rng = np.random.default_rng(days)
    records = rng.normal(44.0, 8.0, (20_000, days)).clip(0.0)
    ranges = [observed_pace(record).likely_range for record in records.tolist()]
    holds = [one is not None and one[0] <= 44.0 <= one[1] for one in ranges]
    assert np.mean(holds) == pytest.approx(0.8, abs=0.0085)


@pytest.mark.parametrize("days", [3, 5, 10])
def test_the_rest_takes_the_days_of_its_range_four_times_in_five(days):
    """The same days go on: 400 are left, some nine days; the day on which they are placed.

    The part of a last day varies less than the formula has it, so that a little more is held.
    """
    rng = np.random.default_rng(days)
    records = rng.normal(44.0, 8.0, (4_000, days + 60)).clip(0.0)
    holds = []
    for record in records.tolist():
        now = what_now(observed_pace(record[:days]), sum(record[:days]) + 400.0, 44.0)
        so_far = np.concatenate(([0.0], np.cumsum(record[days:])))
        truth = float(np.interp(400.0, so_far, np.arange(len(so_far))))
        assert now.remaining_days_range is not None
        holds.append(now.remaining_days_range[0] <= truth <= now.remaining_days_range[1])
    assert 0.78 < np.mean(holds) < 0.83


def test_what_is_placed_beyond_the_plan_is_reported_and_leaves_no_days():
    now = what_now(observed_pace([60.0, 50.0]), 100.0, 50.0)
    assert (now.remaining, now.beyond_plan, now.remaining_days) == (0.0, 10.0, 0.0)


@given(logs)
def test_the_order_of_days_does_not_matter(log):
    one, other = observed_pace(log), observed_pace(log[::-1])
    assert one == other


@given(logs, st.floats(1.0, 1e6))
def test_the_days_that_remain_lie_within_their_range(log, quantity):
    now = what_now(observed_pace(log), quantity, 50.0)
    fast, slow = now.remaining_days_range or (0.0, math.inf)
    assert fast <= now.remaining_days * (1 + 1e-9)
    assert now.remaining_days <= slow * (1 + 1e-9)


@pytest.mark.parametrize(
    ("placed", "days", "message"),
    [
        (0.0, 9, "placed: is zero"),
        (400.0, 0, "days: is below 1"),
        (400.0, 2.5, "days: is not a whole number"),
    ],
)
def test_a_sum_without_a_pace_is_refused(placed, days, message):
    with pytest.raises(ProductionFaulty, match=message):
        pace_of_sum(placed, days)


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
        what_now(observed_pace([40.0]), 0.0, math.inf)
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
