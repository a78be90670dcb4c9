"""Over which values each method is cheapest: all of them, told in few intervals, ties as ties."""

from decimal import Decimal
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from estimator.errors import MethodsFaulty
from estimator.studies.comparison.break_even import (
    cheapest_intervals,
    what_would_change_the_choice,
)
from estimator.studies.comparison.curves import cost_curves
from estimator.studies.comparison.runs import MOST_RUNS
from estimator.studies.comparison.sentences import cheapest_sentences
from estimator.studies.comparison.varied import varied_named
from tests.scope.methods.choices import BY_HAND, DIG, THROW, pit_choice, sample_choice

TURNAROUND = "truck turnaround"


def intervals(comparison, name, low, high, methods=None):
    return cheapest_intervals(comparison, varied_named(comparison, name), low, high, methods)


@pytest.mark.parametrize(
    ("item", "name", "low", "high", "step"),
    [
        ("30.020", TURNAROUND, 55, 240, "0.1"),
        ("30.020", "scoop time", 0.5, 9, "0.01"),
        ("30.020", "conveyor-truck", 50, 149, "0.01"),
        ("30.020", "conveyor-truck", 50, 400, "0.1"),
        ("30.020", "wheeling it in by skid steer: mobilization", 0, 5000, "1"),
        ("30.020", "depth", 1, 10, "0.01"),
        ("20.010", "recovery", 0, 0.95, "0.0001"),
        ("20.010", "thickness", 0.75, 0.95, "0.0001"),
        ("20.010", "diesel", 0.2, 0.9, "0.0001"),
        ("20.010", "spikes_per_crossing", 1, 4, "1"),
        ("20.010", "area", 50, 60000, "10"),
    ],
)
def test_the_step_is_the_finest_that_is_printed_or_makes_ten_thousand(item, name, low, high, step):
    comparison = sample_choice(item)
    if name == "diesel":
        comparison, name = sample_choice("30.020"), "diesel"
    found = intervals(comparison, name, low, high)
    assert found.step == Decimal(step)
    assert float(found.intervals[0].first) == pytest.approx(low, abs=float(step))
    assert float(found.intervals[-1].last) == pytest.approx(high, abs=float(step))
    assert all(b.first - a.last == found.step for a, b in pairwise(found.intervals))


def test_where_no_order_is_rounded_both_sides_come_within_a_cent_of_equal():
    # half the crew takes twice the hours: the same labor and stone, and two more days of $50
    small = {**BY_HAND, "name": "two hands", "crew": "laborers",
             "inputs": {"production_rate": "1.75 ton/hr"}}  # fmt: skip
    comparison = pit_choice(small, BY_HAND, day_worth=Decimal(50))
    two, four = comparison.results
    assert four.in_all - two.in_all == -(two.day_cost - four.day_cost)
    found = intervals(comparison, "carrying it in: mobilization", 0, 500)
    # 100.8 / 1.75 and / 3.5 hr are 7.20 and 3.60 days: $180.00, which 1.19992 of markups carry
    assert float(found.intervals[0].last) == pytest.approx(180 / 1.19992, abs=0.1)


def test_a_break_even_of_straight_lines_is_where_a_library_finds_it():
    comparison = sample_choice("20.010")
    save, scrap = comparison.results

    def difference(worth):
        return float(save.cash - save.kept - scrap.cash) + worth * (
            round(save.days, 2) - round(scrap.days, 2)
        )

    found = intervals(comparison, "day worth", 0, 2000)
    # 17,8... : (7,721.44 - 16,581.50 + 12,435.50) / (11.88 - 4.32) = 472.94
    assert brentq(difference, 0, 2000) == pytest.approx(472.94, abs=0.01)
    assert [one.methods for one in found.intervals] == [(0,), (1,)]
    assert (found.intervals[0].last, found.intervals[1].first) == (Decimal(472), Decimal(473))


def test_one_interval_covers_a_range_in_which_nothing_changes():
    found = intervals(sample_choice("30.020"), TURNAROUND, 60, 80)
    assert [(one.first, one.last, one.methods) for one in found.intervals] == [(60, 80, (2,))]
    assert not found.has_change


