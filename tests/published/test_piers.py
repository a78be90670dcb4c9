"""Round and belled piers against a federal tutorial on drilled shafts and an estimating text."""

import pytest

from estimator.quantity.takeoff.concrete_parts import belled_pier_cf, round_pier_cf
from tests.published.source import published

FHWA = "FHWA, Drilled Shafts, inspectors' tutorial (edition not recorded)"
TEXT = "Source not recorded: a college text on estimating in building construction"


@published(source=FHWA, section="ch. 9, theoretical volume", status="seen")
@pytest.mark.parametrize(
    ("diameter_in", "length_ft", "printed_cy"), [(36.0, 50.0, 13.09), (42.0, 75.0, 26.72)]
)
def test_shafts_of_36_and_42_inches_take_the_yards_printed(diameter_in, length_ft, printed_cy):
    volume_cy = round_pier_cf(diameter_in, length_ft) / 27
    assert volume_cy == pytest.approx(printed_cy, abs=0.0055)


@published(
    source=FHWA,
    section="app. B, volume of a shaft",
    status="seen",
    note="printed 6.55: pi taken as 3.142 and each step rounded; exactly 6.545",
)
def test_a_shaft_of_three_by_25_feet_is_just_under_6_55_yards():
    volume_cy = round_pier_cf(36.0, 25.0) / 27
    assert volume_cy == pytest.approx(6.544985, abs=1e-6)
    assert volume_cy == pytest.approx(6.55, abs=0.01)


@published(source=FHWA, section="app. B, volume of a bell and of its toe", status="seen")
def test_a_bell_nine_feet_wide_is_5_67_yards_and_its_toe_2_36():
    shaft = round_pier_cf(36.0, 25.0)
    bell = belled_pier_cf(36.0, 25.0, 108.0, 5.0) - shaft
    toe = belled_pier_cf(36.0, 25.0, 108.0, 5.0, toe_height_ft=1.0) - bell - shaft
    assert bell / 27 == pytest.approx(5.67, abs=0.005)
    assert toe / 27 == pytest.approx(2.36, abs=0.005)


@published(
    source=TEXT, section="drilled pier, shaft 18 in, bell 42 in at 60 degrees", status="seen"
)
def test_a_bell_of_42_inches_at_60_degrees_is_8_96_cubic_feet():
    bell = belled_pier_cf(18.0, 1.0, 42.0, 1.732) - round_pier_cf(18.0, 1.0)
    assert bell == pytest.approx(8.96, abs=0.006)


@published(
    source=TEXT, section="four drilled piers, 24 in, bell 48 in at 50 degrees", status="seen"
)
def test_four_belled_piers_ten_feet_deep_are_146_cubic_feet():
    pier = belled_pier_cf(24.0, 8.808, 48.0, 1.192)
    assert round_pier_cf(24.0, 8.808) == pytest.approx(27.67, abs=0.005)
    assert 4 * pier == pytest.approx(146.0, abs=0.5)
    assert 4 * pier / 27 == pytest.approx(5.4, abs=0.05)


@published(
    source=FHWA,
    section="app. B, the mean of the two circles instead of the frustum",
    status="derived",
    note="circles of 3 and 9 ft: the mean is 15 % more",
)
def test_averaging_the_circles_of_a_bell_takes_too_much():
    bell = belled_pier_cf(36.0, 25.0, 108.0, 5.0) - round_pier_cf(36.0, 25.0)
    averaged = (round_pier_cf(36.0, 5.0) + round_pier_cf(108.0, 5.0)) / 2
    assert averaged / bell == pytest.approx(45 / 39, rel=1e-12)
