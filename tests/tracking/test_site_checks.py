"""What may be posted of loads and of own material, and what is noted about them."""

from decimal import Decimal

import pytest

from estimator.errors import LedgerFaulty
from estimator.tracking.budget import BudgetCode
from estimator.tracking.own_stock import StockMove
from estimator.tracking.site_checks import check_stock, unit_notes
from tests.tracking.rows import MONDAY, at, ticket


def faults_of(check, *of):
    with pytest.raises(LedgerFaulty) as refused:
        check(*of)
    return [(one.where, one.what) for one in refused.value.faults]


def test_a_load_counted_in_another_unit_than_its_work_is_noted_of_material_only():
    fill = BudgetCode("20.010", "Stone fill", "20", Decimal(400), "cy", {})
    assert unit_notes(ticket(1, 0), fill) == ["in ton, while 20.010 is measured in cy"]
    assert unit_notes(ticket(1, 0, kind="haul"), fill) == []
    assert unit_notes(ticket(1, 0, unit="cy"), fill) == []
    assert unit_notes(ticket(1, 0), None) == []


def move(kind_of_move, quantity, **more):
    return StockMove(2, MONDAY, at(MONDAY), "plank", "bf", kind_of_move, Decimal(quantity), **more)


def test_a_move_of_stock_is_above_zero_and_has_no_amount_and_a_count_has_all():
    count = {"code": "20.010", "kind": "material"}
    known = ("20.010",)
    assert check_stock(move("recovered", "0.5"), [], known, MONDAY) == []
    assert check_stock(move("not used yet", "5", cents=900, **count), [], known, MONDAY) == []
    assert check_stock(move("not used yet", "0", cents=0, **count), [], known, MONDAY) == []
    assert faults_of(check_stock, move("sold", "0", cents=5, code="2"), [], known, MONDAY) == [
        ("code", "there is no cost code '2'"),
        ("quantity", "is not above zero"),
        ("move", "sold has no kind and no amount"),
    ]
    assert faults_of(check_stock, move("not used yet", "0", cents=5), [], known, MONDAY) == [
        ("code", "is missing"), ("kind", "is missing"),
        ("amount", "does not fit the quantity"),
    ]  # fmt: skip


def test_stock_is_counted_in_one_unit_and_use_beyond_it_is_noted():
    had = StockMove(1, MONDAY, at(MONDAY), "plank", "bf", "recovered", Decimal(100))
    assert check_stock(move("used", "100"), [had], (), MONDAY) == []
    assert check_stock(move("used", "101"), [had], (), MONDAY) != []
    assert check_stock(move("recovered", "101"), [had], (), MONDAY) == []
    other = StockMove(1, MONDAY, at(MONDAY), "plank", "sf", "recovered", Decimal(100))
    assert faults_of(check_stock, move("used", "5"), [other], (), MONDAY) == [
        ("unit", "plank is counted in sf by row 1")
    ]
