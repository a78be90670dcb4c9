"""Draws, holdback, interest and the rehabilitation credit against published rules and examples."""

from datetime import date, timedelta
from decimal import Decimal

import pytest

from estimator.funding.day_counts import (
    ACTUAL_360,
    ACTUAL_365,
    THIRTY_360,
    days_30_360,
    days_30e_360,
    days_actual,
    year_fraction,
)
from estimator.funding.draws import EquityTerms, LineState, draw_line, draw_totals
from estimator.funding.loan_interest import (
    BalanceChange,
    RateStep,
    accrued_interest,
    half_commitment_interest,
    monthly_interest,
)
from estimator.funding.retainage import NEW_WORK, STOP, RetainageTerms, retainage_held
from estimator.funding.tax_credit import (
    PHASED_MONTHS,
    Expenditure,
    recapture,
    rehabilitation_credit,
    substantial_windows,
)
from estimator.money import whole_half_up
from tests.published.source import published

ISDA = "2006 ISDA Definitions, section 4.16(f), 30/360 worksheet"
PROMPT_PAYMENT = "5 CFR 1315.17, Prompt Payment, formulas"
TREASURY = "Bureau of the Fiscal Service, Prompt Payment, calculators of interest"
REGULATION_Z = "12 CFR part 1026, appendix D, Multiple-Advance Construction Loans"
CREDIT_RULES = "26 CFR 1.48-12, qualified rehabilitated building"


# Start, end, and the days by bond basis, by Eurobond basis and by the calendar.
WORKSHEET = [
    ((2007, 1, 15), (2007, 1, 30), 15, 15, 15),
    ((2007, 1, 15), (2007, 2, 15), 30, 30, 31),
    ((2007, 1, 15), (2007, 7, 15), 180, 180, 181),
    ((2007, 9, 30), (2008, 3, 31), 180, 180, 183),
    ((2007, 9, 30), (2007, 10, 31), 30, 30, 31),
    ((2007, 9, 30), (2008, 9, 30), 360, 360, 366),
    ((2007, 1, 15), (2007, 1, 31), 16, 15, 16),
    ((2007, 1, 31), (2007, 2, 28), 28, 28, 28),
    ((2007, 2, 28), (2007, 3, 31), 33, 32, 31),
    ((2006, 8, 31), (2007, 2, 28), 178, 178, 181),
    ((2007, 2, 28), (2007, 8, 31), 183, 182, 184),
    ((2007, 2, 14), (2007, 2, 28), 14, 14, 14),
    ((2007, 2, 26), (2008, 2, 29), 363, 363, 368),
    ((2008, 2, 29), (2009, 2, 28), 359, 359, 365),
    ((2008, 2, 29), (2008, 3, 30), 31, 31, 30),
    ((2008, 2, 29), (2008, 3, 31), 32, 31, 31),
    ((2007, 2, 28), (2007, 3, 5), 7, 7, 5),
    ((2007, 10, 31), (2007, 11, 28), 28, 28, 28),
    ((2007, 8, 31), (2008, 2, 29), 179, 179, 182),
    ((2008, 2, 29), (2008, 8, 31), 182, 181, 184),
    ((2008, 8, 31), (2009, 2, 28), 178, 178, 181),
    ((2009, 2, 28), (2009, 8, 31), 183, 182, 184),
]


@published(
    source=ISDA,
    section="comparison of 22 pairs of dates, bond basis",
    status="second-hand",
    note="read in public test data that quote the worksheet; the print has parts of 360",
)
@pytest.mark.parametrize(("start", "end", "days", "_eurobond", "_actual"), WORKSHEET)
def test_months_of_thirty_days_by_the_bond_basis(start, end, days, _eurobond, _actual):
    assert days_30_360(date(*start), date(*end)) == days


