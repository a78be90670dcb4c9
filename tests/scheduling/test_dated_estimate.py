"""Machines in the estimate, rented for the span that they stand; nothing else is moved by dates."""

from decimal import Decimal

import pytest

from estimator.pricing.estimate import estimate_by_the_day
from estimator.pricing.estimate_json import estimate_from_json, estimate_json
from estimator.pricing.explain import ItemExplainer
from estimator.pricing.printed_estimate import printed_estimate
from estimator.scheduling.dated_estimate import price
from tests.factories import MADE, SPRING, item, made_tables, scope_with

CALENDAR = {"start": "2026-04-06", "week": "5 days of 8 hr", "holidays": "none"}
RENT = {
    "resource": "loader", "week": "1000", "month": "3000", "delivery": "500", "pick_up": "200",
    "date": "2026-01-15",
}  # fmt: skip
# 60 x 24 x 8 ft at 1.5 ton/cy are 640 tons: five days of eight hours at 16 tons an hour.
FIVE_DAYS = {"length": "60 ft", "width": "24 ft", "depth": "8 ft", "density": "1.5 ton/cy"}


@pytest.fixture(scope="module")
def plain(tmp_path_factory):
    return made_tables(tmp_path_factory.mktemp("plain"))


@pytest.fixture(scope="module")
def rented(tmp_path_factory):
    return made_tables(tmp_path_factory.mktemp("rented"), MADE | {"rents": [RENT]})


def job(tables, **head):
    """Return five days of the loader, two days without it, and five days of it again."""
    cut = item("010", "floor-cut", length="480 ft")
    items = {"20": item("010", "stone-fill", **FIVE_DAYS), "30": cut}
    items["40"] = item("010", "stone-fill", **FIVE_DAYS)
    phases = [{"code": code, "name": code, "items": [one]} for code, one in items.items()]
    return scope_with(tables, phases, **head)


def loaders(estimate):
    return [one for one in estimate.cost_lines if one.resource == "loader"]


def test_a_machine_that_stays_is_rented_for_its_span_by_the_cheapest_mix(rented):
    """Sixteen days, $2,620 + $700 of delivery and pick-up, for ten days of work: $332 a day."""
    estimate = price(job(rented, calendar=CALENDAR), rented, SPRING)
    lines = loaders(estimate)
    assert [(one.ordered, one.rate, one.cents) for one in lines] == [(500, 3_320_000, 166_000)] * 2
    assert {one.source for one in lines} == {
        "invented; rented for 2 weeks + 2 days from 2026-04-06 to 2026-04-21, $2,620.00, delivery "
        "and pick-up $700.00"
    }
    assert {one.rate_row for one in lines} == {"made rents.csv row 2"}
    by_the_day = estimate_by_the_day(estimate.scope, rented, SPRING)
    assert estimate.direct_cost - by_the_day.direct_cost == Decimal("220.00")  # 3,320 - 10 x 310


def test_without_a_rent_or_without_a_calendar_a_day_is_a_day(plain, rented):
    dated = price(job(plain, calendar=CALENDAR), plain, SPRING)
    undated = price(job(rented), rented, SPRING)
    for estimate in (dated, undated):
        assert [(one.ordered, one.cents) for one in loaders(estimate)] == [(500, 155_000)] * 2
    assert dated.digest == estimate_by_the_day(dated.scope, plain, SPRING).digest


@pytest.mark.parametrize(
    ("brought_by", "mobilization", "cents"),
    [("", "", 170_000), ("permit", "", 170_000), ("stone", "", 100_000), ("", "$460", 100_000)],
)
def test_a_machine_that_the_item_brings_itself_has_no_way_in_its_rent(
    tmp_path, brought_by, mobilization, cents
):
    """A week is $1,000, the way $700, unless a line of the item or its method is that way."""
    tables = made_tables(tmp_path, MADE | {"rents": [RENT | {"brought_by": brought_by}]})
    way = {"methods": [{"name": "by loader", "mobilization": mobilization}]} if mobilization else {}
    items = [item("010", "stone-fill", **FIVE_DAYS) | way]
    phases = [{"code": "20", "name": "Fill", "items": items}]
    (line,) = loaders(price(scope_with(tables, phases, calendar=CALENDAR), tables, SPRING))
    assert line.cents == cents


def test_the_rent_is_explained_printed_and_read_back(rented):
    estimate = price(job(rented, calendar=CALENDAR), rented, SPRING)
    line = loaders(estimate)[0]
    steps = estimate.explain(f"{line.item}/{line.line}").steps
    assert steps[-2:] == (
        "5.00 days x $332.00 per day = $1,660.00",
        f"rate from made rents.csv row 2, of 2026-01-15: {line.source}",
    )
    alone = ItemExplainer(estimate.scope.items[0], estimate.scope.shift, rented)
    assert alone.leads_to(line, SPRING)
    printed = printed_estimate(estimate)
    assert estimate_from_json(estimate_json(estimate)) == printed
    assert [one.rate for one in printed.rates if one.code == "loader"] == [Decimal("332.0000")]


def test_ten_hour_days_are_charged_by_the_meter(tmp_path):
    """800 tons at 16 an hour are 50 hours on the meter; a week includes 40."""
    rows = MADE | {"rents": [RENT | {"delivery": "", "pick_up": "", "over_hour": "30"}]}
    tables = made_tables(tmp_path, rows)
    week = CALENDAR | {"week": "5 days of 10 hr"}
    items = [item("010", "stone-fill", **FIVE_DAYS | {"length": "75 ft"})]  # 800 tons: 50 hours
    scope = scope_with(tables, [{"code": "20", "name": "Fill", "items": items}], calendar=week)
    (line,) = loaders(price(scope, tables, SPRING))
    assert (line.ordered, line.cents) == (500, 130_000)
    assert line.source.endswith("$1,000.00, 10 over-hours $300.00")
