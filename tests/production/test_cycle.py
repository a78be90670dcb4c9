"""Cycles: how long steps take, and what is said of one that takes no time."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import ProductionFaulty
from estimator.production.cycle import (
    FlowStep,
    Load,
    Step,
    TravelStep,
    cycle_minutes,
    flow_minutes,
    passes_that_fit,
    travel_minutes,
)


def test_a_cycle_is_the_sum_of_its_steps():
    cycle = (Step("load", 2.0), TravelStep("haul", 880.0, 5.0), FlowStep("throw", 45.0, "ton"))
    assert cycle_minutes(cycle, Load(18.0, "ton")) == pytest.approx(28.0)


def test_a_larger_load_takes_a_flow_longer_and_a_fixed_step_the_same():
    assert FlowStep("throw", 45.0, "ton").minutes_for(Load(9.0, "ton")) == pytest.approx(12.0)
    assert Step("load", 2.0).minutes_for(Load(9.0, "ton")) == 2.0


def test_a_flow_in_pounds_takes_a_load_in_tons():
    assert FlowStep("throw", 90_000.0, "lb").minutes_for(Load(18.0, "ton")) == pytest.approx(24.0)


@pytest.mark.parametrize(
    ("flow", "load"), [("cy", "ton"), ("sf", "cy"), ("bag", "block"), ("fraction", "bag")]
)
def test_a_flow_of_another_kind_than_the_load_is_refused(flow, load):
    with pytest.raises(ProductionFaulty, match=f"counts {flow} but the load is in {load}"):
        FlowStep("place", 20.0, flow).minutes_for(Load(8.0, load))


@pytest.mark.parametrize("wrong", [0.0, -1.0, math.nan, math.inf, 1e12, 1e-12, None, True])
def test_a_time_a_rate_and_a_load_are_above_zero_and_finite(wrong):
    for make in (
        lambda: Step("load", wrong),
        lambda: FlowStep("throw", wrong, "ton"),
        lambda: Load(wrong, "ton"),
        lambda: travel_minutes(wrong, 5.0),
        lambda: travel_minutes(100.0, wrong),
        lambda: flow_minutes(wrong, 5.0),
        lambda: passes_that_fit(wrong, 1.0),
    ):
        with pytest.raises(ProductionFaulty, match=": is "):
            make()


def test_a_step_tells_its_name_and_all_its_faults():
    with pytest.raises(ProductionFaulty) as refusal:
        FlowStep("throw", -4.0, "tuns")
    assert [fault.where for fault in refusal.value.faults] == [
        "step 'throw', rate_per_hr",
        "step 'throw'",
    ]
    assert "unknown unit 'tuns'" in str(refusal.value)


def test_three_buckets_of_seven_tenths_fit_where_floats_see_two():
    assert passes_that_fit(2.1, 0.7) == 3
    assert passes_that_fit(2.09, 0.7) == 2


def test_a_bucket_larger_than_the_body_is_refused():
    with pytest.raises(ProductionFaulty, match="bucket: holds more than the body"):
        passes_that_fit(2.0, 2.5)


@given(st.floats(1.0, 50_000.0), st.floats(0.5, 60.0))
def test_twice_the_way_takes_twice_as_long_and_twice_the_speed_half(distance_ft, speed_mph):
    once = travel_minutes(distance_ft, speed_mph)
    assert travel_minutes(2 * distance_ft, speed_mph) == pytest.approx(2 * once)
    assert travel_minutes(distance_ft, 2 * speed_mph) == pytest.approx(once / 2)
