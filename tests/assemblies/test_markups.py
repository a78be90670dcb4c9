"""Markups: ordered percentages and sums on named kinds of cost."""

from decimal import Decimal

import numpy as np
import pytest

from estimator.assemblies.markups import (
    Markup,
    markup_amounts,
    percent_markup_cents,
    read_markups,
)
from estimator.errors import Faults
from estimator.rates.rows import Origin
from tests.factories import write_folder


def markup(code, order, percent=None, fixed=None, on=()):
    return Markup(
        code, code, order, None if percent is None else Decimal(percent),
        None if fixed is None else Decimal(fixed), on, "invented", Origin("t", "markups.csv", 2),
    )  # fmt: skip


def amounts(cents_by_kind, *markups):
    return [(one.markup.code, one.base_cents, one.amount_cents)
            for one in markup_amounts(cents_by_kind, markups)]  # fmt: skip


def test_profit_on_overhead_compounds_in_order():
    assert amounts(
        {"labor": 100_000, "material": 50_000},
        markup("profit", 3, "10", on=("all", "overhead")),
        markup("overhead", 2, "6", on=("labor",)),
        markup("insurance", 4, "1.5", on=("profit", "overhead")),
    ) == [("overhead", 100_000, 6_000), ("profit", 156_000, 15_600), ("insurance", 21_600, 324)]


def test_each_markup_is_rounded_half_up_to_the_cent_by_itself():
    assert amounts({"fee": 1_050}, markup("a", 1, "5", on=("fee",))) == [("a", 1_050, 53)]
    assert amounts({"fee": 1_030}, markup("a", 1, "5", on=("fee",))) == [("a", 1_030, 52)]


def test_percentages_on_many_costs_at_once_are_those_of_each():
    markups = (
        markup("profit", 3, "10", on=("all", "overhead")),
        markup("overhead", 2, "6.5", on=("labor",)),
        markup("bond", 4, fixed="500.25"),
        markup("insurance", 5, "1.5", on=("profit", "bond", "tax")),
    )
    labor, material = np.array([100_000, 105_013, 0]), np.array([50_000, 77, 12_345])
    together = percent_markup_cents({"labor": labor, "material": material}, markups)
    # by hand, of the first: 6,500 on labor, 15,650 on all of it, 234.75 on the profit
    assert together.tolist() == [6_500 + 15_650 + 235, 6_826 + 11_192 + 168, 0 + 1_235 + 19]


def test_percentages_of_nothing_are_nothing():
    assert percent_markup_cents({}, (markup("a", 1, "10", on=("all",)),)).tolist() == 0


def test_a_fixed_sum_has_no_base():
    assert amounts({"fee": 9_999}, markup("bond", 1, fixed="500.25")) == [("bond", 0, 50_025)]


def test_all_means_every_kind_of_cost_once_but_interest_and_no_sale_of_salvage():
    kinds = dict.fromkeys(
        ("labor", "material", "equipment", "consumable", "haul", "disposal", "subcontract", "fee",
         "interest", "salvage"), 100,
    )  # fmt: skip
    assert amounts(kinds, markup("a", 1, "10", on=("all", "labor"))) == [("a", 800, 80)]
    assert amounts(kinds, markup("a", 1, "10", on=("all", "interest"))) == [("a", 900, 90)]


def test_a_markup_on_one_that_does_not_apply_takes_nothing_of_it():
    assert amounts({"fee": 1_000}, markup("b", 2, "10", on=("fee", "a"))) == [("b", 1_000, 100)]


def test_markups_of_the_same_order_go_by_code():
    assert [code for code, _, _ in amounts({}, markup("b", 1, "1"), markup("a", 1, "1"))] == [
        "a", "b",
    ]  # fmt: skip


def read(path, **sets):
    faults = Faults()
    folders = [
        write_folder(path / name, {"markups": rows}, name=name) for name, rows in sets.items()
    ]
    return read_markups(folders, faults), [str(fault) for fault in faults.entries]


ROW = {"code": "a", "name": "A", "order": "1", "percent": "5", "on": "fee"}


def test_a_word_that_stands_twice_counts_once(tmp_path):
    markups, faults = read(tmp_path, made=[ROW, ROW | {"code": "b", "order": "2", "on": "a; a"}])
    assert faults == []
    assert amounts({"fee": 1_000}, *markups.values()) == [("a", 1_000, 50), ("b", 50, 3)]


def test_the_highest_set_that_names_a_markup_wins(tmp_path):
    markups, faults = read(tmp_path, shipped=[ROW], own=[ROW | {"percent": "7"}])
    assert faults == []
    assert markups["a"].percent == Decimal(7)


@pytest.mark.parametrize("percent", ["0", "100", "7.1234"])
def test_percentages_go_from_nothing_to_all(tmp_path, percent):
    assert read(tmp_path, made=[ROW | {"percent": percent}])[1] == []


def test_no_markup_is_taken_on_salvage(tmp_path):
    assert read(tmp_path, made=[ROW | {"on": "labor;salvage"}])[1] == [
        "made markups.csv row 2: on names salvage, whose sale is a source of money and no "
        "cost; take it out"
    ]
