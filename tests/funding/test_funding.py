"""Terms, lines, draws and interest: limits, properties, what is refused."""

from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import FundingFaulty
from estimator.funding.day_counts import DAY_COUNTS, days_30_360_end_of_february, year_fraction
from estimator.funding.draws import (
    COST,
    PERCENT,
    PRO_RATA,
    EquityTerms,
    LineState,
    draw_line,
    draw_totals,
    totals_disagree,
)
from estimator.funding.lender_schedule import LenderLine, schedule_of_values, spread_over_lines
from estimator.funding.loan_interest import (
    BalanceChange,
    RateStep,
    accrued_interest,
    monthly_interest,
)
from estimator.funding.retainage import (
    EVERYTHING,
    NEW_WORK,
    STOP,
    RetainageTerms,
    retainage_held,
)
from estimator.funding.tax_credit import (
    Expenditure,
    recapture,
    rehabilitation_credit,
    substantial_windows,
)
from estimator.tracking.budget import BudgetCode

APRIL = date(2026, 4, 1)
CENTS = st.integers(0, 10**10)
TERMS = st.builds(
    RetainageTerms,
    st.sampled_from([Decimal("0.05"), Decimal("0.10")]),
    st.sampled_from([Decimal(0), Decimal("0.10")]),
    st.sampled_from(["", STOP, NEW_WORK, EVERYTHING]),
    st.sampled_from([Decimal("0.5"), Decimal("0.75")]),
    st.booleans(),
    st.sampled_from([Decimal(0), Decimal("0.05")]),
)


@pytest.mark.parametrize(
    ("effect", "held"), [(STOP, 5_000), (NEW_WORK, 5_500), (EVERYTHING, 3_000), ("", 6_000)]
)
def test_reduced_at_half_to_five_percent_has_three_readings(effect, held):
    """$600 of $1,000 are done: 10 % of 500; and 5 % of the 100 beyond; or 5 % of all 600."""
    terms = RetainageTerms(effect=effect, reduced_fraction=Decimal("0.05"))
    assert retainage_held(terms, 100_000, 60_000) == held


def test_at_least_half_and_more_than_half_differ_at_half():
    reached = RetainageTerms(effect=EVERYTHING)
    strict = RetainageTerms(effect=EVERYTHING, is_strict=True)
    assert (retainage_held(reached, 1_000, 500), retainage_held(strict, 1_000, 500)) == (0, 50)


def test_a_percent_in_place_of_a_fraction_is_refused():
    with pytest.raises(FundingFaulty, match=r"work_fraction: is 10; a fraction from 0 to 1"):
        RetainageTerms(work_fraction=Decimal(10))


@st.composite
def states(draw):
    scheduled = draw(st.integers(1, 10**9))
    return LineState(
        "1", "Work", scheduled, draw(st.integers(-scheduled, 10**8)), draw(CENTS),
        draw(st.decimals(0, 100, places=1)), draw(st.integers(0, 10**8)),
    )  # fmt: skip


@given(states(), TERMS, st.sampled_from(["cost", "percent", "lesser"]))
def test_no_line_passes_its_scheduled_value_of_the_day(state, terms, basis):
    line = draw_line(state, terms, basis)
    assert 0 <= line.done_and_stored_cents <= max(state.revised_cents, 0)
    assert line.earned_cents + line.balance_to_finish_cents == state.revised_cents


@given(states(), TERMS, TERMS)
def test_the_retainage_never_changes_the_work_done(state, one, other):
    first, second = draw_line(state, one), draw_line(state, other)
    assert (first.done_cents, first.stored_cents) == (second.done_cents, second.stored_cents)


@given(states(), TERMS)
def test_the_last_draw_of_finished_work_ends_at_the_revised_schedule(state, terms):
    done = LineState("1", "Work", state.scheduled_cents, state.change_cents, 10**11, Decimal(100))
    line = draw_line(done, terms, is_last=True)
    assert line.earned_cents == max(state.revised_cents, 0)
    assert line.balance_to_finish_cents == min(state.revised_cents, 0)


