"""Each sentence of what needs attention, worked out again from the rows of the sample's books."""

from __future__ import annotations

import json
import re
from collections import defaultdict
from csv import DictReader
from fractions import Fraction

import pytest

from tests.commands.running import groundsill

AS_OF = ("--as-of", "2026-06-14", "--known-on", "2026-06-14")
INCURRED = ("bill", "credit", "payroll")
MONEY = r"\$([\d,]+\.\d\d)"


@pytest.fixture(scope="module")
def report(opened):
    return json.loads(groundsill("track", *AS_OF, "--json").out)


@pytest.fixture(scope="module")
def rows(opened, report, tmp_path_factory):
    """What rows and accruals add up to, by code and kind; and the budget of each code."""
    path = tmp_path_factory.mktemp("ledger") / "ledger.csv"
    groundsill("track", *AS_OF, "--rows", path)
    sums = defaultdict(lambda: defaultdict(Fraction))
    with path.open(encoding="utf-8", newline="") as file:
        for row in DictReader(file):
            if row["entry"] in INCURRED:
                sums[row["code"]][row["kind"]] += Fraction(row["amount"])
    for one in report["codes"]:
        for kind, own in one["kinds"].items():
            sums[one["code"]][kind] += Fraction(own["accrued"])
    budgets = {one["code"]: Fraction(one["budget"]) for one in report["codes"]}
    return lambda code: (sums[code], budgets[code])


def dollars(pattern, sentence):
    found = re.search(pattern, sentence)
    return None if found is None else Fraction(found[1].replace(",", ""))


def cents(amount):
    return int(amount * 100 + Fraction(1, 2))


def end_of(code, by_kind):
    """Return what a code comes to: its rows, and what is left at their unit costs or as ordered."""
    done, expected = Fraction(code["in_place"]), Fraction(code["expected"])
    left = (expected - done) / done
    whole = sum(by_kind.values())
    for kind, own in code["left"]["kinds"].items():
        ordered = own["basis"] == "committed"
        whole += Fraction(own["amount"]) if ordered else Fraction(cents(by_kind[kind] * left), 100)
    return whole


def test_every_sum_of_an_overrun_is_that_of_the_rows(report, rows):
    """Over its budget, at the end and for each unit in place."""
    codes = {one["code"]: one for one in report["codes"]}
    checked = 0
    for one in report["attention"]:
        over = dollars(rf"(?:ends|done,) {MONEY} over its budget", one["sentence"])
        if over is None:
            continue
        by_kind, budget = rows(one["code"])
        code, spent = codes[one["code"]], sum(by_kind.values())
        assert Fraction(one["amount"]) == over == end_of(code, by_kind) - budget, one
        each = re.search(rf"in place at {MONEY} against {MONEY}", one["sentence"])
        if each:
            paid, planned = (Fraction(part.replace(",", "")) for part in each.groups())
            assert cents(spent / Fraction(code["in_place"])) == paid * 100
            assert cents(budget / Fraction(code["budget_quantity"])) == planned * 100
        already = dollars(rf"{MONEY} over its budget already", one["sentence"])
        assert already in (None, spent - budget)
        checked += 1
    assert checked > 15


def test_every_code_that_ends_over_its_budget_is_named(report, rows):
    named = {one["code"] for one in report["attention"] if "budget" in one["sentence"]}
    over = {
        one["code"]
        for one in report["codes"]
        if one["left"] and end_of(one, rows(one["code"])[0]) > rows(one["code"])[1]
    }
    assert over <= named


def test_an_allowance_and_a_week_that_is_not_closed_are_those_of_the_rows(report, rows):
    said = " ".join(one["sentence"] for one in report["attention"])
    assert dollars(rf"straight time, {MONEY}", said) == Fraction(report["accrued_hours"]["amount"])
    for one in report["outlook"]["to_decide"]:
        by_kind, budget = rows(one["code"])
        assert Fraction(one["amount"]) == abs(budget - sum(by_kind.values()))
        assert one in report["attention"]
    assert [one["code"] for one in report["outlook"]["to_decide"]] == ["05.030"]


def test_the_worst_comes_first(report):
    amounts = [Fraction(one["amount"]) for one in report["attention"]]
    assert amounts == sorted(amounts, reverse=True)
