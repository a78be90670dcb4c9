"""Estimates read back from their JSON, and their difference printed; all numbers are invented."""

import json

import pytest

from estimator.assemblies.tables import load_tables
from estimator.errors import InputFaulty
from estimator.pricing.estimate_json import estimate_json
from estimator.pricing.printed_estimate import printed_estimate
from estimator.scheduling.dated_estimate import price
from estimator.studies.difference.compared_estimate import (
    Compared,
    MarkupSum,
    compared_estimate,
)
from estimator.studies.difference.compared_estimate_json import compared_from_json
from estimator.studies.difference.estimate_difference import estimate_difference
from estimator.studies.difference.estimate_difference_json import (
    estimate_difference_fields,
    estimate_difference_json,
)
from tests.factories import MADE, SPRING, cost_line, item, scope_of, with_cells, write_folder

ITEMS = {"20": [item("010", "stone-fill", length="60 ft", width="3 ft", depth="6 ft")]}


def estimate_of(path, tables=MADE):
    loaded = load_tables([write_folder(path, tables)])
    return price(scope_of(loaded, ITEMS), loaded, SPRING)


def compared(estimate):
    return compared_estimate(printed_estimate(estimate))


@pytest.fixture
def estimate(tmp_path):
    return estimate_of(tmp_path / "before")


def faults_of(text):
    with pytest.raises(InputFaulty) as raised:
        compared_from_json(text, "a.json")
    return [str(fault) for fault in raised.value.faults]


def faults_with(estimate, change):
    fields = json.loads(estimate_json(estimate))
    change(fields)
    return faults_of(json.dumps(fields))


def test_an_estimate_read_back_is_the_one_that_was_printed(estimate):
    assert compared_from_json(estimate_json(estimate), "a.json") == compared_estimate(
        printed_estimate(estimate)
    )


@pytest.mark.parametrize("text", ["", "{", "[" * 100_000, "nul", "1" * 5000])
def test_what_is_no_json_is_refused(text):
    assert faults_of(text) == ["a.json: is not JSON; give what `groundsill price --json` prints"]


@pytest.mark.parametrize("text", ["[]", "{}", "3", '{"form": 1}', '{"form": true, "lines": []}'])
def test_what_is_no_estimate_is_refused(text):
    assert faults_of(text) == [
        "a.json: is not an estimate; give what `groundsill price --json` prints"
    ]


def test_a_newer_form_is_refused(estimate):
    assert faults_with(estimate, lambda fields: fields.update(form=2)) == [
        "a.json: is an estimate in form 2; this program reads form 1; "
        "compare it with the program that printed it"
    ]


@pytest.mark.parametrize(
    ("key", "value", "told"),
    [
        ("rate", "-1", "rate '-1' is not as printed"),
        ("rate", 24, "rate '24' is not as printed"),
        ("rate", "1.00001", "rate '1.00001' is not as printed"),
        ("ordered", "1e5", "ordered '1e5' is not as printed"),
        ("ordered", "NaN", "ordered 'NaN' is not as printed"),
        ("amount", "1.005", "amount '1.005' is not as printed"),
        ("paid", "yes", "paid 'yes' is not as printed"),
        ("kind", ["labor"], "kind '['labor']' is not as printed"),
        ("line", True, "line 'True' is not as printed"),
        ("item", "20", "item '20' is not as printed"),
        ("name", "Stone\ud800", r"name 'Stone\ud800' is not as printed"),
        ("name", "\x1b[2J", r"name '\x1b[2J' is not as printed"),
    ],
)
def test_a_line_that_is_not_as_printed_is_named(estimate, key, value, told):
    faults = faults_with(estimate, lambda fields: fields["lines"][0].update({key: value}))
    assert faults == [f"a.json, lines 1: {told}; give what `groundsill price --json` prints"]


@pytest.mark.parametrize("ordered", ["9" * 13, "9" * 12 + ".999999", "9" * 40])
def test_a_quantity_beyond_all_pricing_is_refused_by_the_name_of_its_file(estimate, ordered):
    (told,) = faults_with(estimate, lambda fields: fields["lines"][0].update(ordered=ordered))
    assert told.startswith("a.json")


@pytest.mark.parametrize(
    ("key", "told"),
    [
        ("items", "items 2: repeats '20.010'"),
        ("by_phase", "by_phase 2: repeats '20'"),
        ("lines", "lines 4: repeats '20.010/1'"),
    ],
)
def test_what_stands_twice_is_refused(estimate, key, told):
    faults = faults_with(estimate, lambda fields: fields[key].append(fields[key][0]))
    assert faults == [f"a.json, {told}; give what `groundsill price --json` prints"]


def test_a_markup_that_stands_twice_is_refused(estimate):
    twice = {"code": "tax", "name": "Tax", "amount": "0.00"}
    faults = faults_with(estimate, lambda fields: fields.update(markups=[twice, twice]))
    assert faults == [
        "a.json, markups 2: repeats 'tax'; give what `groundsill price --json` prints"
    ]


def test_items_that_are_missing_are_reported_once_not_for_each_line(estimate):
    assert len(faults_with(estimate, lambda fields: fields.pop("items"))) == 1