def test_the_lesser_of_cost_and_percent_is_drawn_unless_the_terms_say_otherwise():
    state = LineState("1", "Work", 100_000, 0, 40_000, Decimal(30))
    drawn = [draw_line(state, RetainageTerms(), basis).done_cents for basis in (COST, PERCENT)]
    assert drawn == [40_000, 30_000]
    assert draw_line(state, RetainageTerms()).done_cents == 30_000


def test_a_change_below_what_was_drawn_is_to_be_recovered():
    state = LineState("1", "Work", 100_000, -70_000, 60_000, Decimal(100), 0, 50_000)
    line = draw_line(state, RetainageTerms())
    assert (line.over_billed_cents, line.done_this_period_cents) == (20_000, -20_000)


def test_faults_of_a_line_come_together():
    state = LineState("1", "Work", 1, 0, 0, Decimal(101), -5)
    with pytest.raises(FundingFaulty) as caught:
        draw_line(state, RetainageTerms(), "guess")
    assert len(caught.value.faults) == 3


def line_of(cents):
    return draw_line(LineState("1", "Work", 10**9, 0, cents, Decimal(100)), RetainageTerms())


def test_equity_goes_first_until_it_is_paid_in():
    """$900.00 are requested; $500.00 of equity come first, the loan pays the rest."""
    equity = EquityTerms(50_000, 500_000)
    one = draw_totals([line_of(100_000)], equity)
    assert (one.equity_cents, one.loan_cents) == (50_000, 40_000)
    two = draw_totals([line_of(200_000)], equity, 50_000, 90_000, 90_000)
    assert (two.equity_cents, two.loan_cents) == (0, 90_000)


def test_pro_rata_splits_each_draw():
    one = draw_totals([line_of(100_000)], EquityTerms(50_000, 450_000, PRO_RATA))
    assert (one.equity_cents, one.loan_cents) == (9_000, 81_000)


def test_short_funding_is_requested_again():
    """$900.00 were granted and $700.00 funded: the next request has the $200.00 in it."""
    again = draw_totals([line_of(100_000)], EquityTerms(0, 10**9), 0, 70_000, 90_000)
    assert (again.requested_cents, again.short_funded_cents) == (20_000, 20_000)


def test_the_loan_is_not_drawn_beyond_its_commitment():
    with pytest.raises(FundingFaulty, match=r"\$100.00 over its commitment"):
        draw_totals([line_of(100_000)], EquityTerms(0, 80_000))


def test_what_the_owner_paid_before_is_no_part_of_the_commitment():
    """Of $400.00 funded the owner paid $300.00; with the $500.00 requested the loan is $600.00."""
    equity = EquityTerms(30_000, 60_000)
    assert draw_totals([line_of(100_000)], equity, 30_000, 40_000).loan_cents == 50_000
    with pytest.raises(FundingFaulty, match=r"\$0.01 over its commitment"):
        draw_totals([line_of(100_000)], EquityTerms(30_000, 59_999), 30_000, 40_000)


def test_one_cent_that_does_not_add_up_is_reported():
    lines = [line_of(100_000)]
    assert totals_disagree(lines, 90_000, 0) == ""
    assert totals_disagree(lines, 90_001, 0) == (
        "the lines come to $900.00 and the request to $900.01: $0.01 apart"
    )


@given(st.lists(st.integers(0, 10**9), min_size=1, max_size=8), TERMS, st.data())
def test_funded_short_and_retainage_are_the_work_as_granted(amounts, terms, data):
    """Draw after draw: what was funded, is short and is held adds up to what is done and stored."""
    done = funded = granted = 0
    for cents in amounts:
        done += cents
        state = LineState("1", "Work", 10**11, 0, done, Decimal(100))
        line = draw_line(state, terms, COST)
        request = draw_totals([line], EquityTerms(0, 10**12), 0, funded, granted)
        granted = line.earned_cents
        pays = max(request.requested_cents, 0)
        funded += data.draw(st.integers(0, pays)) if pays else 0
        short = granted - funded
        assert funded + short + line.retainage_cents == line.done_and_stored_cents


