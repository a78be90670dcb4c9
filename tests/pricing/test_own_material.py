"""Own material is counted once, and what is used beyond what there is, is told and bought."""

import json
from decimal import Decimal

import pytest
from openpyxl import load_workbook

from estimator.errors import ScopeFaulty
from estimator.pricing.estimate_json import estimate_from_json, estimate_json
from estimator.pricing.explain import ItemExplainer
from estimator.pricing.own_material import FROM_THE_JOB
from estimator.pricing.printed_estimate import printed_estimate
from estimator.scheduling.dated_estimate import price
from estimator.workbook.estimate_workbook import write_estimate
from tests.factories import SPRING, item, scope_of
from tests.scope.methods.choices import sample_choice, shipped
from tests.workbook.estimates import sample_estimate

UP = item("010", "plank-floor-salvage", area="890 sf")
DOWN = item("020", "plank-floor-relaid", area="5,000 sf", new_share="0")
STOCK = item("030", "own-plank-on-hand", plank="500 bf")


def estimate_of(*items):
    return price(scope_of(shipped(), {"20": list(items)}, markups=[]), shipped(), SPRING)


def account(estimate, code):
    (one,) = [one for one in estimate.priced.own_material if one.code == code]
    return one


def planks(estimate, code="20.020"):
    """Return what a floor takes of planks: resource, quantity, rate, dollars."""
    return [
        (one.resource, one.ordered / 10**one.decimals, one.rate / 10_000, one.cents / 100)
        for one in estimate.lines_of(code)
        if "plank" in one.resource and one.ordered
    ]


def test_planks_that_do_not_exist_are_reported_and_bought():
    """890 sf x 2.75 in x 65 % = 1,590.9 bf come up; 5,000 sf x 2.75 in x 1.12 = 15,400 bf go down.

    Missing are 13,809.1 bf, 13.809 thousand at $1,850 = $25,546.65 in cash. Before, all of it was
    own material worth 15,400 x $1.85 = $28,490.
    """
    estimate = estimate_of(UP, DOWN)
    assert planks(estimate) == [
        ("salvaged-plank", 1590.9, 0.0, 0.0), ("plank-new", 13.809, 1850.0, 25_546.65),
    ]  # fmt: skip
    assert str(estimate.own_value) == "0.00"
    assert (
        "Salvaged plank, own stock: 15,400.0 bf used or sold, out of 1,590.9 bf (1,590.9 bf "
        "recovered, 0.0 bf had before); 13,809.1 bf bought as New plank, 3 in nominal"
    ) in estimate.warnings


def test_what_the_owner_had_before_counts_at_its_value_and_the_job_own_does_not():
    """Of 15,400 bf, 1,590.9 are recovered, 500 on hand at $1.85 = $925, 13,309.1 are bought."""
    estimate = estimate_of(UP, DOWN, STOCK)
    assert planks(estimate) == [
        ("salvaged-plank", 1590.9, 0.0, 0.0), ("salvaged-plank", 500.0, 1.85, 925.0),
        ("plank-new", 13.309, 1850.0, 24_621.65),
    ]  # fmt: skip
    assert str(estimate.own_value) == "925.00"
    assert estimate.lines_of("20.030") == ()


def test_recovery_is_paid_once_and_using_it_again_costs_nothing_more():
    """890 sf give 1,590.9 bf; 400 sf x 2.75 in x 1.12 = 1,232 bf are laid, 358.9 bf are left."""
    alone = estimate_of(UP)
    both = estimate_of(UP, DOWN | {"inputs": {"area": "400 sf", "new_share": "0"}})
    found = account(both, "salvaged-plank")
    assert (found.recovered, found.used, found.left) == (
        Decimal("1590.9"), Decimal("1232.0"), Decimal("358.9"),
    )  # fmt: skip
    assert found.warning == ""
    assert both.own_value == alone.own_value == Decimal("0.00")
    assert {one.source for one in both.lines_of("20.020") if one.resource == found.code} == {
        FROM_THE_JOB
    }


def test_what_is_sold_is_gone():
    """Of 1,590.9 bf, 40 % are sold: 636.4 bf at $1.40 = $890.96; 954.5 bf are left to lay."""
    sold = UP | {"inputs": {"area": "890 sf", "sold_share": "40 %"}}
    estimate = estimate_of(sold, DOWN)
    found = account(estimate, "salvaged-plank")
    assert (found.sold, found.used) == (Decimal("636.4"), Decimal("954.5"))
    assert str(estimate.salvage_sales) == "890.96"
    assert found.recovered == found.used + found.sold + found.left


