"""Long days in the estimate: the calendar decides, and the premium is not free."""

from decimal import Decimal

import pytest

from estimator.errors import ScopeFaulty
from estimator.pricing.explain import ItemExplainer
from estimator.scheduling.dated_estimate import price
from tests.factories import SPRING, item, made_tables, scope_with

# 640 tons at 16 an hour: 40 hours of two laborers at $33.335, $2,666.80.
FILL = {"length": "60 ft", "width": "24 ft", "depth": "8 ft", "density": "1.5 ton/cy"}


@pytest.fixture(scope="module")
def tables(tmp_path_factory):
    return made_tables(tmp_path_factory.mktemp("made"))


def laborers(tables, **head):
    phases = [{"code": "20", "name": "Fill", "items": [item("010", "stone-fill", **FILL)]}]
    estimate = price(scope_with(tables, phases, **head), tables, SPRING)
    return estimate, estimate.cost_lines[0]


@pytest.mark.parametrize(
    ("head", "cents"),
    [
        ({}, 266_680),
        ({"calendar": {"week": "4 days of 10 hr"}}, 266_680),
        ({"calendar": {"week": "5 days of 10 hr"}}, 293_348),  # 55 paid for 50: $36.6685
        ({"shift": "10 hr/day"}, 293_348),  # five days, if nothing else is said
        ({"calendar": {"week": "4 days of 10 hr", "overtime": "California"}}, 293_348),
        ({"calendar": {"week": "5 days of 10 hr", "overtime": "none"}}, 266_680),
    ],
)
def test_hours_over_forty_a_week_bear_their_premium(tables, head, cents):
    _, line = laborers(tables, **head)
    assert (line.resource, line.ordered, line.cents) == ("laborer", 8000, cents)


def test_the_premium_is_explained(tables):
    estimate, line = laborers(tables, calendar={"week": "5 days of 10 hr"})
    assert estimate.explain("20.010/1").steps[-2:] == (
        "80.00 hr x $36.6685 per hr = $2,933.48",
        "rate from made resources.csv row 2, of 2026-01-15: invented; $33.335 with overtime: 5 "
        "days of 10 hr a week are paid as 55 hr, 29 CFR 778.101",
    )
    scope = estimate.scope
    alone = ItemExplainer(scope.items[0], scope.shift, tables, scope.work_week)
    assert alone.leads_to(line, SPRING)
    assert estimate.digest != laborers(tables)[0].digest


def test_a_rule_that_nobody_knows_is_refused(tables):
    with pytest.raises(ScopeFaulty, match="'Ohio' is not an overtime rule"):
        laborers(tables, calendar={"overtime": "Ohio"})


def test_the_owner_bears_no_premium(tables):
    phases = [{"code": "20", "name": "Cut", "items": [item("010", "floor-cut", length="300 ft")]}]
    scope = scope_with(tables, phases, shift="10 hr/day")
    line = price(scope, tables, SPRING).cost_lines[0]
    assert (line.resource, line.cents) == ("owner-hand", int(Decimal("21.50") * 1000))
