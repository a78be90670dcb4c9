"""Board measure and flooring against carpentry manuals."""

import pytest

from estimator.quantity.takeoff.timber import board_feet, matched_flooring_bf
from tests.published.source import published

GRIFFITH = "Griffith, Carpentry (1916)"
NAVEDTRA_14044 = "NAVEDTRA 14044, Builder (edition not recorded)"
POCKETBOOK = "Building Trades Pocketbook, c. 1900 (edition and page not recorded)"


@published(source=GRIFFITH, section="sec. 77, a girder of 6 by 8 in by 16 ft", status="seen")
def test_a_girder_six_by_eight_and_sixteen_feet_long_is_64_board_feet():
    assert board_feet(6.0, 8.0, 16.0) == 64.0


@published(
    source="US Army course EN5155 (title not recorded)",
    section="board measure of eight boards",
    status="seen",
)
def test_eight_boards_one_by_four_and_fourteen_feet_long_are_37_and_a_third():
    assert board_feet(1.0, 4.0, 14.0, pieces=8) == pytest.approx(37 + 1 / 3, rel=1e-15)


@published(
    source=NAVEDTRA_14044,
    section="ch. 2, board measure by the framing square, a board of 10 ft",
    status="seen",
)
def test_a_board_one_by_ten_and_ten_feet_long_is_eight_and_four_twelfths():
    assert board_feet(1.0, 10.0, 10.0) == pytest.approx(8 + 4 / 12, rel=1e-15)


@published(
    source=NAVEDTRA_14044,
    section="ch. 2, board measure by the framing square, a board of 33 ft",
    status="seen",
    note="19 3/12, printed also as 19.26: three times 6 5/12 rounded to 6.42",
)
def test_a_board_one_by_seven_and_33_feet_long_is_19_and_a_quarter():
    assert board_feet(1.0, 7.0, 33.0) == 19.25


@published(source=GRIFFITH, section="sec. 77, stock less than 1 in thick", status="seen")
def test_half_inch_stock_is_figured_as_an_inch():
    assert board_feet(0.5, 12.0, 10.0) == board_feet(1.0, 12.0, 10.0) == 10.0


@published(
    source=POCKETBOOK,
    section="carpentry, estimating quantities: flooring",
    status="seen",
)
@pytest.mark.parametrize(("face_in", "bought"), [(3.0, 1250.0), (5.0, 1250.0), (2.0, 4000 / 3)])
def test_matched_flooring_takes_a_quarter_more_or_a_third_if_narrow(face_in, bought):
    assert matched_flooring_bf(1000.0, face_in) == pytest.approx(bought, rel=1e-15)
