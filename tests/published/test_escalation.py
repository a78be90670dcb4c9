"""Escalation and location against published indexes, worked examples and open data."""

from datetime import date
from decimal import Decimal
from itertools import pairwise

import numpy as np
import pytest

from estimator.rates.adjustment.escalation import (
    escalated_amount,
    factor_between,
    factor_to_midpoint,
    midpoint,
    months_between,
    printed_factor,
    yearly_factor,
)
from estimator.rates.adjustment.index_series import MONTHLY, QUARTERLY, IndexPoint, IndexSeries
from estimator.rates.adjustment.location import LocationFactor, factors_against
from tests.published.source import published


def consumer_prices() -> IndexSeries:
    """Return the quarterly consumer price index of the open data set, 1959 to 2009."""
    from statsmodels.datasets import macrodata

    data = macrodata.load_pandas().data[["year", "quarter", "cpi"]]
    points = tuple(
        IndexPoint(date(int(year), 3 * int(quarter) - 2, 1), Decimal(str(cpi)))
        for year, quarter, cpi in data.itertuples(index=False)
    )
    return IndexSeries("CPI-U", "1982-84 = 100", QUARTERLY, points, "statsmodels, macrodata")


def two_months(before: str, after: str) -> Decimal:
    points = (
        IndexPoint(date(2026, 1, 1), Decimal(before)), IndexPoint(date(2026, 2, 1), Decimal(after))
    )  # fmt: skip
    series = IndexSeries("an index", "any", MONTHLY, points, "the text")
    return factor_between(series, date(2026, 1, 1), date(2026, 2, 1))


@published(
    source="statsmodels, open data set macrodata (US consumer prices, 1959-2009)",
    section="column cpi: 170.9 in 2000Q1, 216.385 in 2009Q3",
    status="seen",
    note="the quotient is ours; the index is an end-of-quarter figure, 1982-84 = 100",
)
def test_a_hundred_thousand_dollars_of_early_2000_are_126614_98_in_autumn_2009():
    factor = factor_between(consumer_prices(), date(2000, 2, 15), date(2009, 9, 1))
    assert escalated_amount(Decimal(100_000), factor) == Decimal("126614.98")


@published(
    source="statsmodels, open data set macrodata (US consumer prices, 1959-2009)",
    section="column cpi: 216.889 in 2008Q3, 212.174 in 2008Q4",
    status="seen",
    note="prices fell by 2.2 %; a factor that is clipped at 1 would hide it",
)
def test_prices_that_fell_in_late_2008_give_a_factor_below_one():
    factor = factor_between(consumer_prices(), date(2008, 7, 1), date(2008, 12, 31))
    assert printed_factor(factor) == Decimal("0.978261")
    assert escalated_amount(Decimal(100_000), factor) == Decimal("97826.08")


@published(
    source="pandas, Series.pct_change, on the data set macrodata",
    section="changes from quarter to quarter, 1959 to 2009",
    status="derived",
    note="compounding all 202 quarterly changes gives back the index of the last quarter",
)
def test_every_quarterly_factor_agrees_with_pandas():
    from statsmodels.datasets import macrodata

    expected = 1 + macrodata.load_pandas().data["cpi"].pct_change().to_numpy()[1:]
    series = consumer_prices()
    starts = [point.starts_on for point in series.points]
    factors = [factor_between(series, *pair) for pair in pairwise(starts)]
    np.testing.assert_allclose([float(one) for one in factors], expected, rtol=1e-13)
    assert printed_factor(factor_between(series, starts[0], starts[-1])) == Decimal("7.466701")


@published(
    source="US Bureau of Labor Statistics, its example of an index change",
    section="129.9 to 136.0; the page that quotes it was not recorded",
    status="second-hand",
    note="prints 4.7 %: 0.047 was rounded before it was turned into per cent; 4.696 % exactly",
)
def test_an_index_from_129_9_to_136_rises_by_4_7_percent():
    assert printed_factor(two_months("129.9", "136.0")) == Decimal("1.046959")


