"""What cannot be priced is refused by item, and never priced at zero instead."""

from dataclasses import replace
from datetime import date

import pytest

from estimator.errors import AmountTooLarge, RateMissing, ScopeFaulty
from estimator.rates.resources import RateTable
from estimator.scheduling.dated_estimate import price
from tests.factories import MADE, SPRING, item, made_tables, scope_of, with_cells
from tests.pricing.test_estimate import FOUR_ITEMS


@pytest.fixture(scope="module")
def tables(tmp_path_factory):
    return made_tables(tmp_path_factory.mktemp("made"), MADE)


def refusal_of(tables, on):
    with pytest.raises(RateMissing) as refusal:
        price(scope_of(tables, FOUR_ITEMS), tables, on)
    return [str(fault) for fault in refusal.value.faults]


def test_a_rate_that_is_missing_on_the_day_refuses_the_whole_estimate(tmp_path):
    tables = made_tables(tmp_path, with_cells("resources", 2, date="2026-01-16"))
    assert refusal_of(tables, date(2026, 1, 15)) == [
        "item 20.010: resource 'laborer' has no rate on 2026-01-15; its first is of 2026-01-16; "
        "add a row with an earlier date, or price on a later day"
    ]


def test_a_day_before_any_rate_is_one_sentence(tables):
    assert refusal_of(tables, date(2026, 1, 14)) == [
        "no resource has a rate on 2026-01-14: the first rate of all is of 2026-01-15; "
        "price on a later day"
    ]


def test_a_day_before_most_rates_is_one_sentence(tmp_path):
    early = [row | {"date": "2025-01-15"} for row in MADE["resources"][:1]]
    tables = made_tables(tmp_path, MADE | {"resources": [*early, *MADE["resources"][1:]]})
    assert refusal_of(tables, date(2026, 1, 14)) == [
        "8 resources have no rate on 2026-01-14, among them 'blade'; "
        "price on 2026-01-15, since when all of them have one, or later"
    ]


def test_a_quote_that_ran_out_prices_with_a_warning(tmp_path):
    tables = made_tables(tmp_path, with_cells("resources", 8, valid_until="2026-03-01"))
    cuts = [item(f"0{n}0", "floor-cut", length="30 ft") for n in range(1, 7)]
    scope = scope_of(tables, {"20": cuts})
    assert price(scope, tables, date(2026, 3, 1)).warnings == ()
    assert price(scope, tables, SPRING).warnings == (
        "the quote for Dumpster expired on 2026-03-01 (made resources.csv row 8): get a "
        "new one before relying on 20.010, 20.020, 20.030, 20.040 and 2 more",
    )


@pytest.mark.parametrize(
    ("inputs", "told"),
    [
        ({"blade_life": "0 ft/blade"}, ["Blade comes to no number"]),
        ({"production_rate": "0 lf/hr"}, ["Owner comes to no number"]),
    ],
)
def test_a_division_by_zero_is_refused_by_item(tables, inputs, told):
    good, bad = item("010", "floor-cut", length="9 ft"), item("020", "floor-cut", length="9 ft")
    bad["inputs"] |= inputs
    with pytest.raises(ScopeFaulty) as refusal:
        price(scope_of(tables, {"20": [good, bad]}), tables, SPRING)
    assert [str(fault) for fault in refusal.value.faults] == [
        f"scope phases items: item 20.020: {what}; check inputs that are subtracted or divided by"
        for what in told
    ]


def refused(path, changed):
    tables = made_tables(path, changed)
    with pytest.raises(ScopeFaulty) as refusal:
        price(scope_of(tables, {"20": [item("010", "floor-cut", length="9 ft")]}), tables, SPRING)
    return [str(fault).partition(": ")[2] for fault in refusal.value.faults]


MENDED = "check inputs that are subtracted or divided by"


@pytest.mark.parametrize(
    ("row", "cells", "told"),
    [
        (5, {"formula": "length / blade_life - 1 - recovery + recovery"},
         "item 20.010: Blade comes to -0.93 blade"),
        (6, {"order_multiple": "1 / (recovery - recovery)"},
         "item 20.010: the order multiple of Dumpster comes to no number"),
        (6, {"minimum": "1 / (recovery - recovery)"},
         "item 20.010: the minimum of Dumpster comes to no number"),
        (7, {"waste": "recovery - 1"}, "item 20.010: the waste of Planks sold comes to -6.75 bf"),
        (7, {"waste": "recovery - 3", "formula": "-wood * recovery"},
         "item 20.010: Planks sold comes to -13.50 bf"),
        (7, {"formula": "wood * 1e12 * recovery"},
         "item 20.010: Planks sold comes to 14,850,000,000,000.00 bf"),
    ],
)  # fmt: skip
def test_an_order_that_is_no_quantity_is_refused_by_item(tmp_path, row, cells, told):
    assert refused(tmp_path, with_cells("assembly_lines", row, **cells)) == [f"{told}; {MENDED}"]


def test_an_item_that_comes_to_nothing_is_refused(tables):
    fill = item("010", "stone-fill", length="9 ft", width="9 ft", depth="0 in")
    with pytest.raises(ScopeFaulty) as refusal:
        price(scope_of(tables, {"20": [fill]}), tables, SPRING)
    assert str(refusal.value) == (
        "scope phases items: item 20.010 comes to zero (0 ton); check its inputs, or remove it"
    )


def test_a_line_beyond_ten_billion_dollars_is_refused_by_item(tmp_path):
    tables = made_tables(tmp_path, with_cells("resources", 6, rate="999999999999"))
    with pytest.raises(AmountTooLarge) as refusal:
        price(scope_of(tables, {"20": [item("010", "slab-pour", area="99 sf")]}), tables, SPRING)
    assert str(refusal.value) == (
        "scope phases items: item 20.010: Concrete comes to more than $10,000,000,000; "
        "check the quantity and the rate, or split the item"
    )


def test_a_rate_of_zero_prices_at_zero_only_if_a_row_says_so(tables, tmp_path):
    free = made_tables(tmp_path, with_cells("resources", 10, rate="0"))
    lines = price(scope_of(free, FOUR_ITEMS), free, SPRING).lines
    assert lines.loc[lines["resource"] == "permit", "cents"].tolist() == [0]
    rows = [row for row in tables.rates.rows() if row.code != "permit"]
    without = replace(tables, rates=RateTable(rows, tables.sets))
    scope = scope_of(tables, FOUR_ITEMS)
    with pytest.raises(RateMissing, match="resource 'permit' is in no table"):
        price(scope, without, SPRING)
