"""What a total rests on: each cent on one ground, and the grounds add up to the total."""

from dataclasses import replace
from datetime import date
from decimal import Decimal
from functools import cache

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.assemblies.markups import markup_amounts
from estimator.assemblies.tables import load_tables
from estimator.pricing.estimate_json import estimate_from_json, estimate_json
from estimator.pricing.rests_on import GROUNDS, ground_of, of_markups, statements
from estimator.rates.folders import QUOTES, SHIPPED
from estimator.scheduling.dated_estimate import price
from estimator.studies.risk.job_risk import job_risk
from tests.factories import MADE, SPRING, item, scope_of, write_folder
from tests.scope.methods.choices import BY_HAND, DIG, pit_scope, sample, shipped

CONCRETE = next(row for row in MADE["resources"] if row["code"] == "concrete")
SLAB = {"20": [item("010", "slab-pour", area="324 sf", thickness="4 in", permits="2 permit")]}


@cache
def sample_estimate():
    scope, tables = sample()
    return price(scope, tables, scope.on)


def priced(path, quote, markups=(), on=SPRING):
    """Return a slab at shipped rates, with a quote for its concrete and markups of one's own."""
    shipped = write_folder(path / "shipped", MADE, SHIPPED)
    above = [write_folder(path / "mine", {"markups": markups}, "mine")] if markups else []
    quotes = write_folder(path / "quotes", {"resources": [{**CONCRETE, **quote}]}, QUOTES)
    tables = load_tables([shipped, *above, quotes])
    return price(scope_of(tables, SLAB), tables, on)


QUOTE = {"rate": "150.00", "date": "2026-02-01", "valid_until": "2026-04-30", "source": "a quote"}


def test_a_slab_rests_on_the_quote_for_its_concrete_and_on_the_fee_that_ships(tmp_path):
    """Show 324 sf x 4 in = 4 cy, 5 % waste 4.2, in half yards 4.5 x 150.00 = 675.00; fee 170.00.

    Its markups ship: tax 7.25 % of 675.00 = 48.94, overhead 84.50, bond 500, profit
    8 % of 929.50 = 74.36; together 707.80.
    """
    grounds = priced(tmp_path, QUOTE).rests_on
    assert grounds.direct_cost == {"quotes": Decimal("675.00"), "illustrative_rates": Decimal(170)}
    assert grounds.markups == {"illustrative_rates": Decimal("707.80")}
    assert grounds.cash_cost == {
        "quotes": Decimal("675.00"), "illustrative_rates": Decimal("877.80"),
    }  # fmt: skip
    assert grounds.by_phase == {"20": grounds.direct_cost}
    assert grounds.statements == (
        "$877.80 of $1,552.80 (57 %) rests on illustrative rates: get quotes before you rely on "
        "it.",
    )


def test_a_markup_of_ones_own_rests_on_what_it_is_taken_on(tmp_path):
    """Show that 10 % of 845.00 is 84.50: 675/845 of it 67.50 on the quote, 17.00 illustrative."""
    rows = [row | {"source": "own books"} for row in MADE["markups"] if row["code"] != "profit"]
    shipped = MADE | {"markups": ()}
    tables = load_tables(
        [
            write_folder(tmp_path / "shipped", shipped, SHIPPED),
            write_folder(tmp_path / "mine", {"markups": rows}, "mine"),
            write_folder(tmp_path / "q", {"resources": [{**CONCRETE, **QUOTE}]}, QUOTES),
        ]
    )
    grounds = price(scope_of(tables, SLAB), tables, SPRING).rests_on
    # tax 48.94 all on the quote, bond 500 own
    assert grounds.markups == {
        "quotes": Decimal("116.44"), "own_rates": Decimal("500.00"),
        "illustrative_rates": Decimal("17.00"),
    }  # fmt: skip


def test_a_quote_that_has_run_out_is_no_quote_any_more(tmp_path):
    grounds = priced(tmp_path, QUOTE, on=date(2026, 5, 1)).rests_on
    assert grounds.direct_cost["expired_quotes"] == Decimal("675.00")
    assert "quotes" not in grounds.direct_cost
    assert grounds.statements[-1] == (
        "$675.00 of $1,552.80 (43 %) rests on quotes that have expired: ask whether the prices "
        "still hold."
    )


