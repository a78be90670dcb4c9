"""Reinforcing bars against the properties that the standard prints."""

from fractions import Fraction

import pytest

from estimator.quantity.takeoff.reinforcing import (
    NOMINAL_BARS,
    bar_lb_per_ft,
    bars_at_spacing,
    lapped_pieces,
    nominal_bar_lb_per_ft,
)
from estimator.quantity.units import unit
from tests.published.source import published

A615 = "ASTM A615, Deformed Carbon-Steel Bars"


@published(
    source=A615,
    section="Table 1, nominal weights",
    status="seen",
    note="read in several copies, some misprinted: see the next check",
)
@pytest.mark.parametrize(
    ("number", "lb_per_ft"),
    [
        (3, 0.376), (4, 0.668), (5, 1.043), (6, 1.502), (7, 2.044), (8, 2.670),
        (9, 3.400), (10, 4.303), (11, 5.313), (14, 7.65), (18, 13.60),
    ],
)  # fmt: skip
def test_bars_have_the_weights_of_the_standard(number, lb_per_ft):
    assert nominal_bar_lb_per_ft(number) == lb_per_ft


@published(
    source=A615,
    section="Table 1, steel at 490 lb/cf",
    status="derived",
    note="pi d2/4 x 490/144 within 0.2 %: a misprinted weight does not pass",
)
@pytest.mark.parametrize("number", NOMINAL_BARS)
def test_the_weight_of_every_bar_follows_from_its_diameter(number):
    diameter_in, lb_per_ft = NOMINAL_BARS[number]
    assert bar_lb_per_ft(diameter_in) == pytest.approx(lb_per_ft, rel=0.002)


@published(source=A615, section="Table 1, nominal areas in2", status="from memory")
@pytest.mark.parametrize(
    ("number", "area_sq_in"),
    [
        (3, 0.11), (4, 0.20), (5, 0.31), (6, 0.44), (7, 0.60), (8, 0.79),
        (9, 1.00), (10, 1.27), (11, 1.56), (14, 2.25), (18, 4.00),
    ],
)  # fmt: skip
def test_the_weight_of_every_bar_follows_from_its_area(number, area_sq_in):
    assert nominal_bar_lb_per_ft(number) * 144 / 490 == pytest.approx(area_sq_in, abs=0.006)


@published(
    source="ASTM A615M, metric edition",
    section="Table 1, nominal mass kg/m",
    status="from memory",
)
@pytest.mark.parametrize(
    ("number", "kg_per_m"),
    [
        (3, 0.560), (4, 0.994), (5, 1.552), (6, 2.235), (7, 3.042), (8, 3.973),
        (9, 5.060), (10, 6.404), (11, 7.907), (14, 11.38), (18, 20.24),
    ],
)  # fmt: skip
def test_bars_weigh_the_same_in_metric(number, kg_per_m):
    pounds = Fraction(str(nominal_bar_lb_per_ft(number)))
    metric = pounds * unit("lb/ft").factor / unit("kg/m").factor
    assert float(metric) == pytest.approx(kg_per_m, rel=0.001)


@published(
    source="Griffith, Carpentry (1916)",
    section="sec. 77, counting joists 16 in on centers",
    status="seen",
    note="the rule: three quarters of the feet, and one more against the second wall",
)
@pytest.mark.parametrize(("feet", "count"), [(12.0, 10.0), (20.0, 16.0), (40.0, 31.0)])
def test_pieces_at_16_inches_are_three_quarters_of_the_feet_and_one(feet, count):
    assert bars_at_spacing(feet, 16.0) == count


@published(
    source="Lap of 40 diameters",
    section="#4 bars in 20 ft lengths",
    status="common practice, no source",
    note="for counting only: the engineer's drawing gives the lap",
)
def test_half_inch_bars_lapped_forty_diameters_gain_18_feet_4_inches_a_bar():
    lap_ft = 40 * 0.5 / 12
    assert lapped_pieces(38.33, 20.0, lap_ft) == 2.0
    assert lapped_pieces(38.34, 20.0, lap_ft) == 3.0
