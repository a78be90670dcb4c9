from datetime import date
from decimal import Decimal, localcontext

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import RateMissing, ScopeFaulty, TablesFaulty
from estimator.rates.adjustment.escalation import (
    adjusted_rate,
    escalated_amount,
    factor_between,
    factor_to_midpoint,
    index_on,
    midpoint,
    months_between,
    printed_factor,
    yearly_factor,
)
from estimator.rates.adjustment.index_series import MONTHLY, QUARTERLY, IndexPoint, IndexSeries


def monthly(*points: tuple[int, int, str], name: str = "stone") -> IndexSeries:
    return IndexSeries(
        name,
        "2026-01 = 100",
        MONTHLY,
        tuple(IndexPoint(date(y, m, 1), Decimal(v), f"row {n}") for n, (y, m, v) in
              enumerate(points, start=2)),
        "invented",
    )  # fmt: skip


STONE = monthly((2026, 1, "100"), (2026, 2, "101"), (2026, 3, "99"), (2026, 5, "104"))
STEEL = IndexSeries(
    "steel",
    "2026Q1 = 100",
    QUARTERLY,
    (IndexPoint(date(2026, 1, 1), Decimal(100)), IndexPoint(date(2026, 4, 1), Decimal(106))),
    "invented",
)
days = st.dates(date(2026, 1, 1), date(2026, 3, 31))
later_days = st.dates(date(2026, 1, 1), date(2040, 12, 31))
changes = st.decimals("-0.30", "0.50", places=4)


def test_a_price_of_january_is_one_percent_dearer_in_february():
    assert factor_between(STONE, date(2026, 1, 31), date(2026, 2, 1)) == Decimal("1.01")


def test_any_day_of_a_month_has_the_figure_of_the_month():
    assert {index_on(STONE, date(2026, 2, day)) for day in (1, 14, 28)} == {Decimal(101)}


def test_a_falling_index_gives_a_factor_below_one():
    factor = factor_between(STONE, date(2026, 2, 1), date(2026, 3, 1))
    assert printed_factor(factor) == Decimal("0.980198")
    assert escalated_amount(Decimal("1000.00"), factor) == Decimal("980.20")


def test_within_one_month_a_price_stays_the_same():
    assert factor_between(STONE, date(2026, 2, 3), date(2026, 2, 27)) == 1


def test_a_price_is_taken_back_in_time_by_the_reciprocal():
    assert factor_between(STEEL, date(2026, 5, 1), date(2026, 1, 1)) == Decimal(
        "0.9433962264150943396226415094339623"
    )


@pytest.mark.parametrize(
    ("day", "figure"),
    [(date(2026, 1, 1), 100), (date(2026, 3, 31), 100), (date(2026, 4, 1), 106),
     (date(2026, 6, 30), 106)],
)  # fmt: skip
def test_a_quarterly_figure_holds_for_its_three_months_and_is_not_interpolated(day, figure):
    assert index_on(STEEL, day) == figure


def test_a_month_that_was_not_published_is_named_with_its_neighbors():
    with pytest.raises(RateMissing) as raised:
        index_on(STONE, date(2026, 4, 15))
    assert str(raised.value) == (
        "index stone has no figure for 2026-04; the nearest that it has: 2026-03 and 2026-05"
    )


def test_a_gap_is_not_filled_by_a_yearly_change():
    with pytest.raises(RateMissing, match="no figure for 2026-04"):
        index_on(STONE, date(2026, 4, 15), Decimal("0.04"))


def test_a_month_before_the_first_figure_is_refused():
    with pytest.raises(RateMissing) as raised:
        index_on(STEEL, date(2025, 12, 31), Decimal("0.04"))
    assert str(raised.value) == (
        "index steel has no figure for 2025Q4; the nearest that it has: 2026Q1"
    )