def test_a_line_of_no_item_is_refused(estimate):
    faults = faults_with(estimate, lambda fields: fields["lines"][0].update(item="90.010"))
    assert "line 90.010/1 belongs to no item of it" in faults[0]


def test_an_amount_that_is_not_its_order_at_its_rate_is_refused(estimate):
    faults = faults_with(estimate, lambda fields: fields["lines"][0].update(amount="0.01"))
    assert "a.json, line 20.010/1: 0.01 is not its order at its rate" in faults[0]


def test_totals_that_do_not_add_up_are_refused(estimate):
    faults = faults_with(estimate, lambda fields: fields["totals"].update(cash_cost="1.00"))
    assert len(faults) == 1
    assert "cash_cost '1.00' is not what its lines and markups add up to" in faults[0]


def test_an_estimate_of_before_in_which_a_sale_reduced_the_cost_is_still_read(tmp_path):
    """1.255 x 165.0 bf = 207.08 was taken off; 71.60 and 372.74 less 207.08 are left."""
    loaded = load_tables([write_folder(tmp_path, MADE)])
    cut = {"20": [item("010", "floor-cut", length="100 ft")]}
    fields = json.loads(estimate_json(price(scope_of(loaded, cut, markups=[]), loaded, SPRING)))
    fields["lines"][3] |= {"paid": True, "amount": "-207.08"}
    fields["totals"] = {
        "direct_cost": "116.47", "cash_cost": "116.47", "own_value": "71.60", "full_cost": "188.07",
    }  # fmt: skip
    found = compared_from_json(json.dumps(fields), "a.json").totals
    assert (found["direct_cost"], found["salvage_sales"]) == (116_47, 0)
    fields["totals"]["salvage_sales"] = "207.08"
    assert "salvage_sales '207.08' is not what its lines" in faults_of(json.dumps(fields))[0]


def test_several_faults_are_reported_at_once(estimate):
    faults = faults_with(estimate, lambda fields: fields.update(items=None, lines=[3, {}]))
    assert faults[0].startswith("a.json: items is not a list")
    assert faults[1].startswith("a.json, lines 1: is not an object")
    assert len(faults) == 2 + 15


def test_a_difference_is_printed_in_decimal_texts(estimate, tmp_path):
    dearer = estimate_of(tmp_path / "after", with_cells("resources", 5, rate="26.005"))
    found = estimate_difference(compared(estimate), compared(dearer))
    fields = json.loads(estimate_difference_json(found))
    assert list(fields) == [
        "form", "totals", "by_cause", "markups", "by_phase", "by_item", "by_kind", "lines",
        "unchanged_lines",
    ]  # fmt: skip
    (line,) = fields["lines"]
    assert (line["before"]["rate"], line["after"]["rate"]) == ("24.0050", "26.0050")
    assert line["why"] == ["rate"]
    assert line["by_cause"]["rate"] == line["difference"] == fields["by_cause"]["rate"]
    assert fields["unchanged_lines"] == len(found.lines) - 1


def test_each_figure_of_a_difference_is_printed_as_worked_by_hand():
    before = cost_line(
        "20.010", 1, "stone-fill", "stone", "Stone", "material", "ton",
        decimals=2, ordered=100_00, rate=24_0000, cents=2400_00, is_paid=True,
    )  # fmt: skip
    after = before._replace(line=2, decimals=1, ordered=110_0, rate=25_0000, cents=2750_00)
    names = {"20": "Earthwork", "20.010": "Fill"}
    found = estimate_difference(
        Compared((before,), (MarkupSum("tax", "Tax", 1_00),), names),
        Compared((after,), (MarkupSum("tax", "Tax", 1_05),), names),
    )
    sums = {"before": "2400.00", "after": "2750.00", "difference": "350.00"}
    with_tax = {"before": "2401.00", "after": "2751.05", "difference": "350.05"}
    causes = {"new": "0.00", "dropped": "0.00", "quantity": "240.00", "rate": "110.00"}
    assert estimate_difference_fields(found) == {
        "form": 1,
        "totals": {
            "direct_cost": sums,
            "cash_cost": with_tax,
            "own_value": {"before": "0.00", "after": "0.00", "difference": "0.00"},
            "full_cost": with_tax,
            "salvage_sales": {"before": "0.00", "after": "0.00", "difference": "0.00"},
        },
        "by_cause": causes,
        "markups": [
            {"code": "tax", "name": "Tax", "before": "1.00", "after": "1.05", "difference": "0.05"}
        ],
        "by_phase": [{"code": "20", "name": "Earthwork", **sums}],
        "by_item": [{"code": "20.010", "name": "Fill", **sums}],
        "by_kind": [{"code": "material", "name": "", **sums}],
        "lines": [
            {
                "item": "20.010",
                "assembly": "stone-fill",
                "resource": "stone",
                "name": "Stone",
                "kind": "material",
                "unit": "ton",
                "paid": True,
                "before": {"line": 1, "ordered": "100.00", "rate": "24.0000", "amount": "2400.00"},
                "after": {"line": 2, "ordered": "110.0", "rate": "25.0000", "amount": "2750.00"},
                "difference": "350.00",
                "why": ["quantity", "rate"],
                "by_cause": causes,
            }
        ],
        "unchanged_lines": 0,
    }
