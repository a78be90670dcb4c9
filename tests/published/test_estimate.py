"""A whole estimate against one extended by hand, and what stands at its foot."""

from decimal import Decimal

import numpy as np
import pytest

from estimator.assemblies.markups import Markup, markup_amounts
from estimator.pricing.summaries import labor_hours, machine_days
from estimator.quantity.rounding import up_to_multiple
from estimator.quantity.takeoff.concrete import truck_loads
from estimator.rates.rows import Origin
from estimator.scheduling.activities_of_job import item_days
from estimator.scheduling.dated_estimate import price
from tests.factories import MADE, SPRING, item, made_tables, scope_of
from tests.published.source import published

TREATISE = "Treatise on Architecture and Building Construction, vol. 4, c. 1900"
NAVEDTRA_14045 = "NAVEDTRA 14045, Builder Advanced, quoting NAVFAC P-405 (edition not recorded)"
COST_COURSE = "Engineering cost estimates, indirect costs and profit, examples (ce.arizval.com)"

PRICES_OF_1900 = [
    {"code": code, "name": code, "kind": kind, "unit": unit, "rate": rate, "date": "2026-01-15",
     "paid": "yes"}
    for code, kind, unit, rate in (
        ("pressed-brick", "material", "brick", "0.03"),
        ("bricklayer", "labor", "hr", "0.40"),
        ("hod-carrier", "labor", "hr", "0.15"),
        ("lime", "material", "ea", "0.76"),
        ("sand", "material", "load", "0.74"),
    )
]  # fmt: skip
BRICKWORK = MADE | {
    "resources": (*MADE["resources"], *PRICES_OF_1900),
    "unit_precision": (
        {"unit": "brick", "decimals": "0"}, {"unit": "ea", "decimals": "3"},
        {"unit": "load", "decimals": "3"}, {"unit": "hr", "decimals": "2"},
    ),
    "assemblies": ({"code": "brickwork", "name": "Pressed brick laid", "unit": "brick",
                    "quantity": "bricks", "credit": "yes"},),
    "assembly_inputs": (
        {"assembly": "brickwork", "input": "bricks", "unit": "brick", "meaning": "laid"},
        {"assembly": "brickwork", "input": "thousand", "unit": "brick", "default": "1000",
         "meaning": "that the analysis is for"},
        {"assembly": "brickwork", "input": "waste", "unit": "fraction", "default": "0.05",
         "meaning": "not laid"},
        {"assembly": "brickwork", "input": "laying", "unit": "hr", "default": "30",
         "meaning": "of a bricklayer for a thousand"},
        {"assembly": "brickwork", "input": "tending", "unit": "hr", "default": "15",
         "meaning": "of a laborer to two men"},
        {"assembly": "brickwork", "input": "lime", "unit": "ea", "default": "0.5",
         "meaning": "for a thousand"},
        {"assembly": "brickwork", "input": "sand", "unit": "load", "default": "0.5",
         "meaning": "for a thousand"},
    ),
    "assembly_lines": tuple(
        {"assembly": "brickwork", "line": str(number), "resource": resource, "formula": formula,
         "waste": waste}
        for number, (resource, formula, waste) in enumerate((
            ("pressed-brick", "bricks", "waste"),
            ("bricklayer", "bricks / thousand * laying", ""),
            ("hod-carrier", "bricks / thousand * tending", ""),
            ("lime", "bricks / thousand * lime", ""),
            ("sand", "bricks / thousand * sand", ""),
        ), 1)
    ),
    "markups": (),
}  # fmt: skip
BLOCK = MADE | {
    "crews": (
        {"crew": "mason", "resource": "laborer", "number": "1"},
        {"crew": "mason", "resource": "loader", "number": "1", "order_multiple": "1",
         "ordered_per": "phase"},
    ),
    "assemblies": ({"code": "block", "name": "Block laid", "unit": "sf", "quantity": "area",
                    "crew": "mason", "credit": "yes"},),
    "assembly_inputs": (
        {"assembly": "block", "input": "area", "unit": "sf", "meaning": "wall"},
        {"assembly": "block", "input": "production_rate", "unit": "sf/hr", "default": "6.25",
         "meaning": "1,000 sf in 160 hours"},
    ),
    "assembly_lines": (),
}  # fmt: skip


