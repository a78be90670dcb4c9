"""Brick, block and repointing mortar against technical notes and a training manual."""

import pytest

from estimator.quantity.takeoff.brickwork import brick_per_sf
from estimator.quantity.takeoff.masonry import joint_lf_per_sf, repointing_mortar_cf
from tests.published.source import published

BIA_10 = "BIA Technical Note 10, Dimensioning and Estimating Brick Masonry"


@published(source=BIA_10, section="modular brick, wall-area method", status="seen")
def test_modular_brick_are_675_to_a_hundred_square_feet():
    assert 100 * brick_per_sf(7.625, 8 / 3 - 0.375, 0.375) == pytest.approx(675.0, rel=1e-12)


@published(source=BIA_10, section="other modular sizes", status="from memory")
@pytest.mark.parametrize(
    ("length_in", "height_in", "number"),
    [
        (8.0, 3.2, 562.5),
        (8.0, 4.0, 450.0),
        (12.0, 2.0, 600.0),
        (12.0, 8 / 3, 450.0),
        (12.0, 4.0, 300.0),
    ],
)
def test_engineer_economy_roman_norman_and_utility_brick_count_by_their_face(
    length_in, height_in, number
):
    face = (length_in - 0.375, height_in - 0.375)
    assert 100 * brick_per_sf(*face, 0.375) == pytest.approx(number, rel=1e-12)


@published(
    source="NAVEDTRA 14045, Builder Advanced, quoting NAVFAC P-405 (edition not recorded)",
    section="block of a 20 by 8 ft building, 8 ft high",
    status="seen",
)
def test_a_building_with_448_square_feet_of_wall_takes_504_block():
    wall_sf = (20.0 + 8.0) * 2 * 8.0
    assert wall_sf * brick_per_sf(15.625, 7.625, 0.375) == pytest.approx(504.0, rel=1e-12)


@published(
    source="Modular brick of 2 1/4 in in courses of 2 2/3 in",
    section="4.5 lf of bed and 1.266 lf of head joint a square foot",
    status="derived",
)
def test_a_square_foot_of_modular_brick_has_nearly_six_feet_of_joint():
    assert joint_lf_per_sf(8.0, 8 / 3, 2.25) == pytest.approx(4.5 + 1.265625, rel=1e-12)


@published(
    source="NPS Preservation Brief 2, Repointing Mortar Joints",
    section="joint preparation: rake out 2 to 2 1/2 times the width",
    status="derived",
    note="the depth was read, the volume derived; before waste",
)
@pytest.mark.parametrize(
    ("rake_depth_in", "mortar_cf"), [(2 * 0.375, 1.12610), (2.5 * 0.375, 1.40763)]
)
def test_a_hundred_square_feet_of_modular_brick_repoint_with_over_a_foot_of_mortar(
    rake_depth_in, mortar_cf
):
    joint_lf = 100 * joint_lf_per_sf(8.0, 8 / 3, 2.25)
    mortar = repointing_mortar_cf(joint_lf, 0.375, rake_depth_in)
    assert mortar == pytest.approx(mortar_cf, abs=1e-5)
