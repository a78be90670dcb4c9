"""How a fill rises, and the day on which it reaches a level."""

import numpy as np
import pytest

from estimator.errors import ScopeFaulty
from estimator.pricing.pace_notes import pace_notes
from estimator.scope.methods.rising_fill import rising_fill
from estimator.scope.scope_digest import scope_digest
from estimator.studies.comparison.comparison import compare
from estimator.studies.comparison.level_sentences import rising_sentences
from tests.factories import SPRING, scope_of
from tests.scope.methods.choices import BY_HAND, DIG, PIT, PUMP, shipped

MARKS = {"top": "100 ft", "marks": ["97 ft", "98 ft"]}


def fill_scope(depth, level=MARKS, methods=(BY_HAND, DIG, PUMP), **more):
    one = {
        "code": "010", "name": "Fill", "assembly": "stone-fill-barrows",
        "inputs": {**PIT, "depth": depth}, "methods": list(methods), **more,
    }  # fmt: skip
    return scope_of(shipped(), {"30": [one | ({} if level is None else {"level": level})]})


def rise_of(depth, place=0):
    scope = fill_scope(depth, MARKS if depth in ("4 ft", ["1 ft", "7 ft"]) else "100 ft")
    (item,) = scope.items
    fill = rising_fill(item.methods[place], scope.shift, item.level)
    assert fill is not None
    return fill


def test_a_level_floor_fills_evenly():
    """4 ft deep, 100.8 tons at 28 tons a day by hand: 3.6 days, 1.11 ft a day.

    97 ft is 1 ft up: 0.9 of a day; 98 ft 2 ft up: 1.8 days, so on the second.
    """
    fill = rise_of("4 ft")
    assert fill.days == pytest.approx(3.6)
    assert fill.feet_per_day == pytest.approx(1.1111, abs=1e-4)
    assert [fill.day_of(mark) for mark in fill.level.marks] == [1, 2]
    assert fill.day_of(fill.level.top) == 4


def test_a_floor_that_slopes_fills_from_its_deepest_point():
    """1 ft to 7 ft deep: h feet above the deepest hold h squared / 12 of the 4 ft, up to 6 ft.

    97 ft is 4 ft up, a third of the whole: 16 / 12 / 4; 98 ft 5 ft up, 25 / 48 of it.
    """
    fill = rise_of(["1 ft", "7 ft"])
    shares = [fill.share_below(mark) for mark in fill.level.marks]
    assert shares == pytest.approx([16 / 48, 25 / 48], abs=0.0001)
    assert [fill.day_of(mark) for mark in fill.level.marks] == [2, 2]
    assert fill.feet_per_day == pytest.approx(7 / 3.6)


@pytest.mark.parametrize("depth", [["0 ft", "8 ft"], ["8 ft", "0 ft"]])
def test_the_share_below_a_level_is_exact_on_an_even_slope(depth):
    fill = rise_of(depth)
    exact = fill.heights_ft**2 / 64.0
    assert np.abs(fill.shares - exact).max() < 0.0001


@pytest.mark.parametrize("corners", [(0, 4, 8, 4), (1, 2, 9, 5), (0, 0, 0, 8), (6, 6, 6, 7)])
def test_the_share_below_a_level_is_within_a_percent_between_corners(corners):
    """Against a floor of 400 x 400 spots between the corners."""
    fill = rise_of([f"{one} ft" for one in corners])
    along = (np.arange(400) + 0.5) / 400
    first = corners[0] + (corners[1] - corners[0]) * along
    other = corners[3] + (corners[2] - corners[3]) * along
    floor = first[:, None] + (other - first)[:, None] * along
    for height in (0.5, 1.5, 3.0, 4.5, 6.0):
        below = np.maximum(floor - (max(corners) - height), 0.0).sum() / floor.sum()
        share = float(np.interp(height, fill.heights_ft, fill.shares))
        assert share == pytest.approx(below, abs=0.01)


