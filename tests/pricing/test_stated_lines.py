"""Subcontract quotes, lump sums and allowances: priced lines with firm and date as source."""

from datetime import date
from decimal import Decimal

import pytest

from estimator.errors import RateMissing
from estimator.pricing.estimate_json import estimate_from_json, estimate_json
from estimator.pricing.printed_estimate import printed_estimate
from estimator.pricing.summaries import cash_by_credit, cash_by_kind
from estimator.scheduling.dated_estimate import price
from estimator.scope.scope_digest import scope_digest
from estimator.studies.risk.job_risk import job_risk
from tests.factories import SPRING, item, made_tables, scope_of
from tests.scope.test_stated_price import QUOTE


@pytest.fixture
def tables(tmp_path):
    return made_tables(tmp_path)


BID = {"code": "010", "name": "Power", "subcontract": QUOTE}
SUMS = [
    BID,
    {"code": "020", "name": "Pipes", "allowance": {"amount": "$6,500", "credit": "no"}},
    {"code": "030", "name": "Sign", "lump_sum": {"amount": "$950.50", "kind": "fee"}},
]


def estimate_of(tables, items=SUMS, on=SPRING, **more):
    return price(scope_of(tables, {"70": items}, **more), tables, on)


def test_a_bid_is_one_line_of_its_sum_with_firm_and_date(tables):
    (line,) = estimate_of(tables).lines_of("70.010")
    assert (line.kind, line.unit, line.cents) == ("subcontract", "ls", 1_840_000)
    assert line.source == "quote of Millrace Electric, 2026-02-20"
    assert line.rate_row == "scope item 70.010"
    assert line.net == line.ordered
    assert (line.waste, line.left_over) == (0, 0)


def test_sums_are_in_every_summary(tables):
    """Show 18,400 + 6,500 + 950.50 = 25,850.50."""
    estimate = estimate_of(tables)
    assert estimate.direct_cost == Decimal("25850.50")
    assert cash_by_kind(estimate) == {
        "subcontract": Decimal("24900.00"), "fee": Decimal("950.50"),
    }  # fmt: skip
    assert cash_by_credit(estimate) == {
        "yes": Decimal("18400.00"), "no": Decimal("6500.00"), "ask": Decimal("950.50"),
    }  # fmt: skip
    assert estimate.rests_on.direct_cost == {
        "quotes": Decimal("18400.00"), "allowances": Decimal("6500.00"),
        "lump_sums": Decimal("950.50"),
    }  # fmt: skip


def test_an_expired_bid_warns_and_is_no_quote_any_more(tables):
    estimate = estimate_of(tables, on=date(2026, 5, 21))
    assert estimate.rests_on.direct_cost["expired_quotes"] == Decimal("18400.00")
    assert any("Millrace Electric expired on 2026-05-20" in one for one in estimate.warnings)


def test_a_bid_of_a_later_day_prices_nothing_yet(tables):
    with pytest.raises(RateMissing, match="is of 2026-02-20, later than the pricing date"):
        estimate_of(tables, on=date(2026, 2, 19))


def test_only_a_valid_bid_counts_as_known(tables):
    """Show 18,400 of 25,850.50: 71 %."""
    risk = job_risk(estimate_of(tables), iterations=1000)
    assert round(risk.known, 4) == 0.7118
    assert any(one.startswith("71 % of the cost rests on valid quotes") for one in risk.statements)


def test_a_bid_is_firm_unless_its_risk_says_otherwise(tables):
    usual = {"risk": {"quantity": ["50 %", "200 %"]}}
    firm, other = scope_of(tables, {"70": SUMS[:2]}, **usual).items
    assert (firm.spread.quantity.low, firm.spread.quantity.high) == (1.0, 1.0)
    assert other.spread.quantity is None
    loose = BID | {"risk": {"quantity": ["90 %", "120 %"]}}
    (loose_item,) = scope_of(tables, {"70": [loose]}, **usual).items
    assert loose_item.spread.quantity.high == 1.2


def test_a_phase_takes_the_days_that_its_bids_state(tables):
    (phase,) = job_risk(estimate_of(tables), iterations=100).dates.phases
    assert phase.days.likely == 6.0


def test_a_bid_is_explained_by_what_the_quote_says(tables):
    estimate = estimate_of(tables)
    assert estimate.explain("70.010/1").steps == (
        "Subcontract quote, Millrace Electric: $18,400.00, quote of Millrace Electric, 2026-02-20",
        "valid until 2026-05-20",
        "includes service, panel; excludes fixtures; attached: bid.pdf",
        "no quantity and no rate stand behind it: the sum is the price",
    )
    assert (
        "expired on 2026-05-20"
        in estimate_of(tables, on=date(2026, 6, 1)).explain("70.010/1").steps
    )


def test_json_comes_back_as_it_was_printed(tables):
    estimate = estimate_of(tables)
    assert estimate_from_json(estimate_json(estimate)) == printed_estimate(estimate)


def test_stated_prices_stand_beside_assemblies(tables):
    both = estimate_of(tables, [*SUMS, item("040", "slab-pour", area="324 sf", thickness="4 in")])
    alone = estimate_of(tables)
    assert both.direct_cost > alone.direct_cost
    assert both.lines_of("70.010") == alone.lines_of("70.010")


def test_what_a_bid_says_is_in_the_digest_of_the_scope(tables):
    def digest(**changed):
        bid = BID | {"subcontract": QUOTE | changed}
        return scope_digest(scope_of(tables, {"70": [bid]}))

    changes = (
        {}, {"firm": "Another"}, {"amount": "$18,401"}, {"valid_until": "2026-05-21"},
        {"excludes": ["all"]}, {"attachment": "b.pdf"}, {"days": "7 day"}, {"credit": "no"},
    )  # fmt: skip
    assert len({digest(**one) for one in changes}) == len(changes)