def test_a_month_after_the_last_figure_is_refused_without_a_yearly_change():
    with pytest.raises(RateMissing) as raised:
        index_on(STEEL, date(2026, 7, 1))
    assert str(raised.value) == (
        "index steel has no figure for 2026Q3; the nearest that it has: 2026Q2; beyond it, say by "
        "how much prices rise in a year"
    )


def test_after_the_last_month_prices_rise_by_the_yearly_change_that_is_given():
    assert index_on(STONE, date(2027, 5, 1), Decimal("0.04")) == Decimal("108.16")


def test_after_the_last_quarter_the_first_month_counts_as_one():
    after_a_year = index_on(STEEL, date(2027, 6, 30), Decimal("0.05"))
    assert after_a_year == Decimal("111.30")
    assert index_on(STEEL, date(2026, 7, 1), Decimal("0.05")) > 106


def test_a_yearly_change_of_nothing_holds_the_last_figure():
    assert index_on(STONE, date(2031, 11, 1), Decimal(0)) == 104


def test_the_midpoint_of_a_phase_is_its_middle_day():
    assert midpoint(date(2027, 3, 1), date(2027, 3, 31)) == date(2027, 3, 16)
    assert midpoint(date(2027, 3, 1), date(2027, 3, 2)) == date(2027, 3, 1)
    assert midpoint(date(2027, 3, 1), date(2027, 3, 1)) == date(2027, 3, 1)
    assert midpoint(date(2028, 2, 1), date(2028, 3, 1)) == date(2028, 2, 15)


def test_a_phase_from_january_to_march_is_priced_in_february():
    factor = factor_to_midpoint(STONE, date(2026, 1, 15), date(2026, 1, 1), date(2026, 3, 31))
    assert factor == Decimal("1.01")


def test_a_phase_that_finishes_before_it_starts_is_refused():
    with pytest.raises(ScopeFaulty, match="finishes on 2026-01-01, before its start on 2026-01-02"):
        midpoint(date(2026, 1, 2), date(2026, 1, 1))


def test_months_are_counted_from_month_to_month():
    assert months_between(date(2026, 1, 31), date(2026, 2, 1)) == 1
    assert months_between(date(2026, 1, 1), date(2025, 12, 31)) == -1


@pytest.mark.parametrize(
    ("change", "months", "factor"),
    [("0.05", 24, "1.1025"), ("0.05", 0, "1"), ("0", 7, "1"), ("0.21", 6, "1.1"),
     ("-0.19", 6, "0.9"), ("-0.02", 12, "0.98"), ("1", 12, "2"), ("0.25", -12, "0.8")],
)  # fmt: skip
def test_yearly_change_compounds_by_the_month(change, months, factor):
    assert yearly_factor(Decimal(change), months) == Decimal(factor)


@pytest.mark.parametrize("change", ["5", "-1", "1.01", "-3"])
def test_a_yearly_change_that_is_no_fraction_is_refused(change):
    with pytest.raises(ScopeFaulty, match="is not a fraction above -1 and at most 1; write 4 %"):
        yearly_factor(Decimal(change), 12)


@pytest.mark.parametrize("value", ["0", "-0.5"])
def test_a_figure_that_is_not_positive_is_refused_at_its_row(value):
    with pytest.raises(TablesFaulty, match=r"^row 3: the figure of index stone for 2026-02 is "):
        monthly((2026, 1, "100"), (2026, 2, value))


@pytest.mark.parametrize("value", ["NaN", "Infinity", "sNaN"])
def test_a_figure_that_is_not_finite_is_refused(value):
    with pytest.raises(TablesFaulty, match="value: is not a finite number"):
        IndexPoint(date(2026, 2, 1), Decimal(value))


def test_two_figures_of_a_month_and_months_out_of_order_are_reported_together():
    with pytest.raises(TablesFaulty) as raised:
        monthly((2026, 3, "1"), (2026, 3, "2"), (2026, 1, "3"))
    assert [str(fault) for fault in raised.value.faults] == [
        "row 3: index stone has two figures for 2026-03; keep one",
        "row 4: index stone has 2026-01 after 2026-03; sort the rows by month",
    ]