def test_lifts_that_wait_for_each_other_go_up_a_lift_a_day():
    """7 ft in lifts of 3 ft are three lifts, three days: 97 ft is 4 ft up, 4 / 7 of 3 days."""
    fill = rise_of(["1 ft", "7 ft"], place=2)
    assert fill.days == 3.0
    assert [fill.day_of(mark) for mark in fill.level.marks] == [2, 3]


def test_the_level_of_a_share_is_where_the_share_is_below_it():
    fill = rise_of(["1 ft", "7 ft"])
    for mark in fill.level.marks:
        assert fill.level_ft(fill.share_below(mark)) == pytest.approx(mark.base_value, abs=0.001)
    assert fill.level_ft(1.0) == pytest.approx(100.0)
    assert fill.level_ft(0.0) == pytest.approx(93.0, abs=0.05)


def test_an_estimate_says_how_fast_a_fill_rises():
    assert pace_notes(fill_scope("4 ft"))[-1] == (
        "30.010 rises 1.11 ft a day on average where it is deepest: 97 ft is reached on day 1, "
        "98 ft is reached on day 2, its top, 100 ft, on day 4 of the work, at an even pace"
    )
    assert not any("rises" in note for note in pace_notes(fill_scope("4 ft", None)))


def test_a_comparison_says_it_of_each_method():
    compared = compare(fill_scope("4 ft"), shipped(), SPRING, "30.010")
    sentences = rising_sentences(compared)
    assert [one.partition(":")[0] for one in sentences] == [
        "Carrying it in", "Wheeling it in", "Pumping fill",
    ]  # fmt: skip
    assert "its top, 100 ft, on day 4 of the work" in sentences[0]
    assert rising_sentences(compare(fill_scope("4 ft", None), shipped(), SPRING, "30.010")) == ()


@pytest.mark.parametrize("depth", ["4 ft", ["1 ft", "7 ft"]])
def test_a_level_is_reached_on_its_day_and_not_the_day_before(depth):
    """By the days that a fill up to the level takes, as the same share of the work."""
    fill = rise_of(depth)
    for mark in (*fill.level.marks, fill.level.top):
        days = fill.days * fill.share_below(mark)
        assert fill.day_of(mark) - 1 < days + 1e-6
        assert days <= fill.day_of(mark)


def test_levels_are_in_the_digest_of_a_scope():
    levels = [None, "100 ft", "101 ft", MARKS]
    assert len({scope_digest(fill_scope("4 ft", level)) for level in levels}) == 4


@pytest.mark.parametrize(
    ("level", "message"),
    [
        ("100", "has no unit"),
        ("3 ton", "'3 ton' is a weight"),
        ({"marks": ["97 ft"]}, "top is missing"),
        ({"top": "100 ft", "mark": ["97 ft"]}, "unknown key 'mark' in level"),
        ({"top": "100 ft", "marks": "97 ft"}, "marks is not a list"),
        ({"top": "100 ft", "marks": ["high"]}, "mark 1"),
        ({"top": "100 ft", "marks": ["96 ft"]}, "mark 1 '96 ft' is not between the deepest point"),
        ({"top": "100 ft", "marks": ["101 ft"]}, "the top is at 100 ft, the depth 4.00 ft at most"),
        (["100 ft"], "level is not a set of keys"),
    ],
    ids=str,
)
def test_each_fault_of_a_level_is_reported(level, message):
    with pytest.raises(ScopeFaulty) as refusal:
        fill_scope("4 ft", level)
    assert any(message in str(one) for one in refusal.value.faults), refusal.value.faults


def test_a_level_of_work_without_a_depth_is_reported():
    one = {
        "code": "010", "name": "Survey", "assembly": "engineering-survey",
        "inputs": {"visits": "2 visit"}, "level": "100 ft",
    }  # fmt: skip
    with pytest.raises(ScopeFaulty, match="the item has a level and no depth"):
        scope_of(shipped(), {"30": [one]})
