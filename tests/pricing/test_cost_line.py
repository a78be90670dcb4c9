"""One priced line: what its salvage stands for, and what several lines come to."""

import pytest

from estimator.pricing.cost_line import LineSums, line_sums
from estimator.pricing.priced_lines import extended_cents
from tests.factories import cost_line

BRICK = cost_line(
    "20.010", 2, "brick-wall", "brick-sold", "Old brick", "salvage", "ea", 0, 100, 12_500, 12_500,
    is_paid=False,
)  # fmt: skip
STONE = cost_line(
    "20.010", 1, "brick-wall", "stone", "Stone", "material", "ton", 1, 25, 333_300, 8333,
    is_paid=True,
)  # fmt: skip


@pytest.mark.parametrize(
    ("change", "sign"),
    [({}, 1), ({"is_paid": True}, -1), ({"cents": -12_500}, -1), ({"cents": 0}, 1)],
)
def test_salvage_reduced_the_cost_only_in_an_estimate_stored_as_paid_or_below_zero(change, sign):
    line = BRICK._replace(**change)
    assert (line.sign, line.is_sale) == (sign, sign > 0)


def test_what_is_sold_is_in_neither_what_is_paid_nor_what_is_own():
    own = STONE._replace(is_paid=False, cents=700)
    assert line_sums([STONE, BRICK, own]) == LineSums(paid=8333, own=700, sales=12_500)


def test_several_lines_are_extended_each_to_its_cent():
    old = BRICK._replace(is_paid=True)
    assert extended_cents([STONE, BRICK, old]) == [8333, 12_500, -12_500]
    assert extended_cents([]) == []