@published(
    source=TREATISE,
    section="art. 66, estimating the brickwork: pressed brick at 45.00 for 1,000 laid",
    status="seen",
    note="30.00 of brick, 30 h of bricklayer at 40 cents, 15 h of laborer at 15, half a barrel of "
    "lime at .38 and half a load of sand at .37 (printed .38 and .37, so that the thousand is "
    "45.00); 5,882 laid and 294 of waste at 30.00 make the printed total",
)
def test_a_brick_front_of_1900_is_273_51_in_all(tmp_path):
    tables = made_tables(tmp_path, BRICKWORK)
    estimate = price(
        scope_of(tables, {"10": [item("010", "brickwork", bricks="5882 brick")]}), tables, SPRING
    )
    assert [(one.resource, one.cents) for one in estimate.cost_lines] == [
        ("pressed-brick", 185_28), ("bricklayer", 70_58), ("hod-carrier", 13_23), ("lime", 2_24),
        ("sand", 2_18),
    ]  # fmt: skip
    assert estimate.cash_cost == Decimal("273.51")


@published(
    source=COST_COURSE,
    section="example 2, the final bid: 500,000 + 300,000 + 100,000, 10, 5, 5 and 8 percent",
    status="derived",
    note="the costs and the order of the markups were read: contingency is on cost and overhead, "
    "profit on all before it; the steps were not shown",
)
def test_a_bid_of_900_000_marked_up_in_order_is_1_173_690():
    cents = {"material": 500_000_00, "labor": 300_000_00, "equipment": 100_000_00}
    percents = (
        ("project", "10", ("all",)), ("office", "5", ("all",)),
        ("contingency", "5", ("all", "project", "office")),
        ("profit", "8", ("all", "project", "office", "contingency")),
    )  # fmt: skip
    markups = [
        Markup(code, code, order, Decimal(percent), None, on, "the text", Origin("a", "b", order))
        for order, (code, percent, on) in enumerate(percents)
    ]
    amounts = [one.amount_cents for one in markup_amounts(cents, markups)]
    assert amounts == [90_000_00, 45_000_00, 51_750_00, 86_940_00]
    assert sum(cents.values()) + sum(amounts) == 1_173_690_00


@published(
    source=NAVEDTRA_14045,
    section="ch. 4, block, 160 MH per 1,000 sf on 448 sf by one skilled hand, 9 duration days",
    status="seen",
    note="prints 72 man-hours and 9 days; exactly 71.68 and 8.96, and a machine that stays with "
    "the mason is rented for nine",
)
def test_a_mason_lays_448_feet_of_block_in_71_68_hours_and_nine_days(tmp_path):
    tables = made_tables(tmp_path, BLOCK)
    wall = item("010", "block", area="448 sf")
    estimate = price(scope_of(tables, {"10": [wall]}), tables, SPRING)
    assert labor_hours(estimate) == {"Laborer": Decimal("71.68")}
    assert item_days(estimate) == {"10.010": pytest.approx(8.96)}
    assert machine_days(estimate) == {"Loader": 9}


@published(
    source="Source not recorded: civil engineering exercise on hauling",
    section="8,640 loose cy in trucks of 30 loose cy",
    status="seen",
)
def test_8640_loose_yards_in_trucks_of_thirty_are_288_loads():
    assert truck_loads(8_640, 30) == 288


@published(
    source="NAVEDTRA 14070, Engineering Aid (edition not recorded)",
    section="ch. 5, 580.14 cubic feet of concrete",
    status="seen",
    note="prints 21 cu yd; half yards raised are 21.5, whole ones 22",
)
def test_21_49_yards_are_ordered_as_21_and_a_half_or_as_22():
    assert up_to_multiple(np.array([2_149]), np.array([50])) == 2_150
    assert up_to_multiple(np.array([2_149]), np.array([100])) == 2_200