def test_only_the_methods_that_compete_are_named():
    found = intervals(sample_choice("30.020"), TURNAROUND, 60, 240, (1, 3))
    assert [one.methods for one in found.intervals] == [(1,)]


@pytest.mark.parametrize(("low", "high"), [(5.0, 2.0), (3.0, 3.0), (float("nan"), 3.0)])
def test_an_empty_range_is_refused(low, high):
    with pytest.raises(MethodsFaulty, match="empty"):
        intervals(sample_choice("30.020"), "depth", low, high)


@pytest.mark.parametrize(("low", "high"), [(2.001, 2.004), (1.2, 1.8)])
def test_a_range_between_two_printable_values_is_refused(low, high):
    name, item = ("depth", "30.020") if low > 2.0 else ("spikes_per_crossing", "20.010")
    with pytest.raises(MethodsFaulty, match="has no two values"):
        intervals(sample_choice(item), name, low, high)


def test_a_range_beyond_what_a_value_can_be_is_refused():
    with pytest.raises(MethodsFaulty, match="outside what it can be"):
        intervals(sample_choice("20.010"), "recovery", 0.2, 1.4)


def test_methods_that_cost_the_same_are_reported_as_a_tie():
    comparison = pit_choice({**BY_HAND, "name": "one"}, {**BY_HAND, "name": "other"}, THROW)
    found = intervals(comparison, "conveyor-truck", 600, 700)
    assert (found.intervals[0].methods, found.intervals[0].apart) == ((0, 1), 0)
    assert cheapest_sentences(comparison, found)[0].endswith(
        ", one and other cost the same, and least"
    )


def test_where_a_rate_makes_two_methods_equal_at_one_value_that_value_is_a_tie():
    # the same work by the same crew; one of them is brought for $100, the other for what varies
    twice = ({**BY_HAND, "name": "one", "mobilization": "$100"}, {**BY_HAND, "name": "other"})
    comparison = pit_choice(*twice)
    assert cheapest_sentences(
        comparison, intervals(comparison, "other: mobilization", 60, 150)
    ) == (
        "while mobilization (other) costs between $60.00 and $99.99, other is cheapest",
        "while mobilization (other) costs $100.00, one and other cost the same, and least",
        "while mobilization (other) costs between $100.01 and $150.00, one is cheapest",
    )


def test_the_value_as_written_is_priced_though_it_is_not_printable():
    comparison = sample_choice("30.020")
    found = intervals(comparison, "width", 20, 30)
    base = 22 + 4 / 12
    assert comparison.prepared[2].inputs["width"] == pytest.approx(base)
    here = found.intervals[found.as_written]
    assert float(here.first) <= base <= float(here.last)
    assert intervals(comparison, "width", 23, 30).as_written is None


def test_no_more_than_four_intervals_are_reported_where_one_comes_back():
    comparison = pit_choice(DIG, THROW)
    for name, low, high in [("depth", 0.5, 12), ("length", 10, 400), ("width", 2, 60)]:
        found = intervals(comparison, name, low, high)
        answers = [one.methods for one in found.intervals]
        assert len(answers) <= MOST_RUNS or len(set(answers)) == len(answers)
        assert all(a != b for a, b in pairwise(answers) if len(a) == len(b) == 1)


def test_what_would_change_the_choice_comes_nearest_first_and_spans_all_sorts():
    found = what_would_change_the_choice(sample_choice("30.020"))
    assert [one.distance for one in found] == sorted(one.distance for one in found)
    names = {one.varied.name for one in found}
    assert {TURNAROUND, "conveyor-truck", "depth", "throw rate"} <= names
    assert all(one.has_change and 1.0 <= one.distance <= 2.0 for one in found)


@given(st.floats(0.05, 0.9), st.floats(0.02, 0.9))
def test_within_any_range_the_ends_agree_with_the_curve(low, width):
    comparison = sample_choice("20.010")
    found = intervals(comparison, "recovery", low, min(low + width, 0.95))
    ends = [float(found.intervals[0].first), float(found.intervals[-1].last)]
    best = cost_curves(comparison, found.varied, np.array(ends)).cheapest
    assert best[0] in found.intervals[0].methods
    assert best[1] in found.intervals[-1].methods
