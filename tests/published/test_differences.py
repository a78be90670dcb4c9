"""The split of a difference into quantity and rate, against the variances of standard costing."""

from estimator.studies.difference.compared_estimate import Compared, DifferenceLine
from estimator.studies.difference.estimate_difference import estimate_difference
from tests.published.source import published


def material(units, rate_cents):
    """Return one estimate of so many whole units of a material."""
    line = DifferenceLine(
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
    source="Accounting text, exercise 23-5, as answered in public (2018)",
    section="direct materials: 450 units at 6.50 against 430 at 6.90",
    status="second-hand",
    note="price variance = price difference x actual quantity, quantity variance = quantity "
    "difference x standard price: the rule used here, actual for after, standard for before",
)
def test_more_of_a_cheaper_material_is_138_by_quantity_and_180_less_by_price():
    assert dollars_of(material(430, 690), material(450, 650)) == (138, -180, -42)


@published(
    source="Accounting exercise on standard costs, as answered in public",
    section="direct materials: 183,200 lb at 5.80 against 185,000 lb at 6.00",
    status="second-hand",
)
def test_less_of_a_cheaper_material_is_10800_by_quantity_and_36640_by_price():
    assert dollars_of(material(185_000, 600), material(183_200, 580)) == (-10_800, -36_640, -47_440)
