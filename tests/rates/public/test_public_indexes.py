"""Which shipped prices have gone stale by the public index of their material."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

import estimator
from estimator.opening import open_tables
from estimator.rates.adjustment.adjusted_rates import Adjustment, adjusted
from estimator.rates.public.public_indexes import public_indexes, stale_prices

RATES = open_tables(None).rates
SCOPE = """\
project: Harrow Lane Carbarn
on: 2026-03-02
phases:
  - code: "20"
    name: Posts
    items:
      - {code: "010", name: Caps, assembly: post-caps, inputs: {caps: 8 ea}}
"""


def rates_of(*codes):
    return [RATES.newest_rate(code) for code in codes]


@pytest.mark.parametrize(
    ("code", "change"),
    [
        # BLS Producer Price Index, WPU1017 and WPU0811, read by others on 2026-09-24:
        # 381.162 / 315.369 and 294.899 / 259.987.
        ("rebar", Decimal("0.209")),
        ("framing-lumber", Decimal("0.134")),
    ],
)
def test_steel_and_lumber_of_january_2026_are_stale_by_the_autumn(code, change):
    (stale,) = stale_prices(rates_of(code), date(2026, 11, 20))
    assert stale.change == change
    assert stale.last == date(2026, 8, 1)


def test_the_sentence_gives_the_price_that_the_index_would_make_of_it():
    """145.00 x 1.209 = 175.305: 175.31."""
    (stale,) = stale_prices(rates_of("post-cap"), date(2026, 8, 31))
    assert "steel mill products rose 20.9 % from 2026-01 to 2026-08" in stale.sentence
    assert "Steel post cap, painted $145.00 per ea would be $175.31" in stale.sentence


@pytest.mark.parametrize(
    ("code", "on"),
    [
        ("crushed-stone-4", date(2026, 8, 1)),  # stone moved by 2.3 %
        ("rebar", date(2026, 2, 1)),  # steel by 3.1 % so far
        ("rebar", date(2025, 12, 1)),  # before the price
        ("ready-mix-4000", date(2026, 8, 1)),  # no figure of 2026 is known
    ],
)
def test_what_hardly_moved_or_has_no_index_is_not_said(code, on):
    assert not stale_prices(rates_of(code), on)


def test_a_quote_with_a_last_day_is_not_stale_by_an_index():
    (rebar,) = rates_of("rebar")
    quote = replace(rebar, valid_until=date(2026, 12, 31))
    assert not stale_prices([quote], date(2026, 11, 20))


def test_each_resource_of_an_index_is_a_material_of_the_tables():
    assert all(RATES.kind_of(code) == "material" for code in public_indexes())


def test_an_estimate_of_the_autumn_warns_and_one_of_the_spring_does_not(tmp_path):
    path = tmp_path / "scope.yaml"
    path.write_text(SCOPE, encoding="utf-8")
    scope, tables, _ = estimator.open_scope(path)
    autumn, spring = (
        estimator.price(scope, tables, on) for on in (date(2026, 10, 5), date(2026, 3, 2))
    )
    assert any("steel mill products rose 20.9 %" in one for one in autumn.warnings)
    assert not any("rose" in one for one in spring.warnings)
    assert autumn.cash_cost == spring.cash_cost


def test_public_indexes_adjust_each_resource_by_its_own_material():
    """Rebar 0.98 x 1.208622; framing lumber 1.05 x 1.134284: 1.1910."""
    new = adjusted(
        rates_of("framing-lumber", "laborer"), Adjustment(date(2026, 8, 15), public_indexes())
    )
    assert [(one.code, one.rate) for one in new] == [("framing-lumber", Decimal("1.1910"))]