BUDGET = {
    "20.010": BudgetCode("20.010", "Fill", "20", Decimal(1), "ton", {"material": 100_001}),
    "30.010": BudgetCode("30.010", "Wall", "30", Decimal(1), "sf", {"labor": 50_000}),
}


def test_a_code_that_two_lines_share_is_split_to_the_cent():
    lines = [
        LenderLine("1", "Site", {"20.010": Decimal("0.5")}),
        LenderLine("2", "Shell", {"20.010": Decimal("0.5"), "30.010": Decimal(1)}),
    ]
    values = [one.scheduled_cents for one in schedule_of_values(BUDGET, lines)]
    assert values == [50_001, 100_000]
    assert sum(spread_over_lines({"20.010": -7}, lines).values()) == -7


@pytest.mark.parametrize("share", ["0", "-0.5"])
def test_a_line_that_bears_no_part_of_a_code_is_refused(share):
    shares = {"20.010": Decimal(1), "30.010": Decimal(share)}
    with pytest.raises(FundingFaulty, match=f"bears {share} of 30.010; a share is above zero"):
        schedule_of_values(BUDGET, [LenderLine("1", "Site", shares)])


def test_all_faults_of_a_schedule_come_together():
    lines = [LenderLine("1", "Site", {"20.01": Decimal(1)}), LenderLine("1", "Shell", {})]
    with pytest.raises(FundingFaulty) as caught:
        schedule_of_values(BUDGET, lines)
    assert [str(one) for one in caught.value.faults] == [
        "line '1': is listed twice; give each its own number",
        "line '1': there is no cost code '20.01'; did you mean '20.010'?",
        "cost code 20.010: is on no line; put it into one",
        "cost code 30.010: is on no line; put it into one",
    ]


RATES = [RateStep(date(2026, 1, 1), Decimal("0.09")), RateStep(date(2026, 5, 10), Decimal("0.08"))]
LOAN = [BalanceChange(APRIL, 10_000_000), BalanceChange(date(2026, 4, 20), 5_000_000)]


@given(st.integers(0, 120), st.integers(0, 120), st.sampled_from(["actual/360", "actual/365"]))
def test_interest_is_additive_over_any_split_of_its_span(first, second, day_count):
    middle, end = APRIL + timedelta(first), APRIL + timedelta(first + second)

    def interest(a, b):
        return accrued_interest(LOAN, RATES, a, b, day_count)

    assert interest(APRIL, middle) + interest(middle, end) == interest(APRIL, end)


def test_the_day_of_payment_bears_no_interest_and_a_new_rate_holds_from_its_day():
    """$100,000 for a day at 9 % of 360 is $25.00; from May 10 on the $150,000 bear 8 %: $33.33."""
    assert accrued_interest(LOAN, RATES, APRIL, APRIL + timedelta(1)) == 2_500
    turn = date(2026, 5, 10)
    assert accrued_interest(LOAN, RATES, turn, turn + timedelta(1)) == Fraction(10_000, 3)


def test_interest_that_is_added_to_the_loan_bears_interest_itself():
    """April: 100,000 x 9 % x 30 / 360 = 750.00; May on 100,750 for 31 days: 780.81."""
    loan = [BalanceChange(APRIL, 10_000_000)]
    rates = [RateStep(APRIL, Decimal("0.09"))]
    months = monthly_interest(loan, rates, date(2026, 6, 1), is_added=True)
    assert [one.cents for one in months] == [75_000, 78_081]
    assert months[-1].balance_cents == 10_000_000 + 75_000 + 78_081