@pytest.mark.parametrize(
    ("changed", "ground"),
    [
        ({}, "quotes"),
        ({"valid_until": ""}, "own_rates"),
        ({"valid_until": "2026-03-31"}, "expired_quotes"),
        ({"source": "Illustrative, copied"}, "illustrative_rates"),
    ],
)
def test_a_rate_rests_on_what_its_row_says(tmp_path, changed, ground):
    rate = priced(tmp_path, QUOTE | changed).priced.lines.rates[0]
    assert ground_of(rate, SPRING) == ground


def test_a_dollar_for_a_dollar_is_an_allowance_of_the_scope():
    rates = sample_estimate().priced.lines.rates
    (allowance,) = {one for one in rates if one.code == "shoring-allowance"}
    assert ground_of(allowance, SPRING) == "allowances"


def test_the_grounds_of_the_sample_add_up_to_its_totals():
    estimate, grounds = sample_estimate(), sample_estimate().rests_on
    for name in ("direct_cost", "cash_cost", "own_value", "full_cost"):
        assert sum(getattr(grounds, name).values()) == getattr(estimate, name)
    assert sum(grounds.markups.values()) == estimate.cash_cost - estimate.direct_cost
    from estimator.pricing.summaries import cash_by_phase

    assert {code: sum(amounts.values()) for code, amounts in grounds.by_phase.items()} == (
        cash_by_phase(estimate)
    )


cents = st.integers(-5_000_000, 50_000_000)


@given(
    st.dictionaries(
        st.sampled_from(["labor", "material", "salvage", "fee"]),
        st.dictionaries(st.sampled_from(sorted(GROUNDS)), cents),
    )
)
def test_markups_apportioned_to_their_grounds_add_up_to_the_cent(paid):
    by_kind = {kind: sum(grounds.values()) for kind, grounds in paid.items()}
    own = [replace(one, source="own") for one in sample()[1].markups.values()]
    own = [replace(one, origin=replace(one.origin, tables="mine")) for one in own]
    amounts = markup_amounts(by_kind, own)
    assert sum(of_markups(amounts, paid).values()) == sum(one.amount_cents for one in amounts)


def test_json_has_the_grounds_and_they_are_read_back():
    text = estimate_json(sample_estimate())
    assert estimate_from_json(text).rests_on == sample_estimate().rests_on
    # of an estimate that was stored before
    older = text.replace('"rests_on"', '"something"')
    assert estimate_from_json(older).rests_on is None


def test_a_part_larger_than_the_total_is_given_no_share():
    (sentence,) = statements(
        {"illustrative_rates": Decimal(120), "quotes": Decimal(-20)}, Decimal(100)
    )
    assert sentence == (
        "$120.00, beside credits in a total of $100.00, rests on illustrative rates: get quotes "
        "before you rely on it."
    )


@pytest.mark.parametrize(
    ("on", "sentences"),
    [
        (SPRING, ["$170.00 is priced without a range and not by a valid quote"]),
        (
            date(2026, 5, 1),
            [
                "$845.00 is priced without a range and not by a valid quote, $675.00 of it by "
                "quotes that have expired"
            ],
        ),
    ],
    ids=["valid", "expired"],
)
def test_what_no_quote_holds_and_has_no_range_is_said_to_count_as_certain(tmp_path, on, sentences):
    """The quote of $675.00 for concrete ends on April 30; the fee of $170.00 has no range."""
    told = job_risk(priced(tmp_path, QUOTE, on=on), iterations=200).statements
    rest = ": those prices count as certain, and the total looks surer than it is."
    assert [one.removesuffix(rest) for one in told if one.endswith(rest)] == sentences


def test_a_sum_for_mobilization_is_a_lump_sum_without_a_quote():
    scope = pit_scope(DIG | {"mobilization": "$240"}, BY_HAND)
    grounds = price(scope, shipped(), SPRING).rests_on
    assert grounds.direct_cost["lump_sums"] == Decimal("240.00")
    assert "own_rates" not in grounds.direct_cost
