"""Prices that move to the middle of the phase that pays them, each factor worked by hand."""

import re

import pytest

from estimator.errors import ScopeFaulty
from estimator.pricing.estimate_json import estimate_from_json, estimate_json
from estimator.pricing.explain import ItemExplainer
from estimator.pricing.printed_estimate import printed_estimate
from estimator.scheduling.dated_estimate import price
from tests.factories import SPRING, item, made_tables, scope_with, with_cells
from tests.scope.methods.choices import shipped

CALENDAR = {"start": "2027-04-05", "week": "5 days of 8 hr", "holidays": "none"}
FOUR_PERCENT = {"escalation": {"yearly": "4 %"}}
# 640 tons at 16 an hour: five days, from April 5 to 9, 2027; the middle is April 7.
FILL = item("010", "stone-fill", length="60 ft", width="24 ft", depth="8 ft", density="1.5 ton/cy")


@pytest.fixture(scope="module")
def tables(tmp_path_factory):
    return made_tables(tmp_path_factory.mktemp("made"))


def estimate_of(tables, *items, **of_calendar):
    phases = [{"code": "20", "name": "Fill", "items": list(items or [FILL])}]
    return price(scope_with(tables, phases, calendar=CALENDAR | of_calendar), tables, SPRING)


def rates_of(estimate):
    return {one.resource: one.rate for one in estimate.cost_lines}


def quoted_until(tmp_path, last):
    rows = with_cells("resources", 5, valid_until=last)
    return made_tables(tmp_path / last, rows)


def test_a_price_moves_from_its_month_to_the_middle_of_its_phase(tables):
    """Fifteen months at 4 %: 1.04^1.25 = 1.050248; labor 33.335, machine 310, stone 24.005."""
    moved = estimate_of(tables, **FOUR_PERCENT)
    assert rates_of(moved) == {"laborer": 350_100, "loader": 3_255_769, "stone": 252_112}
    plain = estimate_of(tables)
    assert rates_of(plain) == {"laborer": 333_350, "loader": 3_100_000, "stone": 240_050}
    more = moved.direct_cost - plain.direct_cost
    assert moved.warnings[-1].endswith(f"by 4 % a year: ${more:,.2f} more direct cost")
    assert moved.scope_digest != plain.scope_digest


def test_a_price_moves_by_one_month_and_stays_within_its_own(tables):
    """From January 15 to February 4: 1.04^(1/12) = 1.003274, x 310 = 311.0149."""
    february = estimate_of(tables, start="2026-02-02", **FOUR_PERCENT)
    assert rates_of(february)["loader"] == 3_110_149
    january = estimate_of(tables, start="2026-01-19", **FOUR_PERCENT)
    assert rates_of(january)["loader"] == 3_100_000


def test_a_public_index_goes_before_the_yearly_change():
    """Stone was at 549.742 in January 2026 and at 559.197 in June: 22.50 x 1.017199 = 22.8870."""
    yard = item("010", "yard-stone", area="2,100 sf", thickness="6 in")
    stated = {"start": "2026-06-01", "escalation": {"yearly": "0 %", "indexes": "public"}}
    rates = rates_of(estimate_of(shipped(), yard, **stated))
    assert rates["crusher-run"] == 228_870
    assert rates["trench-roller"] == 5_650_000  # a day at 265.00, with its way; no index, 0 %


def test_a_quote_holds_until_its_last_day_and_moves_from_there(tmp_path):
    """Four months at 4 %: 1.04^(1/3) = 1.013159, x 24.005 = 24.3209."""
    late = estimate_of(quoted_until(tmp_path, "2026-12-31"), **FOUR_PERCENT)
    assert rates_of(late)["stone"] == 243_209
    (source,) = {one.source for one in late.cost_lines if one.resource == "stone"}
    assert "valid until 2026-12-31 x 1.013159 to the middle of phase" in source
    assert late.warnings[-1] == (
        "these quotes run out before the middle of their phase, and are moved from their last day: "
        "Stone, until 2026-12-31"
    )
    assert "expired_quotes" in late.rests_on.cash_cost
    holds = estimate_of(quoted_until(tmp_path, "2027-04-30"), **FOUR_PERCENT)
    assert rates_of(holds)["stone"] == 240_050
    assert "quotes" in holds.rests_on.cash_cost


def test_sums_sales_and_unpaid_hours_stay(tables):
    sums = {"code": "020", "name": "Sum", "lump_sum": {"amount": "$90"}}
    cut = item("030", "floor-cut", length="480 ft")
    rates = rates_of(estimate_of(tables, sums, cut, **FOUR_PERCENT))
    assert rates["plank-sold"] == 12_550
    assert [rate for code, rate in rates.items() if code.startswith("lump")] == [900_000]


def test_the_move_is_explained_printed_and_read_back(tables):
    estimate = estimate_of(tables, **FOUR_PERCENT)
    line = next(one for one in estimate.cost_lines if one.resource == "loader")
    assert line.source == (
        "invented; $310.00 of 2026-01-15 x 1.050248 to the middle of phase 20, 2027-04-07 (4 % a "
        "year, 2026-01 to 2027-04)"
    )
    assert estimate.explain(f"{line.item}/{line.line}").steps[-2:] == (
        "moved to the middle of phase 20, 2027-04-07 (4 % a year, 2026-01 to 2027-04): $310.00 x "
        "1.050248 = $325.5769",
        "5.00 days x $325.5769 per day = $1,627.88",
    )
    alone = ItemExplainer(estimate.scope.items[0], estimate.scope.shift, tables)
    assert all(alone.leads_to(one, SPRING) for one in estimate.cost_lines)
    assert not alone.leads_to(line._replace(rate=3_255_768), SPRING)
    assert not alone.leads_to(line._replace(cents=line.cents + 1), SPRING)
    assert estimate_from_json(estimate_json(estimate)) == printed_estimate(estimate)


@pytest.mark.parametrize(
    ("stated", "fault"),
    [
        ({"yearly": "60 %"}, "yearly '60 %' is more than 50 %; write 4 % a year as 4 %"),
        (
            {"yearly": "4 %", "indexes": "publik"},
            "unknown indexes 'publik'; did you mean 'public'?",
        ),
        ({}, "yearly is missing"),
    ],
)
def test_an_escalation_that_is_none_is_refused_in_a_sentence(tables, stated, fault):
    with pytest.raises(ScopeFaulty, match=re.escape(fault)):
        estimate_of(tables, escalation=stated)
