import numpy as np
import pytest

from estimator.errors import GeometryFaulty
from estimator.quantity.takeoff.masonry import joint_lf_per_sf, repointing_mortar_cf
from tests.quantity.shapes import no_dimensions


def test_a_coursed_wall_has_one_bed_joint_a_course_and_one_head_joint_a_unit():
    # 12 x 6 in units, 5.5 in high: two beds of 1 ft, two heads of 5.5 in
    assert joint_lf_per_sf(12.0, 6.0, 5.5) == pytest.approx(2.9166666667, rel=1e-9)


def test_mortar_fills_the_joint_it_was_raked_from():
    assert repointing_mortar_cf(144.0, 0.5, 1.0) == 0.5


def test_a_sound_wall_takes_no_mortar():
    assert repointing_mortar_cf(0.0, 0.5, 1.0) == 0.0


def test_a_unit_higher_than_its_course_is_refused():
    with pytest.raises(GeometryFaulty, match="unit_height_in: is more than the height"):
        joint_lf_per_sf(8.0, 2.25, 8 / 3)


@pytest.mark.parametrize("wrong", [*no_dimensions, 0.0])
@pytest.mark.parametrize(
    "count",
    [
        lambda x: joint_lf_per_sf(x, 8, 7),
        lambda x: repointing_mortar_cf(10, x, 1),
    ],
)
def test_what_is_no_dimension_is_no_masonry(count, wrong):
    with pytest.raises(GeometryFaulty):
        count(wrong)


def test_walls_are_taken_together():
    np.testing.assert_array_equal(repointing_mortar_cf([144.0, 0.0], 0.5, 1.0), [0.5, 0.0])
