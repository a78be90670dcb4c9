"""Costs over one value and over two: arrays say what single prices say."""

from decimal import Decimal

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.charts.method_chart import method_chart
from estimator.errors import MethodsFaulty, ProductionFaulty
from estimator.studies.comparison.comparison import compare
from estimator.studies.comparison.comparison_json import comparison_fields
from estimator.studies.comparison.curves import cost_curves, cost_map
from estimator.studies.comparison.findings import Variation, findings_of
from estimator.studies.comparison.map_key import map_key
from estimator.studies.comparison.varied import all_varied, varied_named
from tests.factories import SPRING
from tests.scope.methods.choices import (
    BY_HAND,
    DIG,
    THROW,
    pit_choice,
    pit_scope,
    sample_choice,
    shipped,
)


def varied(comparison, name):
    return varied_named(comparison, name)


@given(st.lists(st.integers(55, 400), min_size=1, max_size=5))
def test_a_curve_is_one_price_after_the_other(minutes):
    comparison = sample_choice("30.020")
    turnaround = varied(comparison, "truck turnaround")
    together = cost_curves(comparison, turnaround, np.array(minutes, dtype=float))
    for place, one in enumerate(minutes):
        alone = cost_curves(comparison, turnaround, np.array([float(one)]))
        assert together.cents[:, place].tolist() == alone.cents[:, 0].tolist()


def test_a_value_in_the_curve_costs_what_a_scope_with_that_value_costs():
    comparison = pit_choice(DIG, THROW, BY_HAND)
    curve = cost_curves(comparison, varied(comparison, "haul and return time"), np.array([55.0]))
    production = THROW["production"]
    steps = [{**s, "time": "55 min"} if s["step"] == "haul and return" else s
             for s in production["cycle"]]  # fmt: skip
    other = pit_choice(DIG, {**THROW, "production": {**production, "cycle": steps}}, BY_HAND)
    assert curve.cents[:, 0].tolist() == [int(one.in_all * 100) for one in other.results]


@pytest.mark.parametrize(
    ("name", "value", "written"),
    [("depth", 5.0, {"depth": "5 ft"}), ("settlement", 0.2, {"settlement": "20 %"})],
)
def test_an_input_in_the_curve_costs_what_a_scope_with_it_costs(name, value, written):
    comparison = pit_choice(DIG, THROW, BY_HAND)
    curve = cost_curves(comparison, varied(comparison, name), np.array([value]))
    scope = pit_scope(*({**one, "inputs": written} for one in (DIG, THROW, BY_HAND)))
    item = scope.items[0]
    item.inputs.update(item.methods[0].inputs)
    other = compare(scope, shipped(), SPRING, "30.010")
    assert curve.cents[:, 0].tolist() == [int(one.in_all * 100) for one in other.results]


def test_a_rate_in_the_curve_moves_only_the_methods_that_use_it():
    comparison = pit_choice(DIG, THROW, BY_HAND)
    curve = cost_curves(comparison, varied(comparison, "conveyor-truck"), np.array([0.0, 500.0]))
    assert curve.cents[0, 0] == curve.cents[0, 1]
    assert curve.cents[1, 0] < curve.cents[1, 1]
    assert curve.cheapest.shape == (2,)


def test_all_methods_that_are_cheapest_at_a_value_are_named():
    comparison = pit_choice(*({**BY_HAND, "name": name} for name in ("one", "two")), THROW)
    curve = cost_curves(comparison, varied(comparison, "conveyor-truck"), np.array([0.0, 900.0]))
    assert (curve.cheapest_at(0), curve.cheapest_at(1)) == ((2,), (0, 1))


def test_longer_turnarounds_never_make_a_method_faster():
    comparison = sample_choice("30.020")
    minutes = np.linspace(55.0, 400.0, 200)
    days = cost_curves(comparison, varied(comparison, "truck turnaround"), minutes).days
    assert np.all(np.diff(days[2]) > 0.0)


def test_a_map_holds_the_curves_of_both_values():
    comparison = sample_choice("30.020")
    x, y = varied(comparison, "truck turnaround"), varied(comparison, "day worth")
    minutes, worth = np.array([60.0, 95.0, 180.0]), np.array([0.0, 310.0])
    found = cost_map(comparison, x, y, minutes, worth)
    assert found.cents.shape == (5, 2, 3)
    assert found.cents[:, 1, :].tolist() == cost_curves(comparison, x, minutes).cents.tolist()
    assert found.cents[:, :, 1].tolist() == cost_curves(comparison, y, worth).cents.tolist()