def test_an_index_without_a_figure_is_refused():
    with pytest.raises(TablesFaulty, match="index empty: has no figure"):
        IndexSeries("empty", "100", MONTHLY, (), "invented")


@pytest.mark.parametrize("month", [2, 3, 5, 6, 8, 9, 11, 12])
def test_a_quarter_that_starts_inside_a_quarter_is_refused(month):
    starts_on = date(2026, month, 1)
    with pytest.raises(TablesFaulty, match=f"starts on {starts_on}; it starts on the first day"):
        IndexSeries("odd", "100", QUARTERLY, (IndexPoint(starts_on, Decimal(1)),), "me")


def test_an_index_is_monthly_or_quarterly():
    with pytest.raises(TablesFaulty, match="has figures every 12 months"):
        IndexSeries("yearly", "100", 12, (IndexPoint(date(2026, 1, 1), Decimal(1)),), "me")


@pytest.mark.parametrize(
    ("rate", "factors", "result"),
    [("36.00", ["1.034"], "37.2240"), ("0.0125", ["1.002"], "0.0125"), ("1", ["0.00005"], "0.0001"),
     ("33.335", ["1.1", "0.9"], "33.0017"), ("5", [], "5.0000")],
)  # fmt: skip
def test_a_rate_is_rounded_once_half_up_to_four_decimals(rate, factors, result):
    assert str(adjusted_rate(Decimal(rate), [Decimal(one) for one in factors])) == result


def test_half_a_cent_of_an_escalated_amount_goes_up():
    assert escalated_amount(Decimal("100.00"), Decimal("1.00005")) == Decimal("100.01")
    assert escalated_amount(Decimal("-100.00"), Decimal("1.00005")) == Decimal("-100.01")


def test_the_callers_decimal_settings_change_no_figure():
    with localcontext() as context:
        context.prec = 5
        factor = factor_between(STONE, date(2026, 3, 1), date(2026, 5, 1))
        assert printed_factor(factor) == Decimal("1.050505")
        assert adjusted_rate(Decimal("12345.6789"), [Decimal("1.5")]) == Decimal("18518.5184")


@given(days, days, days)
def test_a_chain_of_factors_is_the_factor_of_its_ends(first, middle, last):
    chain = factor_between(STONE, first, middle) * factor_between(STONE, middle, last)
    assert abs(chain - factor_between(STONE, first, last)) < Decimal("1e-25")


@given(later_days, later_days, later_days, changes)
def test_a_chain_holds_beyond_the_last_figure_too(first, middle, last, change):
    chain = factor_between(STEEL, first, middle, change) * factor_between(
        STEEL, middle, last, change
    )
    whole = factor_between(STEEL, first, last, change)
    assert abs(chain / whole - 1) < Decimal("1e-25")


@given(st.integers(-240, 240), st.integers(-240, 240), changes)
def test_yearly_change_over_two_spans_is_their_product(first, second, change):
    product = yearly_factor(change, first) * yearly_factor(change, second)
    assert abs(product / yearly_factor(change, first + second) - 1) < Decimal("1e-25")


@given(st.dates(date(2000, 1, 1), date(2100, 1, 1)), st.integers(0, 4000))
def test_the_midpoint_lies_within_the_phase_and_halves_it(start, length):
    finish = date.fromordinal(start.toordinal() + length)
    middle = midpoint(start, finish)
    assert start <= middle <= finish
    assert 0 <= (finish - middle).days - (middle - start).days <= 1


def test_whole_numbers_are_figures_factors_and_rates():
    assert monthly((2026, 1, "100")).points[0] == IndexPoint(date(2026, 1, 1), 100, "row 2")
    assert escalated_amount(100, 2) == Decimal("200.00")
    assert adjusted_rate(36, [Decimal("1.5"), 2]) == Decimal("108.0000")
