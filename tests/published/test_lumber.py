"""Lumber sizes, flooring and nails against the standard, carpentry books and an Army course."""

import pytest

from estimator.quantity.takeoff.framing import (
    fasteners_lb,
    floor_fasteners,
    nails_per_lb,
    strip_flooring_bf,
)
from estimator.quantity.takeoff.lumber_sizes import (
    JOIST_THICKNESS_1916_IN,
    dressed_thickness_in,
    dressed_width_in,
    joist_width_1916_in,
)
from tests.published.source import published

PS_20 = "NIST PS 20, American Softwood Lumber Standard"


@published(source=PS_20, section="dressed dry widths of dimension lumber", status="from memory")
@pytest.mark.parametrize(
    ("nominal_in", "actual_in"),
    [(2, 1.5), (3, 2.5), (4, 3.5), (6, 5.5), (8, 7.25), (10, 9.25), (12, 11.25), (14, 13.25)],
)
def test_a_two_by_four_is_three_and_a_half_inches_wide(nominal_in, actual_in):
    assert dressed_width_in(nominal_in) == actual_in


@published(
    source=PS_20,
    section="dressed dry thickness; timbers of 5 in and more, green",
    status="from memory",
)
@pytest.mark.parametrize(
    ("nominal_in", "actual_in"),
    [(1, 0.75), (1.25, 1.0), (1.5, 1.25), (2, 1.5), (3, 2.5), (4, 3.5), (6, 5.5), (8, 7.5)],
)
def test_an_inch_board_is_three_quarters_and_a_six_inch_timber_five_and_a_half(
    nominal_in, actual_in
):
    assert dressed_thickness_in(nominal_in) == actual_in


@published(
    source="Griffith, Carpentry (1916)",
    section="sec. 77, joists surfaced one side and one edge",
    status="seen",
)
@pytest.mark.parametrize(
    ("nominal_in", "actual_in"), [(4, 3.625), (6, 5.625), (8, 7.5), (10, 9.5), (12, 11.5)]
)
def test_a_joist_of_1916_was_an_eighth_thicker_and_deeper_than_ours(nominal_in, actual_in):
    assert joist_width_1916_in(nominal_in) == actual_in
    assert JOIST_THICKNESS_1916_IN - dressed_thickness_in(2) == 0.125
    assert joist_width_1916_in(nominal_in) > dressed_width_in(nominal_in)


@published(
    source="Source not recorded: table of lumber coverage",
    section="area factor of tongued and grooved boards",
    status="from memory",
)
@pytest.mark.parametrize(
    ("nominal_in", "face_in", "factor"),
    [(4, 3.1875, 1.25), (6, 5.125, 1.17), (8, 6.875, 1.16), (10, 8.875, 1.13), (12, 10.875, 1.10)],
)
def test_matched_boards_cover_less_than_their_nominal_width(nominal_in, face_in, factor):
    assert strip_flooring_bf(1.0, nominal_in, face_in) == pytest.approx(factor, abs=0.0051)


@published(
    source="Source not recorded: table of common wire nails",
    section="number in a pound",
    status="from memory",
    note="within 3.2 % of the weight of the shank; c. 1900 cut nails ran 2 to 20 % heavier",
)
@pytest.mark.parametrize(
    ("diameter_in", "length_in", "number"),
    [
        (0.113, 2.0, 181), (0.131, 2.5, 106), (0.148, 3.0, 69), (0.162, 3.5, 49),
        (0.192, 4.0, 31), (0.207, 4.5, 24), (0.225, 5.0, 18), (0.244, 5.5, 14), (0.263, 6.0, 11),
    ],
)  # fmt: skip
def test_nails_from_6d_to_60d_weigh_as_their_shanks(diameter_in, length_in, number):
    assert nails_per_lb(diameter_in, length_in) == pytest.approx(number, rel=0.032)


@published(
    source="US Army EN0069, Carpentry: bills of materials (edition not recorded)",
    section="par. 4-7, nails of 100 tables by counting joints",
    status="seen",
    note="60 nails a table, 20 % waste, 74 10d nails a pound; its rule 1.67 d per MBF gives 105",
)
def test_a_hundred_tables_take_97_pounds_of_nails_and_105_by_the_rule():
    pounds = fasteners_lb(100 * 60, 74, loss_fraction=0.20)
    assert pounds == pytest.approx(97.297, abs=5e-4)
    assert pounds == pytest.approx(105.21, rel=0.08)


@published(
    source="Treatise on Architecture and Building Construction, vol. 4, c. 1900",
    section="tables of nails: 1,000 sf of flooring; 8d common cut nails at 94 a pound",
    status="derived",
    note="printed 30 lb; strips of 3 1/4 in face over joists at 16 in are ours",
)
def test_a_thousand_feet_of_flooring_take_thirty_pounds_of_8d_nails():
    nails = floor_fasteners(1000.0, 16 / 12, 3.25 / 12, 1)
    assert fasteners_lb(nails, 94) == pytest.approx(30.0, rel=0.02)