@published(
    source=ISDA,
    section="comparison of 22 pairs of dates, Eurobond basis, 4.16(g)",
    status="second-hand",
    note="read in public test data that quote the worksheet",
)
@pytest.mark.parametrize(("start", "end", "_bond", "days", "_actual"), WORKSHEET)
def test_months_of_thirty_days_by_the_eurobond_basis(start, end, _bond, days, _actual):
    assert days_30e_360(date(*start), date(*end)) == days


@published(
    source=ISDA,
    section="comparison of 22 pairs of dates, actual days",
    status="second-hand",
    note="read in public test data that quote the worksheet",
)
@pytest.mark.parametrize(("start", "end", "_bond", "_eurobond", "days"), WORKSHEET)
def test_actual_days(start, end, _bond, _eurobond, days):
    assert days_actual(date(*start), date(*end)) == days


@published(
    source="Source not recorded: a lender's brochure on construction loans",
    section="interest of a month at 4.5 %",
    status="seen",
    note="a day's rate rounded first gives 184.80; it is rounded once, at the end",
)
def test_30_days_on_50_000_at_4_5_percent_of_365_are_184_93():
    start = date(2026, 4, 1)
    loan = [BalanceChange(start, 5_000_000)]
    rates = [RateStep(start, Decimal("0.045"))]
    end = start + timedelta(30)
    assert whole_half_up(accrued_interest(loan, rates, start, end, ACTUAL_365)) == 18_493


@published(
    source=REGULATION_Z,
    section="part I, A: half of the commitment for the construction period",
    status="second-hand",
    note="the method was read, the amounts are from memory",
)
def test_50_000_at_10_5_percent_for_five_months_are_1_093_75_of_supposed_interest():
    assert half_commitment_interest(5_000_000, Decimal("0.105"), 5) == 109_375


@published(
    source="48 CFR 52.232-5, Payments Under Fixed-Price Construction Contracts",
    section="(e), retainage of at most 10 percent of the approved amount",
    status="seen",
)
def test_ten_percent_of_the_approved_amount_is_held():
    assert retainage_held(RetainageTerms(), 100_000_000, 34_567_800) == 3_456_780


