import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import RangeFaulty
from estimator.ranges.class_bands import (
    beside_class,
    estimate_class,
    estimate_classes,
    known_fraction,
)
from estimator.ranges.distributions import Uniform
from estimator.ranges.job_ranges import JobRanges
from estimator.ranges.line_ranges import CostRange, LineRange
from estimator.ranges.simulation import simulated_totals


def test_there_are_five_classes_and_each_names_its_source():
    assert [one.number for one in estimate_classes()] == [5, 4, 3, 2, 1]
    assert all(one.source and one.meaning for one in estimate_classes())


def test_bands_narrow_as_more_is_known():
    for less, more in zip(estimate_classes(), estimate_classes()[1:], strict=False):
        assert less.known_from < more.known_from <= less.known_to < more.known_to
        assert less.below > more.below
        assert less.above > more.above


@given(st.floats(0.0, 1.0))
def test_every_share_has_a_class(known):
    assert estimate_class(known).number in range(1, 6)


@pytest.mark.parametrize(
    ("known", "number"),
    [(0.0, 5), (0.015, 5), (0.03, 4), (0.12, 4), (0.2, 3), (0.35, 3), (0.5, 2), (0.7, 2), (0.9, 1)],
)
def test_where_classes_overlap_the_one_that_claims_less_holds(known, number):
    assert estimate_class(known).number == number


@pytest.mark.parametrize("known", [-0.1, 1.1, float("nan")])
def test_a_share_that_is_none_is_refused(known):
    with pytest.raises(RangeFaulty, match=r"known_fraction: .* is not between 0 and 1"):
        estimate_class(known)


def test_what_is_known_counts_by_its_cost():
    assert known_fraction([300, -100, 100], [True, True, False]) == 0.8
    assert known_fraction([], []) == 0.0
    with pytest.raises(RangeFaulty, match="2 lines, but 1 answers"):
        known_fraction([1, 2], [True])


def beside(half_width, number):
    middle = 1_000_000
    line = CostRange("job", Uniform(middle * (1 - half_width), middle * (1 + half_width)))
    of_class = next(one for one in estimate_classes() if one.number == number)
    return beside_class(simulated_totals(JobRanges((line,))), of_class)


def test_ranges_that_are_too_narrow_for_their_class_are_questioned():
    assert beside(0.05, 3) == (
        "P10 to P90 runs from -4 % to +4 % around P50; jobs of class 3 usually run -20 % to -10 % "
        "at the low end, +10 % to +30 % at the high end. The ranges are narrower "
        "than that: are they honest?"
    )


def test_ranges_that_are_wider_than_their_class_ask_for_more_knowledge():
    assert beside(0.5, 3).endswith("The ranges are wider: find out more before you commit.")


def test_ranges_within_the_band_stand_without_comment():
    assert beside(0.2, 3).endswith("+10 % to +30 % at the high end.")


def test_a_job_that_costs_nothing_has_no_class():
    totals = simulated_totals(JobRanges((LineRange("nothing", 0),)))
    assert beside_class(totals, estimate_class(0.5)) == "A job that costs nothing has no class."
