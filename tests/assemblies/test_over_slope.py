"""Depth lists: the volume is taken over the slope, whole steps at the deepest."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.quantity.depth_profile import end_depths, scattered_depths
from estimator.scheduling.dated_estimate import price
from estimator.studies.comparison.comparison import compare
from estimator.studies.comparison.curves import cost_curves
from estimator.studies.comparison.varied import varied_named
from tests.factories import SPRING, item, scope_of
from tests.scope.methods.choices import BY_HAND, shipped


def quantity_of(assembly, **inputs):
    estimate = price(
        scope_of(shipped(), {"30": [item("010", assembly, **inputs)]}), shipped(), SPRING
    )
    return estimate.items.iloc[0]["quantity"]


def trench(depth):
    return quantity_of("hand-excavation", length="60 ft", width="3 ft", depth=depth, side_slope="1")


def test_a_trench_that_slopes_is_the_volume_over_the_slope_and_not_that_of_the_mean_depth():
    """60 x 3 ft, 1 to 9 ft deep, sides at 1:1: the section is 3 d + d x d.

    The mean of d is 5 ft and that of d x d is (81 + 9 + 1) / 3 = 30.33 sf, so the section is
    45.33 sf and the trench 60 x 45.33 / 27 = 100.74 cy. At 5 ft it would be 60 x 40 / 27 = 88.89.
    """
    assert trench(["1 ft", "9 ft"]) == 100.74
    assert trench("5 ft") == 88.89


def test_four_corners_of_two_ends_are_the_same_as_the_two_ends():
    assert trench(["1 ft", "9 ft", "9 ft", "1 ft"]) == 100.74


def test_spots_of_the_same_slope_give_the_same_volume():
    spots = [["0 ft", "0 ft", "1 ft"], ["0 ft", "3 ft", "1 ft"],
             ["60 ft", "0 ft", "9 ft"], ["60 ft", "3 ft", "9 ft"]]  # fmt: skip
    assert trench({"spots": spots}) == 100.74


@pytest.mark.parametrize("depth", [["2 ft", "6 ft 3 in"], ["3 ft", "3 ft 6 in"], ["2 ft", "2 ft"]])
def test_a_fill_with_upright_sides_is_that_of_its_mean_depth(depth):
    mean = {"6 ft 3 in": "4.125 ft", "3 ft 6 in": "3.25 ft", "2 ft": "2 ft"}[depth[1]]
    one = {"length": "62.5 ft", "width": "22 ft"}
    sloping = quantity_of("stone-fill-skid-steer", depth=depth, **one)
    assert sloping == quantity_of("stone-fill-skid-steer", depth=mean, **one)


def test_lifts_are_counted_at_the_deepest():
    """2 ft to 6 ft 3 in: three lifts of 3 ft, where the mean of 4 ft 1.5 in would make two."""
    fill = item("010", "flowable-fill-pumped", length="60 ft", width="20 ft")
    fill["inputs"] |= {"depth": ["2 ft", "6 ft 3 in"]}
    estimate = price(scope_of(shipped(), {"30": [fill]}), shipped(), SPRING)
    pump = next(one for one in estimate.cost_lines if one.resource == "concrete-pump")
    # 60 x 20 x 4.125 / 27 = 183.33 cy take 9.17 hr at 20 cy/hr, with three set-ups of 1.25 hr
    # 12.92 hr: more than three visits of four hours at least, and paid by the half hour
    assert pump.ordered == 1300
    assert estimate.priced.days[0] == 3.0


def dug(depth):
    dig = item("010", "hand-excavation", length="60 ft", width="3 ft", side_slope="1")
    dig["inputs"] |= {"depth": depth}
    return price(scope_of(shipped(), {"30": [dig]}), shipped(), SPRING)


def test_the_working_over_an_even_slope_can_be_done_again_by_hand():
    """60 x (3 + d) x d / 27 is 8.888889 cy at 1 ft, 88.888889 at 5 ft and 240 at 9 ft.

    (8.888889 + 4 x 88.888889 + 240) / 6 = 604.444445 / 6 = 100.7407.
    """
    assert dug(["1 ft", "9 ft"]).explain("30.010/1").steps[1] == (
        "quantity = trench(length, width, depth, side_slope) = "
        "trench(60 ft, 3 ft, depth, 1), over the slope (8.888889 cy at depth 1 ft "
        "+ 4 x 88.888889 cy at depth 5 ft + 240 cy at depth 9 ft) / 6 = 100.7407 cy"
    )


def test_the_working_over_spot_depths_says_which_figure_is_the_mean():
    spots = {
        "spots": [["0 ft", "0 ft", "1 ft"], ["60 ft", "0 ft", "9 ft"], ["30 ft", "3 ft", "2 ft"]]
    }
    step = dug(spots).explain("30.010/1").steps[1]
    assert "over the slope = " in step
    assert ": the mean of all its depths, where the average depth would make " in step
    assert "and the deepest 240 cy at depth 9 ft; whole steps count at the deepest" in step


def test_whole_steps_are_shown_of_the_deepest():
    fill = item("010", "flowable-fill-pumped", length="60 ft", width="20 ft")
    fill["inputs"] |= {"depth": ["1 ft", "7 ft 3 in"]}
    estimate = price(scope_of(shipped(), {"30": [fill]}), shipped(), SPRING)
    pump = next(one for one in estimate.cost_lines if one.resource == "concrete-pump")
    steps = estimate.explain(f"30.010/{pump.line}").steps
    lifts = next(step for step in steps if step.startswith("lifts = "))
    assert lifts.endswith(", of the deepest: 3 visits at depth 7.25 ft"), lifts


def test_items_that_slope_and_items_that_do_not_are_priced_together_as_alone():
    flat = item(
        "010", "hand-excavation", length="60 ft", width="3 ft", depth="5 ft", side_slope="1"
    )
    steep = item("020", "hand-excavation", length="60 ft", width="3 ft", side_slope="1")
    steep["inputs"] |= {"depth": ["1 ft", "9 ft"]}
    estimate = price(scope_of(shipped(), {"30": [flat, steep]}), shipped(), SPRING)
    assert estimate.items["quantity"].tolist() == [88.89, 100.74]


def test_a_varied_depth_keeps_its_slope():
    fill = {"depth": ["1 ft", "7 ft"]}
    one = {
        "code": "010", "name": "Fill", "assembly": "flowable-fill-pumped", "inputs":
        {"length": "40 ft", "width": "12 ft"} | fill,
        "methods": [{"name": "pumping"}, BY_HAND | {"stands_for": "0.7 cy/ton"}],
    }  # fmt: skip
    comparison = compare(scope_of(shipped(), {"30": [one]}), shipped(), SPRING, "30.010")
    curves = cost_curves(comparison, varied_named(comparison, "depth"), np.array([4.0]))
    assert curves.days[0].tolist() == [3.0]
    assert curves.cents[0].tolist() == [100 * comparison.results[0].in_all]


@given(st.floats(0.0, 30.0), st.floats(0.5, 30.0), st.integers(1, 7))
def test_the_mean_of_every_power_is_that_of_the_slope(one, other, power):
    """The mean of d to the n between a and b is (b^(n+1) - a^(n+1)) / ((n + 1) (b - a))."""
    if abs(one - other) < 1e-3:
        return
    slope, mean = end_depths([one, other]), (one + other) / 2
    found = sum(s * (mean * d) ** power for d, s in zip(slope.relative, slope.shares, strict=True))
    exact = (other ** (power + 1) - one ** (power + 1)) / ((power + 1) * (other - one))
    assert found == pytest.approx(exact, rel=1e-8)
    assert slope.deepest == pytest.approx(max(one, other) / mean)


@given(st.lists(st.tuples(st.floats(0.1, 30.0), st.floats(0.01, 9.0)), min_size=1, max_size=40))
def test_scattered_depths_keep_the_means_of_their_powers(spots):
    depths, shares = (np.array(one) for one in zip(*spots, strict=True))
    profile = scattered_depths(depths, shares, float(depths.max()))
    mean = float(depths @ shares / shares.sum())
    points = mean * np.array(profile.relative)
    for power in range(1, 5):
        exact = float(depths**power @ shares / shares.sum())
        assert float(points**power @ np.array(profile.shares)) == pytest.approx(exact, rel=1e-6)


@pytest.mark.parametrize(("sloped_ends", "quantity"), [("0", "100.74"), ("1", "114.23")])
def test_a_trench_has_upright_ends_and_a_pit_sloped_ones(sloped_ends, quantity):
    """60 x 3 ft, 1 ft to 9 ft deep, sides 1:1: d x (3 + d) x 60 / 27 meant over the slope.

    The mean of d is 5 and of its square 91 / 3: 60 x (15 + 30.3333) / 27 = 100.74. The ends of a
    pit add 3 x d^2 + 4 / 3 x d^3, whose cube has the mean (9^4 - 1) / 32 = 205:
    (91 + 273.3333) / 27 = 13.49.
    """
    dig = item("010", "machine-excavation", length="60 ft", width="3 ft", side_slope="1")
    dig["inputs"] |= {"depth": ["1 ft", "9 ft"], "sloped_ends": sloped_ends}
    estimate = price(scope_of(shipped(), {"30": [dig]}), shipped(), SPRING)
    assert f"{estimate.items['quantity'][0]:.2f}" == quantity