def test_more_bricks_cleaned_than_the_wall_gave_are_reported():
    """Of a wall 1,900 bricks are set aside, and 2,300 are cleaned."""
    wall = item(
        "010", "masonry-break-out", length="10 ft", height="10 ft", thickness="12 in",
        set_aside="1,900 brick",
    )  # fmt: skip
    clean = item("020", "brick-cleaning", bricks="2,300 brick")
    estimate = estimate_of(wall, clean)
    assert (
        "Brick out of a wall, not cleaned: 2,300 bricks used or sold, out of 1,900 bricks (1,900 "
        "bricks recovered, 0 bricks had before); 400 bricks missing"
    ) in estimate.warnings
    fewer = clean | {"inputs": {"bricks": "1,900 brick"}}
    assert not any("Brick out" in one for one in estimate_of(wall, fewer).warnings)


def test_items_draw_in_the_order_of_the_scope_and_quantities_add_up():
    """1,590.9 bf: the first floor takes 1,232.0, the second the other 358.9 and buys 873.1."""
    small = DOWN | {"inputs": {"area": "400 sf", "new_share": "0"}}
    estimate = estimate_of(UP, small, small | {"code": "030"})
    assert planks(estimate) == [("salvaged-plank", 1232.0, 0.0, 0.0)]
    assert planks(estimate, "20.030") == [
        ("salvaged-plank", 358.9, 0.0, 0.0), ("plank-new", 0.873, 1850.0, 1615.05),
    ]  # fmt: skip


@pytest.mark.parametrize("items", [(UP, DOWN), (UP, DOWN, STOCK), (DOWN,)])
def test_every_line_is_explained_and_follows_from_its_item(items):
    estimate = estimate_of(*items)
    for line in estimate.cost_lines:
        (wanted,) = [one for one in estimate.scope.items if one.code == line.item]
        assert ItemExplainer(wanted, estimate.scope.shift, estimate.tables).leads_to(line, SPRING)
        steps = estimate.explain(f"{line.item}/{line.line}").steps
        assert any(f"= ${line.cents / 100:,.2f}" in step for step in steps)


def test_a_line_of_own_material_with_another_amount_does_not_follow_from_its_item():
    estimate = estimate_of(UP, DOWN)
    line = estimate.lines_of("20.020")[-1]
    assert line.resource == "plank-new"
    wanted = estimate.scope.items[1]
    explainer = ItemExplainer(wanted, estimate.scope.shift, estimate.tables)
    assert not explainer.leads_to(line._replace(cents=line.cents + 1), SPRING)


def test_stock_alone_is_no_work_to_price():
    with pytest.raises(ScopeFaulty, match="there is no work to price"):
        estimate_of(STOCK)


def test_the_account_is_in_the_json_and_an_older_estimate_has_none():
    estimate = estimate_of(UP, DOWN)
    text = estimate_json(estimate)
    assert estimate_from_json(text) == printed_estimate(estimate)
    fields = json.loads(text)
    assert fields["own_material"][0]["short"] == "13809.1"
    del fields["own_material"]
    assert estimate_from_json(json.dumps(fields)).own_material == ()


def test_the_workbook_shows_the_account_and_a_sale_of_nothing(tmp_path):
    write_estimate(estimate_of(UP, DOWN, STOCK), tmp_path / "own.xlsx")
    book = load_workbook(tmp_path / "own.xlsx")
    stock = [row for row in book["Cost lines"].iter_rows() if row[0].value == "20.030"]
    assert [cell.value for cell in stock[0]][10:12] == [0, 0]  # no sum of its own cell
    (row,) = [
        [cell.value for cell in row]
        for row in book["Own material"].iter_rows()
        if row[0].value == "Salvaged plank, own stock"
    ]
    assert row[1:6] == ["bf", 1590.9, 500, 2090.9, 0]
    assert row[7:10] == [13_309.1, "New plank, 3 in nominal", 1.85]


def test_a_plank_has_one_value_in_the_estimate_and_in_save_or_scrap():
    """The sample's quote says $3.40 a board foot: 3,657.5 bf kept are $12,435.50."""
    assert account(sample_estimate(), "salvaged-plank").value == Decimal("3.40")
    kept = {one.method.name: one.kept for one in sample_choice("20.010").results}
    assert max(kept.values()) == Decimal("12435.50")
