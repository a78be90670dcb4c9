"""Where the better choice flips: both sides priced, no flip told with both ends."""

from decimal import Decimal
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from estimator.errors import BreakEvenMissing, MethodsFaulty
from estimator.studies.comparison.break_even import (
    break_even,
    turning_points,
    what_would_change_the_choice,
)
from estimator.studies.comparison.curves import cost_curves
from estimator.studies.comparison.varied import varied_named
from tests.scope.methods.choices import BY_HAND, DIG, THROW, pit_choice, sample_choice


def one(comparison, name, low, high, first=0, second=1):
    return break_even(comparison, first, second, varied_named(comparison, name), low, high)


@pytest.mark.parametrize(
    ("item", "name", "low", "high"),
    [
        ("30.020", "truck turnaround", 55, 240),
        ("30.020", "conveyor-truck", 50, 400),
        ("30.020", "wheeling it in by skid steer: mobilization", 0, 5000),
        ("30.020", "depth", 1, 10),
        ("20.010", "recovery", 0, 0.95),
        ("20.010", "reclaimed-plank", 1, 6),
        ("20.010", "day worth", 0, 2000),
        ("20.010", "laborer", 20, 80),
    ],
)
def test_both_sides_of_a_break_even_are_priced_and_the_better_one_changes(item, name, low, high):
    comparison = sample_choice(item)
    found = one(comparison, name, low, high)
    assert low <= found.below.value < found.above.value <= high
    assert found.above.value - found.below.value <= (high - low) * 1e-3
    for side in (found.below, found.above):
        priced = cost_curves(comparison, found.varied, np.array([side.value])).cents[:2, 0]
        assert side.method == int(np.argmin(priced))
        assert sorted(side.costs) == sorted(Decimal(int(c)).scaleb(-2) for c in priced)
    assert found.below.method != found.above.method


def test_where_no_order_is_rounded_both_sides_come_within_a_cent_of_equal():
    # half the crew takes twice the hours: the same labor and stone, and two more days of $50
    small = {**BY_HAND, "name": "two hands", "crew": "laborers",
             "inputs": {"production_rate": "1.75 ton/hr"}}  # fmt: skip
    comparison = pit_choice(small, BY_HAND, day_worth=Decimal(50))
    two, four = comparison.results
    assert four.in_all - two.in_all == -(two.day_cost - four.day_cost)
    found = one(comparison, "carrying it in: mobilization", 0, 500)
    # 100.8 / 1.75 and / 3.5 hr are 7.20 and 3.60 days: $180.00, which 1.19992 of markups carry
    assert found.below.value == pytest.approx(180 / 1.19992, abs=0.02)
    assert max(found.below.gain, found.above.gain) <= Decimal("0.01")


def test_a_break_even_of_straight_lines_is_where_a_library_finds_it():
    comparison = sample_choice("20.010")
    save, scrap = comparison.results

    def difference(worth):
        return float(save.cash - save.kept - scrap.cash) + worth * (
            round(save.days, 2) - round(scrap.days, 2)
        )

    found = one(comparison, "day worth", 0, 2000)
    # 17,8... : (7,721.44 - 16,581.50 + 12,435.50) / (11.88 - 4.32) = 472.94
    assert brentq(difference, 0, 2000) == pytest.approx(472.94, abs=0.01)
    assert found.below.value <= brentq(difference, 0, 2000) <= found.above.value + 0.1


def test_no_change_in_the_range_is_told_with_both_ends():
    comparison = sample_choice("30.020")
    with pytest.raises(BreakEvenMissing) as refusal:
        one(comparison, "truck turnaround", 60, 240, 0, 2)
    told = str(refusal.value)
    assert "wheeling it in by skid steer costs less over the whole range" in told
    assert "at 60 min" in told
    assert "at 240 min" in told
    assert told.count("$") == 4


@pytest.mark.parametrize(("low", "high"), [(5.0, 2.0), (3.0, 3.0), (float("nan"), 3.0)])
def test_an_empty_range_is_refused(low, high):
    with pytest.raises(MethodsFaulty, match="empty"):
        one(sample_choice("30.020"), "depth", low, high)


def test_a_range_beyond_what_a_value_can_be_is_refused():
    with pytest.raises(MethodsFaulty, match="outside what it can be"):
        one(sample_choice("20.010"), "recovery", 0.2, 1.4)


def test_several_changes_come_in_rising_order():
    comparison = pit_choice(DIG, BY_HAND, THROW)
    varied = varied_named(comparison, "width")
    found = turning_points(comparison, varied, 1.0, 60.0)
    values = [point.below.value for point in found]
    assert values == sorted(values)
    winners = [found[0].below.method, *(point.above.method for point in found)]
    assert all(a != b for a, b in pairwise(winners))


def test_what_would_change_the_choice_comes_nearest_first_and_spans_all_sorts():
    found = what_would_change_the_choice(sample_choice("30.020"))
    assert [point.distance for point in found] == sorted(point.distance for point in found)
    names = {point.varied.name for point in found}
    assert {"truck turnaround", "conveyor-truck", "depth", "throw rate"} <= names
    assert all(1.0 <= point.distance <= 2.0 for point in found)


def test_counts_are_varied_by_whole_numbers():
    comparison = sample_choice("20.010")
    varied = varied_named(comparison, "spikes_per_crossing")
    for point in turning_points(comparison, varied, 1, 4):
        assert point.below.value == round(point.below.value)
        assert point.above.value == point.below.value + 1


@given(st.floats(0.05, 0.9), st.floats(0.02, 0.9))
def test_within_any_range_the_sides_agree_with_the_ends(low, width):
    comparison = sample_choice("20.010")
    varied = varied_named(comparison, "recovery")
    high = min(low + width, 0.95)
    if high - low < 1e-3:
        return
    found = turning_points(comparison, varied, low, high)
    ends = cost_curves(comparison, varied, np.array([low, high])).cheapest
    assert (len(found) % 2 == 1) == (ends[0] != ends[1])