@published(
    source="Alaska Department of Labor, Calculating Index Changes (undated page)",
    section="Anchorage, 201.427 in 2011 to 205.916 in 2012",
    status="seen",
    note="prints 2.22859 and rounds it to 2.2 %",
)
def test_anchorage_rose_by_2_22859_percent_in_2012():
    assert round((two_months("201.427", "205.916") - 1) * 100, 5) == Decimal("2.22860")
    assert round((two_months("201.427", "205.916") - 1) * 100, 1) == Decimal("2.2")


@published(
    source="Power Plant Engineering (textbook), ch. 2, Engineering Economics",
    section="p. 9, eq. 2-1 and 2-3: 1,000 at 5 % for 3 and 4 years; at 10 % for 2 months",
    status="seen",
    note="a monthly rate of (1 + yearly rate)^(1/12) - 1: twelve months give the yearly rate again",
)
@pytest.mark.parametrize(
    ("change", "months", "escalated"),
    [
        ("0.05", 36, "1157.63"), ("0.05", 48, "1215.51"),
        ("0.10", 2, "1016.01"), ("0.10", 12, "1100.00"),
    ],
)  # fmt: skip
def test_cost_escalates_by_compound_yearly_change(change, months, escalated):
    factor = yearly_factor(Decimal(change), months)
    assert escalated_amount(Decimal(1000), factor) == Decimal(escalated)


@published(
    source="IEEE 754 binary floating point",
    section="(1 + r)^(months / 12) by the power function",
    status="derived",
)
def test_fractional_years_agree_with_floating_powers():
    for change in (-0.3, -0.02, 0.0, 0.035, 0.5):
        for months in (-7, 1, 5, 11, 14, 29, 121):
            factor = yearly_factor(Decimal(str(change)), months)
            assert float(factor) == pytest.approx((1 + change) ** (months / 12), rel=1e-13)


@published(
    source="Calendar arithmetic of pandas (Period)",
    section="months between two days",
    status="derived",
)
def test_months_between_days_agree_with_periods():
    import pandas as pd

    days = [date(1999, 12, 31), date(2000, 1, 1), date(2004, 2, 29), date(2026, 11, 25)]
    for earlier in days:
        for later in days:
            span = pd.Period(later, "M").ordinal - pd.Period(earlier, "M").ordinal
            assert months_between(earlier, later) == span


@published(
    source="Source not recorded: a textbook exercise on house prices by city",
    section="600,000 in a city at 146, for a city at 190",
    status="seen",
    note="prints 780,821.9178, then rounds to 781,000; our factor has six decimals, and money "
    "multiplied by it is 8 cents off in 600,000",
)
def test_a_price_moves_between_places_by_the_quotient_of_their_factors():
    table = {
        place: {"material": LocationFactor(place, "material", Decimal(factor), "the exercise")}
        for place, factor in (("dear", "1.90"), ("cheap", "1.46"))
    }
    factor = factors_against(table, "dear", "cheap")["material"].factor
    assert factor == Decimal("1.301370")
    assert escalated_amount(Decimal(600_000), factor) == Decimal("780822.00")
    assert escalated_amount(Decimal(600_000), Decimal(190) / 146) == Decimal("780821.92")


@published(
    source="FEMA, independent study course IS-1013, Part E: Cost Escalation",
    section="months from the estimate to the midpoint of construction",
    status="seen",
    note="the rule was read: months from the estimate to the midpoint; it adds a monthly "
    "percentage, where ours compounds. The dates are our example",
)
def test_a_phase_from_march_to_august_is_escalated_to_the_end_of_may():
    middle = midpoint(date(2027, 3, 1), date(2027, 8, 31))
    assert middle == date(2027, 5, 31)
    assert months_between(date(2026, 11, 15), middle) == 6


@published(
    source="statsmodels, open data set macrodata (US consumer prices, 1959-2009)",
    section="column cpi: 170.9 in 2000Q1, 214.469 in 2009Q2",
    status="seen",
    note="a phase from April 15 to June 15 has its middle in the second quarter; the quotient is "
    "ours",
)
def test_a_phase_of_spring_2009_is_priced_at_the_index_of_its_middle():
    factor = factor_to_midpoint(
        consumer_prices(), date(2000, 2, 15), date(2009, 4, 15), date(2009, 6, 15)
    )
    assert escalated_amount(Decimal(100_000), factor) == Decimal("125493.86")
