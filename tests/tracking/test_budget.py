"""The budget of an accepted estimate, and what changes make of it."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import AmountFaulty
from estimator.pricing.printed_estimate import printed_estimate
from estimator.scheduling.dated_estimate import price
from estimator.tracking.budget import (
    BudgetCode,
    Change,
    ChangePart,
    budget_from_estimate,
    current_budget,
    spread_like_baseline,
)
from tests.factories import SPRING, item, made_tables, scope_of
from tests.tracking.rows import LATER, MONDAY, NOW, at

WALL = BudgetCode(
    "40.010", "Wall", "40", Decimal(240), "sf", {"labor": 300_000, "material": 180_000}
)
CONTINGENCY = BudgetCode("contingency", "Contingency", "", Decimal(0), "", {"markup": 100_000})
BASELINE = {one.code: one for one in (WALL, CONTINGENCY)}


@pytest.fixture(scope="module")
def estimate(tmp_path_factory):
    tables = made_tables(tmp_path_factory.mktemp("made"))
    items = [
        item("010", "stone-fill", length="62 ft 6 in", width="4'-2\"", depth="4 ft 1 1/2 in"),
        item("020", "floor-cut", length="100 ft"),
    ]
    return printed_estimate(price(scope_of(tables, {"20": items}), tables, SPRING))


def test_the_baseline_is_the_cash_cost(estimate):
    budget = budget_from_estimate(estimate)
    assert sum(one.cents for one in budget.values()) == estimate.cash_cost * 100


def test_a_tax_on_named_kinds_is_spread_over_them_and_other_markups_are_codes_of_their_own(
    estimate,
):
    """7.25 % on material, consumable and equipment; overhead, bond and profit are taken on all."""
    budget = budget_from_estimate(estimate)
    assert list(budget) == ["20.010", "20.020", "overhead", "bond", "profit"]
    assert [one.phase for one in budget.values()] == ["20", "20", "", "", ""]
    tax = next(one for one in estimate.markups if one.markup.code == "tax")
    taxed = sum(
        cents
        for one in budget.values()
        for kind, cents in one.cents_by_kind.items()
        if kind in ("material", "consumable", "equipment")
    )
    assert taxed == tax.base_cents + tax.amount_cents
    assert dict(budget["bond"].cents_by_kind) == {"markup": 50_000}


def test_own_labor_and_own_material_are_no_budget(estimate):
    budget = budget_from_estimate(estimate)
    paid = sum(line.cents for line in estimate.lines if line.is_paid and line.kind == "labor")
    labor = sum(one.cents_by_kind.get("labor", 0) for one in budget.values())
    assert labor == paid


def approved(number, *parts, day=MONDAY, reason="rot"):
    return Change(number, day, at(day), reason, tuple(parts))


def test_a_change_is_in_the_budget_from_the_day_it_was_approved():
    change = approved(1, ChangePart("40.010", {"labor": 25_000}, Decimal(12)))
    before = current_budget(BASELINE, [change], date(2026, 5, 3), NOW)
    after = current_budget(BASELINE, [change], MONDAY, NOW)
    assert before["40.010"] == WALL
    assert (after["40.010"].cents, after["40.010"].quantity) == (505_000, Decimal(252))


def test_an_approval_that_was_entered_later_was_not_known():
    change = approved(1, ChangePart("40.010", {"labor": 25_000}))
    assert current_budget(BASELINE, [change], MONDAY, at(date(2026, 5, 3)))["40.010"] == WALL


def test_a_draw_on_the_contingency_leaves_the_whole_budget_as_it_was():
    draw = approved(
        1, ChangePart("contingency", {"markup": -40_000}), ChangePart("40.020", {"labor": 40_000})
    )
    budget = current_budget(BASELINE, [draw], LATER, NOW)
    assert draw.cents == 0
    assert sum(one.cents for one in budget.values()) == 580_000
    assert (budget["40.020"].name, budget["40.020"].phase) == ("rot", "40")


def test_a_change_moves_a_finish_only_if_it_says_so():
    dated = {"40.010": BudgetCode("40.010", "Wall", "40", Decimal(1), "sf", {}, MONDAY, MONDAY)}
    more = approved(1, ChangePart("40.010", {"labor": 1}))
    later = approved(2, ChangePart("40.010", {}, days=5))
    assert current_budget(dated, [more], LATER, NOW)["40.010"].finish == MONDAY
    assert current_budget(dated, [later], LATER, NOW)["40.010"].finish == date(2026, 5, 9)
    undated = {"40.010": replace(dated["40.010"], start=None, finish=None)}
    assert current_budget(undated, [later], LATER, NOW)["40.010"].finish is None


@given(st.lists(st.integers(-(10**8), 10**8), max_size=8))
def test_baseline_and_current_budget_differ_by_the_sum_of_the_changes(amounts):
    changes = [approved(i, ChangePart("40.010", {"labor": a})) for i, a in enumerate(amounts, 1)]
    budget = current_budget(BASELINE, changes, LATER, NOW)
    assert sum(one.cents for one in budget.values()) == 580_000 + sum(amounts)


@given(st.integers(-(10**9), 10**9))
def test_a_sum_spread_like_the_baseline_adds_up(cents):
    assert sum(spread_like_baseline(cents, WALL).values()) == cents


def test_a_code_without_a_budget_cannot_be_spread_by():
    with pytest.raises(AmountFaulty):
        spread_like_baseline(5, BudgetCode("1", "", "", Decimal(0), "", {}))


def change_in(row, state, cents, number="CO-3"):
    part = ChangePart("40.010", {"material": cents})
    return Change(row, MONDAY, at(MONDAY, row), "soft ground", (part,), number, state)


def test_only_what_stands_as_approved_is_in_the_budget():
    """A draft of $100, submitted at $120, approved at $110: the budget grows once, by $110."""
    steps = [change_in(1, "draft", 10_000), change_in(2, "submitted", 12_000),
             change_in(3, "approved", 11_000)]  # fmt: skip
    grown = [
        current_budget(BASELINE, steps[:count], LATER, NOW)["40.010"].cents - 480_000
        for count in range(4)
    ]
    assert grown == [0, 0, 0, 11_000]
    rejected = [*steps[:2], change_in(3, "rejected", 12_000)]
    assert current_budget(BASELINE, rejected, LATER, NOW) == BASELINE


def test_changes_without_a_number_each_stand_for_themselves():
    two = [change_in(1, "approved", 10_000, ""), change_in(2, "approved", 5_000, "")]
    assert current_budget(BASELINE, two, LATER, NOW)["40.010"].cents == 495_000
