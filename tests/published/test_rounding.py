"""Rounding, extension and apportionment against old books and the first Congress."""

from decimal import Decimal

import numpy as np
import pytest

from estimator.cents import extension_cents
from estimator.money import apportion, dollars, round_to_cent, to_cents
from tests.published.source import published

SEATS_OF_1790 = {
    "VA": (630_560, 11), "MA": (475_327, 8), "PA": (432_879, 7), "NC": (353_523, 6),
    "NY": (331_589, 6), "MD": (278_514, 5), "CT": (236_841, 4), "SC": (206_236, 3),
    "NJ": (179_570, 3), "NH": (141_822, 2), "VT": (85_533, 1), "GA": (70_835, 1),
    "KY": (68_705, 1), "RI": (68_446, 1), "DE": (55_540, 1),
}  # fmt: skip
FLOORING = [(3280, "26.10", "85.61"), (4619, "33.60", "155.20"), (654, "31.10", "20.34")]


@published(
    source="US census of 1790, populations of fifteen states",
    section="sixty seats by Hamilton's method",
    status="derived",
    note="populations seen, seats worked out by hand: a list handed down with them (NH 3, VT 2) "
    "adds up to 62 and cannot be sixty. Plain rounding would seat 59",
)
def test_sixty_seats_of_1790_go_by_largest_remainder():
    people = [population for population, _ in SEATS_OF_1790.values()]
    assert apportion(60, people) == [seats for _, seats in SEATS_OF_1790.values()]
    assert sum(round(60 * population / sum(people)) for population in people) == 59


@published(
    source="Balinski and Young, Fair Representation (2001)",
    section="Hamilton's bill of 1792, 120 seats, vetoed by Washington",
    status="from memory",
)
def test_the_vetoed_bill_seats_120_with_21_for_virginia():
    people = [population for population, _ in SEATS_OF_1790.values()]
    assert apportion(120, people) == [21, 16, 14, 12, 11, 9, 8, 7, 6, 5, 3, 2, 2, 2, 2]


@published(
    source="Source not recorded: documentation of a general-purpose library of apportionment",
    section="Hamilton's method, 44 and 43 seats",
    status="seen",
    note="with a seat less in all, the fourth state gains one: known of the method, and harmless "
    "for cents, which are shared once",
)
@pytest.mark.parametrize(("seats", "shared"), [(44, [24, 11, 5, 3, 1]), (43, [24, 10, 4, 4, 1])])
def test_five_states_share_44_seats_and_43(seats, shared):
    assert apportion(seats, [21_878, 9_713, 4_167, 3_252, 1_065]) == shared


@published(
    source="Source not recorded: building construction text, c. 1900",
    section="cost of flooring by thousand board feet",
    status="seen",
    note="4.619 x 33.60 is 155.1984, printed 155.19: cut off instead of rounded",
)
@pytest.mark.parametrize(("thousandths", "rate", "line"), FLOORING)
def test_lines_of_period_flooring_extend_to_the_cent(thousandths, rate, line):
    rate_parts = int(Decimal(rate).scaleb(4))
    cents = extension_cents(np.array([thousandths]), np.array([3]), np.array([rate_parts]))
    assert dollars(cents[0]) == Decimal(line)


@published(
    source="Source not recorded: building construction text, c. 1900",
    section="cost of flooring, total of three kinds",
    status="derived",
    note="the printed lines add up to 261.14, a cent short by the line that was cut off",
)
def test_the_total_of_period_flooring_is_the_sum_of_its_rounded_lines():
    cents = extension_cents(
        np.array([3280, 4619, 654]), np.array([3, 3, 3]), np.array([261_000, 336_000, 311_000])
    )
    assert dollars(int(cents.sum())) == Decimal("261.15")


@published(
    source="Source not recorded: building trades text, c. 1900",
    section="cost of rubble masonry per perch",
    status="seen",
    note="the printed lines are 1.25, .63, .25, .83 and .38: the fractions 5/8, 5/6 and 3/8 behind "
    "them are inferred. The text's sum is 3.34 or 3.33 by where it rounds; here each line rounds",
)
def test_a_perch_of_rubble_gains_a_cent_when_each_line_is_rounded():
    lines = [Decimal(10) / 8, Decimal(5) / 8, Decimal(2) / 8, Decimal(5) / 6, Decimal(3) / 8]
    assert sum(round_to_cent(line) for line in lines) == Decimal("3.34")
    assert round_to_cent(sum(lines, Decimal(0))) == Decimal("3.33")


@published(
    source="IEEE 754 binary floating point",
    section="round(2.675, 2)",
    status="derived",
    note="a language fact: the float nearest to 2.675 lies below it",
)
def test_half_a_cent_goes_up_where_floats_go_down():
    assert round(2.675, 2) == 2.67
    assert round_to_cent(Decimal("2.675")) == Decimal("2.68")


@published(
    source="IEEE 754 binary floating point",
    section="19.99 * 100",
    status="derived",
    note="a language fact: 1998.9999999999998, which int() cuts to 1998",
)
def test_a_cent_short_of_twenty_dollars_is_1999_cents_where_floats_lose_one():
    assert int(19.99 * 100) == 1998
    assert to_cents(Decimal("19.99")) == 1999