@published(
    source="HUD Handbook 4000.1, 203(k) program",
    section="ten percent holdback of each draw",
    status="second-hand",
)
def test_ten_percent_of_five_draws_is_held_and_released_last():
    draws = [9_000, 15_000, 14_000, 12_000, 10_000]
    scheduled = sum(draws) * 100
    funded, released = 0, []
    for number in range(1, len(draws) + 1):
        done = sum(draws[:number]) * 100
        net = done - retainage_held(RetainageTerms(), scheduled, done)
        released.append((net - funded) // 100)
        funded = net
    assert released == [8_100, 13_500, 12_600, 10_800, 9_000]
    assert scheduled - funded == 600_000


@published(
    source="Source not recorded: the trade's rule that stored material is a balance, not a flow",
    section="two applications at 10 %",
    status="derived",
    note="300,000; 62,000 done and 23,000 stored; then 155,000 done, 8,000 stored, +12,500 - 4,000",
)
def test_two_applications_of_a_contract_of_300_000():
    equity = EquityTerms(0, 100_000_000)
    terms = RetainageTerms()
    first = draw_line(
        LineState("1", "Work", 30_000_000, 0, 6_200_000, Decimal(100), 2_300_000), terms
    )
    one = draw_totals([first], equity)
    assert one.requested_cents == 7_650_000
    second = draw_line(
        LineState("1", "Work", 30_000_000, 850_000, 15_500_000, Decimal(100), 800_000, 6_200_000),
        terms,
    )
    two = draw_totals([second], equity, funded_before_cents=7_650_000)
    assert two.requested_cents == 7_020_000
    assert second.balance_to_finish_cents == 16_180_000


def _evenly(first: date, months: int, cents: int) -> list[Expenditure]:
    """Return a sum spent in equal parts on the 15th of each month."""
    days = [date(first.year, first.month + i, 15) for i in range(months)]
    return [Expenditure(day, cents // months) for day in days]


@published(
    source=CREDIT_RULES,
    section="(b)(2)(x), example 1",
    status="from memory",
    note="every step follows the rules of (b)(2), which were read",
)
def test_the_only_window_that_passes_is_february_1982_to_january_1984():
    """Basis 140,000; 48,000 evenly in 1982, 100,000 in 1983, 20,000 in ten months of 1984."""
    spent = [
        *_evenly(date(1982, 1, 1), 12, 4_800_000),
        *_evenly(date(1983, 1, 1), 12, 10_000_000),
        *_evenly(date(1984, 1, 1), 10, 2_000_000),
    ]
    windows = substantial_windows(spent, 14_000_000, date(1984, 1, 1), date(1984, 12, 31))
    passing = [one for one in windows if one.passes]
    assert [(one.start, one.end) for one in passing] == [(date(1982, 2, 1), date(1984, 1, 31))]
    assert passing[0].basis_cents == 14_400_000
    # 100,000 does not split into twelve equal months; the print has 146,000
    assert passing[0].spent_cents == pytest.approx(14_600_000, abs=12)


@published(source="26 U.S.C. 47(a), rehabilitation credit", section="(a)(1), (2)", status="seen")
def test_a_fifth_of_168_000_comes_in_five_equal_years():
    credit = rehabilitation_credit(16_800_000, date(2026, 9, 1))
    assert credit.credit_cents == 3_360_000
    assert credit.by_year == tuple((year, 672_000) for year in range(2026, 2031))


@published(
    source="26 U.S.C. 47(c)(1)(B)(i), substantially rehabilitated",
    section="the greater of the adjusted basis and $5,000 must be exceeded",
    status="seen",
)
@pytest.mark.parametrize(("cents", "passes"), [(500_000, False), (500_001, True)])
def test_five_thousand_dollars_must_be_exceeded_by_a_building_of_no_basis(cents, passes):
    spent = [Expenditure(date(2026, 3, 2), cents)]
    (window,) = substantial_windows(spent, 0, date(2026, 3, 1), date(2026, 3, 31))
    assert window.passes is passes


@published(source=ISDA, section="4.16(d), actual/365 fixed, and (e), actual/360", status="seen")
def test_a_year_of_366_days_is_longer_than_one_by_actual_days():
    start, end = date(2028, 1, 1), date(2029, 1, 1)
    assert year_fraction(start, end, "actual/365") * 365 == 366
    assert year_fraction(start, end, "actual/360") * 360 == 366


@published(
    source=REGULATION_Z,
    section="part I, B: the whole commitment for the construction period",
    status="second-hand",
    note="the method was read, the amounts are from memory",
)
def test_50_000_outstanding_at_10_5_percent_for_five_months_bear_2_187_50():
    start = date(2026, 1, 1)
    loan, rates = [BalanceChange(start, 5_000_000)], [RateStep(start, Decimal("0.105"))]
    assert accrued_interest(loan, rates, start, date(2026, 6, 1), THIRTY_360) == 218_750


@published(
    source="26 U.S.C. 47(c)(1)(B)(ii), phased rehabilitation",
    section="60 months in the place of 24",
    status="seen",
)
def test_work_in_phases_has_a_window_of_sixty_months():
    """$6,000 spent four years before the end pass the test of 60 months and not that of 24."""
    spent, december = [Expenditure(date(2022, 6, 1), 600_000)], date(2026, 12, 31)
    (phased,) = substantial_windows(spent, 0, december, december, PHASED_MONTHS)
    (usual,) = substantial_windows(spent, 0, december, december)
    assert (phased.passes, usual.passes) == (True, False)


@published(
    source="26 U.S.C. 47(c)(1)(B)(i), substantially rehabilitated",
    section="basis as of the beginning of the first day of the period",
    status="seen",
)
def test_what_is_spent_on_the_first_day_is_in_the_window_and_not_in_its_basis():
    december = date(2026, 12, 31)
    spent = [Expenditure(date(2024, 12, 31), 100), Expenditure(date(2025, 1, 1), 900_000)]
    (window,) = substantial_windows(spent, 700_000, december, december)
    assert (window.basis_cents, window.spent_cents) == (700_100, 900_000)


@published(
    source="26 U.S.C. 50(a)(1)(B), recapture percentage",
    section="100, 80, 60, 40, 20 by full years in service",
    status="second-hand",
)
def test_a_fifth_less_is_taken_back_with_each_full_year_in_service():
    rows = recapture(3_360_000, date(2026, 9, 1))
    assert [one.percent for one in rows] == [100, 80, 60, 40, 20]
    assert [one.until for one in rows] == [date(year, 9, 1) for year in range(2027, 2032)]
    assert rows[1].cents == 2_688_000


@published(
    source="Office of Management and Budget, Federal Program Inventory, TC.045",
    section="basis reduced by the credit; claimed ratably over five years",
    status="seen",
)
def test_the_basis_is_reduced_by_the_whole_credit_that_comes_over_five_years():
    credit = rehabilitation_credit(10_000_003, date(2026, 9, 1))
    assert credit.basis_reduction_cents == credit.credit_cents == 2_000_001
    assert [cents for _, cents in credit.by_year] == [400_001, 400_000, 400_000, 400_000, 400_000]


@published(
    source="48 CFR 52.232-5, Payments Under Fixed-Price Construction Contracts",
    section="(e), retainage released when the work is complete",
    status="from memory",
)
def test_nothing_is_held_of_work_that_is_complete_in_the_last_draw():
    state = LineState("1", "Work", 10_000_000, 0, 10_000_000, Decimal(100))
    assert draw_line(state, RetainageTerms(), is_last=True).retainage_cents == 0
    assert draw_line(state, RetainageTerms()).retainage_cents == 1_000_000


def _interest(cents: int, percent: str, start: date, end: date, day_count: str) -> int:
    loan, rates = [BalanceChange(start, cents)], [RateStep(start, Decimal(percent) / 100)]
    return whole_half_up(accrued_interest(loan, rates, start, end, day_count))


@published(source=PROMPT_PAYMENT, section="simple daily interest, P(r/360 x d)", status="seen")
def test_1_500_paid_ten_days_late_at_6_5_percent_bears_2_71():
    start = date(2026, 4, 1)
    assert _interest(150_000, "6.5", start, date(2026, 4, 11), ACTUAL_360) == 271


@published(
    source=TREASURY,
    section="simple daily interest, the example of 2023",
    status="seen",
    note="the page says 6.625 % and reckons with 6.6 %: 2.75; by the stated rate it is 2.76",
)
@pytest.mark.parametrize(("percent", "cents"), [("6.6", 275), ("6.625", 276)])
def test_1_500_paid_ten_days_late_at_6_6_percent_bears_2_75(percent, cents):
    start = date(2026, 4, 1)
    assert _interest(150_000, percent, start, date(2026, 4, 11), ACTUAL_360) == cents


@published(
    source=PROMPT_PAYMENT,
    section="monthly compounding, P(1 + r/12)^n x (1 + r/360 x d) - P",
    status="seen",
    note="from April 1 to June 15: two months and, as the example counts it, fifteen days",
)
def test_1_500_paid_two_months_and_fifteen_days_late_at_6_percent_bear_18_83():
    start = date(2026, 4, 1)
    loan, rates = [BalanceChange(start, 150_000)], [RateStep(start, Decimal("0.06"))]
    months = monthly_interest(loan, rates, date(2026, 6, 16), THIRTY_360, is_added=True)
    assert [one.cents for one in months] == [750, 754, 379]
    assert sum(one.cents for one in months) == 1_883


@published(
    source="48 CFR 32.103, Progress payments under construction contracts",
    section="retainage at most 10 percent, adjusted as the contract approaches completion",
    status="seen",
    note="the rule was read; sums are ours",
)
def test_retainage_may_fall_to_nothing_as_the_contract_approaches_completion():
    terms = RetainageTerms(effect="everything", reached_fraction=Decimal("0.9"))
    assert retainage_held(terms, 10_000_000, 8_999_999) == 900_000
    assert retainage_held(terms, 10_000_000, 9_000_000) == 0


@published(
    source="Ohio Revised Code 153.13 and 153.14, payments on public works",
    section="92 percent of estimates until half is done, all of the estimates from then on",
    status="from memory",
    note="sums are ours",
)
def test_eight_percent_is_held_until_half_of_the_job_is_done_and_nothing_of_what_follows():
    terms = RetainageTerms(work_fraction=Decimal("0.08"), effect=STOP)
    held = [retainage_held(terms, 100_000_00, done * 1_000_00) for done in (25, 50, 75, 100)]
    assert held == [2_000_00, 4_000_00, 4_000_00, 4_000_00]


@published(
    source="Florida Statutes 255.078, public construction retainage, as of 2005",
    section="10 percent until half is done, then 5 percent of each later payment",
    status="from memory",
    note="sums are ours",
)
def test_ten_percent_until_half_and_five_percent_of_each_later_payment():
    half = Decimal("0.05")
    terms = RetainageTerms(effect=NEW_WORK, reduced_fraction=half)
    held = [retainage_held(terms, 100_000_00, done * 1_000_00) for done in (40, 50, 80, 100)]
    assert held == [4_000_00, 5_000_00, 6_500_00, 7_500_00]


@published(
    source="7 CFR 1780.76, contract methods of water and waste projects of Rural Development",
    section="10 percent until half is done, then no additional retainage",
    status="from memory",
    note="sums are ours",
)
def test_no_additional_retainage_after_half_of_the_work():
    terms = RetainageTerms(effect=STOP)
    held = [retainage_held(terms, 200_000_00, done * 1_000_00) for done in (99, 100, 150)]
    assert held == [9_900_00, 10_000_00, 10_000_00]


@published(
    source="Form RD 1924-18, Partial Payment Estimate, Rural Development",
    section="lines 4 to 9: work, stored materials, subtotal, retainage, previous payments, due",
    status="seen",
    note="the lines of the form were read; sums are ours",
)
def test_the_amount_due_is_the_subtotal_less_retainage_and_previous_payments():
    """40,000 done and 5,000 stored at 10 %: 45,000 - 4,500 - 27,000 = 13,500."""
    line = draw_line(
        LineState("1", "Work", 90_000_00, 0, 40_000_00, Decimal(100), 5_000_00, 30_000_00),
        RetainageTerms(),
    )
    due = draw_totals([line], EquityTerms(0, 90_000_00), funded_before_cents=27_000_00)
    assert (line.done_and_stored_cents, line.retainage_cents) == (45_000_00, 4_500_00)
    assert due.requested_cents == 13_500_00


@published(
    source="MSRB Rule G-33, calculations",
    section="(e) day counting: months of thirty days, a year of 360",
    status="second-hand",
    note="D1 of 31 is 30; D2 of 31 is 30 where D1 is 30 or 31; the formula was read in a manual",
)
@pytest.mark.parametrize(
    ("start", "end", "days"),
    [
        ((2026, 1, 31), (2026, 3, 31), 60),
        ((2026, 1, 30), (2026, 3, 31), 60),
        ((2026, 1, 29), (2026, 3, 31), 62),
        ((2026, 1, 31), (2027, 1, 31), 360),
    ],
)
def test_a_31st_counts_as_a_30th_by_the_municipal_rule(start, end, days):
    assert days_30_360(date(*start), date(*end)) == days


@published(
    source=REGULATION_Z,
    section="part II, A: half of the commitment, as if it stood for the construction period",
    status="seen",
    note="the rule was read; 351,000 at 8.75 % for 12 months are invented",
)
def test_half_of_351_000_at_8_75_percent_for_a_year_is_15_356_25_of_interest():
    assert half_commitment_interest(35_100_000, Decimal("0.0875"), 12) == 1_535_625
