import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import GeometryFaulty
from estimator.quantity.takeoff.mortar import bed_and_head_mortar_cf, cell_grout_cf, pocket_fill_cf
from tests.quantity.shapes import inches, no_dimensions


def test_each_brick_has_a_bed_and_a_head():
    # 3.6 in through, 1/2 in joint: bed 8 in and head 2 in long, 18 cu in a brick
    assert bed_and_head_mortar_cf(96.0, 7.5, 3.6, 2.0, 0.5) == pytest.approx(1.0, rel=1e-12)
    assert bed_and_head_mortar_cf(0.0, 7.5, 3.6, 2.0, 0.5) == 0.0


def test_grout_stands_in_its_cells():
    assert cell_grout_cf(6.0, 36.0, 8.0) == 12.0
    assert cell_grout_cf(0.0, 36.0, 8.0) == 0.0


def test_pockets_are_boxes():
    assert pocket_fill_cf(4.0, 1.0, 1.25, 0.5) == 2.5
    assert pocket_fill_cf(0.0, 1.0, 1.25, 0.5) == 0.0


def test_pockets_are_taken_together():
    np.testing.assert_array_equal(pocket_fill_cf([1.0, 2.0], 1.0, 1.0, 0.5), [0.5, 1.0])


@pytest.mark.parametrize("wrong", no_dimensions)
@pytest.mark.parametrize(
    "volume",
    [
        lambda x: bed_and_head_mortar_cf(x, 1, 1, 1, 1),
        lambda x: bed_and_head_mortar_cf(1, 1, 1, 1, x),
        lambda x: cell_grout_cf(1, x, 1),
        lambda x: pocket_fill_cf(1, 1, x, 1),
    ],
)
def test_what_is_no_dimension_is_no_mortar(volume, wrong):
    with pytest.raises(GeometryFaulty):
        volume(wrong)


@given(st.floats(0, 1e5), inches, inches, inches, st.floats(0.05, 1))
def test_brick_and_mortar_fill_their_wall(number, length, width, height, joint):
    wall = number * (length + joint) * (height + joint) * width / 1728
    brick = number * length * height * width / 1728
    mortar = bed_and_head_mortar_cf(number, length, width, height, joint)
    assert mortar + brick == pytest.approx(wall, rel=1e-9)
    assert mortar >= 0
