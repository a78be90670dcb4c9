import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import GeometryFaulty
from estimator.quantity.takeoff.lumber_sizes import (
    DRESSED_THICKNESS_IN,
    DRESSED_WIDTH_IN,
    dressed_thickness_in,
    dressed_width_in,
    joist_width_1916_in,
)
from tests.quantity.shapes import no_dimensions


def test_timbers_lose_half_an_inch():
    assert dressed_thickness_in(12.0) == 11.5
    assert dressed_thickness_in(5.0) == 4.5


def test_lists_of_lumber_are_looked_up_together():
    np.testing.assert_array_equal(dressed_thickness_in([1, 2, 8]), [0.75, 1.5, 7.5])
    np.testing.assert_array_equal(joist_width_1916_in([[8.0], [12.0]]), [[7.5], [11.5]])


@pytest.mark.parametrize(
    ("size", "nominal"),
    [(dressed_thickness_in, 1.75), (dressed_width_in, 18), (joist_width_1916_in, [8, 14])],
)
def test_a_size_that_is_not_milled_is_refused(size, nominal):
    with pytest.raises(
        GeometryFaulty, match=r"nominal_in: .* in is not a nominal size of the table"
    ):
        size(nominal)


@pytest.mark.parametrize("wrong", no_dimensions)
@pytest.mark.parametrize("size", [dressed_thickness_in, dressed_width_in, joist_width_1916_in])
def test_what_is_no_dimension_is_no_lumber(size, wrong):
    with pytest.raises(GeometryFaulty):
        size(wrong)


@given(st.sampled_from(sorted(DRESSED_WIDTH_IN)), st.sampled_from(sorted(DRESSED_THICKNESS_IN)))
def test_the_planer_takes_something_off_and_never_an_inch(width, thickness):
    assert 0 < width - dressed_width_in(width) < 1
    assert 0 < thickness - dressed_thickness_in(thickness) < 1