def test_interest_runs_from_the_earliest_draw_in_whatever_order_they_are_listed():
    """April: 100,000 x 9 % x 30 / 360 = 750.00; May: 150,000 x 9 % x 31 / 360 = 1,162.50."""
    loan = [BalanceChange(date(2026, 5, 1), 5_000_000), BalanceChange(APRIL, 10_000_000)]
    months = monthly_interest(loan, [RateStep(APRIL, Decimal("0.09"))], date(2026, 6, 1))
    assert [one.cents for one in months] == [75_000, 116_250]


def test_no_loan_bears_no_interest():
    assert monthly_interest([], RATES, APRIL) == ()


def test_money_before_the_first_rate_or_paid_back_beyond_the_balance_is_refused():
    early = [BalanceChange(date(2025, 12, 1), 1)]
    with pytest.raises(FundingFaulty, match="there is no rate on 2025-12-01"):
        accrued_interest(early, RATES, date(2025, 12, 1), APRIL)
    too_much = [BalanceChange(APRIL, -1)]
    with pytest.raises(FundingFaulty, match="more was paid back"):
        accrued_interest(too_much, RATES, APRIL, date(2026, 5, 1))


@pytest.mark.parametrize("day_count", DAY_COUNTS)
def test_no_days_are_no_part_of_a_year(day_count):
    assert year_fraction(APRIL, APRIL, day_count) == 0


def test_the_last_of_february_counts_as_the_30th_where_the_terms_say_so():
    start, end = date(2027, 2, 28), date(2028, 2, 29)
    assert days_30_360_end_of_february(start, end) == 360


def test_an_unknown_day_count_or_dates_turned_round_are_refused():
    with pytest.raises(FundingFaulty, match="did you mean 'actual/365'"):
        year_fraction(APRIL, APRIL, "actual/356")
    with pytest.raises(FundingFaulty, match="swap the dates"):
        year_fraction(APRIL, date(2026, 3, 1), "actual/360")


@given(st.integers(0, 10**12), st.integers(2000, 2100))
def test_the_five_years_of_a_credit_add_up(cents, year):
    credit = rehabilitation_credit(cents, date(year, 6, 1))
    assert sum(part for _, part in credit.by_year) == credit.credit_cents
    parts = [part for _, part in credit.by_year]
    assert max(parts) - min(parts) <= 1


def test_a_phased_window_is_sixty_months_long():
    (window,) = substantial_windows([], 0, date(2026, 12, 1), date(2026, 12, 31), 60)
    assert (window.start, window.end) == (date(2022, 1, 1), date(2026, 12, 31))


def test_what_was_spent_before_a_window_is_part_of_its_basis():
    spent = [Expenditure(date(2024, 12, 31), 700), Expenditure(date(2025, 1, 1), 900_000)]
    (window,) = substantial_windows(spent, 100, date(2026, 12, 1), date(2026, 12, 31))
    assert (window.basis_cents, window.spent_cents, window.over_cents) == (800, 900_000, 400_000)


def test_terms_of_the_test_that_cannot_be_are_refused():
    december = date(2026, 12, 1)
    with pytest.raises(FundingFaulty, match="24, or 60"):
        substantial_windows([], 0, december, december, 36)
    with pytest.raises(FundingFaulty, match="below zero"):
        substantial_windows([], -1, december, december)
    with pytest.raises(FundingFaulty, match="is before"):
        substantial_windows([], 0, december, date(2026, 11, 1))
    with pytest.raises(FundingFaulty, match="below zero"):
        rehabilitation_credit(-1, december)


def test_years_in_service_from_a_leap_day_end_on_the_first_of_march():
    days = [one.until for one in recapture(1_000, date(2028, 2, 29))]
    assert days == [date(year, 3, 1) for year in range(2029, 2034)]
    assert recapture(1_000, date(2028, 2, 28))[0].until == date(2029, 2, 28)
