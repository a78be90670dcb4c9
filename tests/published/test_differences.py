"""The split of a difference into quantity and rate, against the variances of standard costing."""

import pytest

from estimator.studies.difference.compared_estimate import Compared
from estimator.studies.difference.estimate_difference import estimate_difference
from tests.factories import cost_line
from tests.published.source import published


def material(units, rate_cents):
    """Return one estimate of so many whole units of a material."""
    line = cost_line(
        "10.010", 1, "mix", "material", "Material", "material", "lb",
        decimals=0, ordered=units, rate=rate_cents * 100, cents=units * rate_cents, is_paid=True,
    )  # fmt: skip
    return Compared((line,), ())


def dollars_of(before, after):
    """Return whole dollars by quantity, by rate, and of both."""
    (change,) = estimate_difference(before, after).lines
    cents = change.quantity_cents, change.rate_cents, change.cents
    assert not any(part % 100 for part in cents)
    return tuple(part // 100 for part in cents)


@published(
    source="Source not recorded: two accounting exercises, as answered in public",
    section="direct materials: 450 units at 6.50 for 430 at 6.90; 183,200 lb at 5.80 for 185,000 "
    "at 6.00",
    status="second-hand",
    note="price variance = price difference x actual quantity, quantity variance = quantity "
    "difference x standard price: the rule used here, actual for after, standard for before",
)
@pytest.mark.parametrize(
    ("before", "after", "split"),
    [
        (material(430, 690), material(450, 650), (138, -180, -42)),
        (material(185_000, 600), material(183_200, 580), (-10_800, -36_640, -47_440)),
    ],
)
def test_a_difference_splits_by_quantity_and_price_as_standard_costs_do(before, after, split):
    assert dollars_of(before, after) == split