def test_two_times_of_one_system_vary_together():
    comparison = sample_choice("30.020")
    x, y = varied(comparison, "throw rate"), varied(comparison, "truck turnaround")
    found = cost_map(comparison, x, y, np.array([30.0, 100.0]), np.array([95.0, 120.0]))
    alone = cost_curves(comparison, y, np.array([95.0, 120.0]))
    assert found.cents[:, :, 1].tolist() == alone.cents.tolist()


def test_one_value_cannot_be_both_axes():
    comparison = sample_choice("30.020")
    x = varied(comparison, "depth")
    with pytest.raises(MethodsFaulty, match="varied twice"):
        cost_map(comparison, x, x, np.array([1.0]), np.array([2.0]))


@pytest.mark.parametrize("values", [[], [np.nan], [np.inf], [-1.0], [0.0, 0.0]])
def test_values_that_cannot_be_are_refused(values):
    comparison = sample_choice("30.020")
    with pytest.raises(MethodsFaulty):
        cost_curves(comparison, varied(comparison, "depth"), np.array(values))


def test_a_turnaround_shorter_than_the_time_at_stations_is_refused():
    comparison = sample_choice("30.020")
    with pytest.raises(MethodsFaulty, match="outside what it can be; expected 41 to"):
        cost_curves(comparison, varied(comparison, "truck turnaround"), np.array([40.0]))
    x, y = varied(comparison, "throw rate"), varied(comparison, "truck turnaround")
    with pytest.raises(ProductionFaulty, match="shorter than the time at its stations"):
        cost_map(comparison, x, y, np.array([10.0]), np.array([95.0]))


def test_a_map_of_more_than_a_million_points_is_refused():
    comparison = pit_choice(DIG, BY_HAND)
    x, y = varied(comparison, "depth"), varied(comparison, "day worth")
    with pytest.raises(MethodsFaulty, match="1,002,001 points"):
        cost_map(comparison, x, y, np.linspace(1, 9, 1001), np.linspace(0, 9, 1001))


@pytest.mark.parametrize("item", ["30.020", "20.010"])
def test_everything_that_can_vary_gives_todays_costs_at_todays_value(item):
    comparison = sample_choice(item)
    written = [int(one.in_all * 100) for one in comparison.results]
    for one in all_varied(comparison):
        curve = cost_curves(comparison, one, np.array([one.base]))
        assert curve.cents[:, 0].tolist() == written, one.name


def test_a_day_worth_nothing_leaves_the_full_cost():
    comparison = pit_choice(DIG, BY_HAND, day_worth=Decimal(310))
    curve = cost_curves(comparison, varied(comparison, "day worth"), np.array([0.0]))
    full = [int((one.cash + one.own - one.kept) * 100) for one in comparison.results]
    assert curve.cents[:, 0].tolist() == full


def test_ties_of_a_map_have_marks_of_their_own():
    """Two methods by hand cost the same everywhere; at no rent of the trucks throwing is less."""
    comparison = pit_choice(*({**BY_HAND, "name": name} for name in ("one", "two")), THROW)
    x, y = varied(comparison, "conveyor-truck"), varied(comparison, "day worth")
    found = cost_map(comparison, x, y, np.array([0.0, 900.0]), np.array([0.0]))
    assert found.cheapest.tolist() == [[2, 3]]
    assert map_key(comparison, found) == (
        ("1", "one"), ("2", "two"), ("3", "throwing it in"), ("a", "one and two cost the same"),
    )  # fmt: skip
    chosen = (
        Variation("conveyor-truck", "$0/hr", "$900/hr"),
        Variation("day worth", "$0/day", "$1/day"),
    )
    findings = findings_of(comparison, chosen)
    fields = comparison_fields(comparison, findings)["map"]
    assert fields["ties"] == [["one", "two"]]
    assert (fields["cheapest"][0][0], fields["cheapest"][0][-1]) == (2, 3)
    assert b"one and two cost the same" in method_chart(comparison, findings, "svg")
