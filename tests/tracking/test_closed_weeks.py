"""A closed workweek: rows of payroll in place of the accrual, differences, the year's taxes."""

from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import LaborFaulty
from estimator.rates.labor.labor_burden import PayrollInsurance
from estimator.tracking.books import Books
from estimator.tracking.closed_weeks import (
    closed_on,
    unclosed_hours,
    unclosed_sentences,
    week_costs,
)
from estimator.tracking.job_track import track
from estimator.tracking.ledger_lines import lines_of
from estimator.tracking.ledger_rows import CostSplit
from estimator.tracking.ledger_sums import sums_of
from estimator.tracking.payroll_settings import PaidElsewhere, PayrollSettings, settings_for
from estimator.tracking.payroll_week import HoursRow, PayrollTerms
from estimator.tracking.spent import Spent
from tests.rates.labor.federal_taxes import MEDICARE, UNEMPLOYMENT
from tests.tracking.rows import LATER, MONDAY, NOW, at, payment, spent_of
from tests.tracking.test_status import BUDGET

SUNDAY = MONDAY + timedelta(6)
NO_BURDEN = PayrollTerms((), ())
SOIL, STONE = ("40.010", "labor"), ("20.010", "labor")


def hours(row, code, worked, rate="20", day=0, person="AB", **more):
    on = MONDAY + timedelta(day)
    return HoursRow(row, on, at(on), person, "mason", code, Decimal(worked), Decimal(rate), **more)


def settings(terms=NO_BURDEN, elsewhere=()):
    return PayrollSettings(9, date(2026, 1, 1), at(MONDAY), 6, terms, elsewhere)


def closed(worked, costs=(), terms=NO_BURDEN, ends=SUNDAY, first=100, elsewhere=()):
    return week_costs(ends, worked, costs, settings(terms, elsewhere), first, at(ends))


def by_code(costs):
    cents = {}
    for one in costs:
        for split in one.splits:
            cents[split.code] = cents.get(split.code, 0) + split.cents
    return {code: own for code, own in cents.items() if own}


WEEK = [
    *(hours(1 + day, "40.010", "10", "20", day) for day in range(4)),
    hours(5, "20.010", "6", "26", 4),
]


def test_a_closed_week_is_a_row_of_each_person_by_code_to_the_cent():
    """40 hr at $20 and 6 at $26: $956.00; premium $62.35; Medicare 1.45 % of $1,018.35: $14.77.

    $1,033.12 by 800 to 156: $864.5355 and $168.5844; the larger remainder gets the cent.
    """
    other = hours(6, "40.010", "8", "18.50", 2, person="CD")
    rows = closed([*WEEK, other], terms=PayrollTerms((MEDICARE,), ()))
    assert [(one.row, one.vendor, one.happened, one.cents) for one in rows] == [
        (100, "AB", SUNDAY, 103_312), (101, "CD", SUNDAY, 15_015),
    ]  # fmt: skip
    assert rows[0].splits == (
        CostSplit("40.010", "labor", 86_454, 0), CostSplit("20.010", "labor", 16_858, 0),
    )  # fmt: skip
    assert rows[0].payroll.hours == (1, 2, 3, 4, 5)
    assert (rows[0].payroll.gross_cents, rows[0].payroll.tax_cents) == (101_835, 1_477)
    assert rows[0].note == "payroll of the workweek to 2026-05-10: 46 hr, 6 of them overtime"


def test_hours_are_accrued_at_straight_time_until_their_week_is_closed():
    spent = spent_of(WEEK, SUNDAY)
    assert spent == {SOIL: Spent(accrued_cents=80_000), STONE: Spent(accrued_cents=15_600)}
    rows = closed(WEEK)
    spent = spent_of([*rows, *WEEK], SUNDAY)
    assert spent == {SOIL: Spent(billed_cents=85_218), STONE: Spent(billed_cents=16_617)}
    saturday = SUNDAY - timedelta(1)
    assert spent_of([*rows, *WEEK], saturday)[SOIL] == Spent(accrued_cents=80_000)


def test_late_hours_make_a_difference_with_their_overtime_dated_the_weeks_end():
    """38 hr were closed; 4 late ones make 42: 4 x $20, and 2 x $10 of premium."""
    early = [hours(1 + day, "40.010", "9.5", day=day) for day in range(4)]
    late = hours(20, "40.010", "4", day=4)
    first = closed(early)
    assert closed_on(late, first) == SUNDAY
    (row,) = closed([*early, late], first, first=101)
    assert (row.happened, row.cents, row.payroll.hours) == (SUNDAY, 10_000, (20,))
    assert unclosed_hours([*early, late], [*first, row]) == []


def test_late_hours_bear_the_insurance_of_their_pay_and_no_more():
    """At $9.00 per $100: 38 hr at $20 bear $68.40; 42 hr bear $75.60, $7.20 more."""
    terms = PayrollTerms((), (PayrollInsurance("workers' compensation", Decimal(9)),))
    early = [hours(1 + day, "40.010", "9.5", day=day) for day in range(4)]
    first = closed(early, terms=terms)
    (row,) = closed([*early, hours(20, "40.010", "4", day=4)], first, terms, first=101)
    assert (first[0].payroll.insurance_cents, row.payroll.insurance_cents) == (6_840, 720)
    assert (first[0].cents, row.cents) == (82_840, 10_720)


def test_hours_that_were_on_the_wrong_code_move_from_one_to_the_other():
    """8 hr at $20 were closed on 40.010; they are taken back and written on 20.010."""
    wrong = hours(1, "40.010", "8")
    back = replace(wrong, row=2, hours=Decimal(-8), reverses=1)
    first = closed([wrong])
    worked = [wrong, back, hours(3, "20.010", "8")]
    rows = closed(worked, first, first=101)
    assert by_code(rows) == {"40.010": -16_000, "20.010": 16_000}
    spent = spent_of([*first, *rows, payment(9, 100, 16_000), *worked])
    assert spent == {STONE: Spent(billed_cents=16_000, paid_cents=16_000)}


def test_a_week_is_closed_once():
    rows = closed(WEEK)
    with pytest.raises(LaborFaulty, match="there are no hours to close in the workweek to 2026"):
        closed(WEEK, rows)


def test_a_payroll_that_was_reversed_is_closed_again_and_the_accrual_is_back():
    (row,) = closed(WEEK)
    negated = tuple(CostSplit(one.code, one.kind, -one.net_cents, 0) for one in row.splits)
    back = replace(row, row=101, splits=negated, reverses=100)
    assert len(unclosed_hours(WEEK, [row, back])) == 5
    (again,) = closed(WEEK, [row, back], first=102)
    assert again.splits == row.splits


def test_a_week_that_ends_on_another_day_is_refused_with_the_right_one():
    with pytest.raises(LaborFaulty, match="2026-05-09 is a Saturday; the workweek ends on a Sunda"):
        closed(WEEK, ends=SUNDAY - timedelta(1))


def test_federal_unemployment_ends_at_its_wage_base_with_what_was_paid_elsewhere():
    """$6,900.00 elsewhere leave $100.00 of the base of $7,000: 0.6 % of it is $0.60."""
    terms = PayrollTerms((UNEMPLOYMENT,), ())
    rows = closed(WEEK, terms=terms, elsewhere=(PaidElsewhere("AB", 690_000),))
    assert rows[0].payroll.tax_cents == 60


def test_the_taxes_of_the_year_are_right_to_the_cent_with_late_hours_of_an_early_week():
    """Base $1,000 at 10 %: the year's tax is $100.00, however late the hours of week 1 come."""
    tax = replace(UNEMPLOYMENT, rate_fraction=Decimal("0.10"), wage_base=Decimal(1000))
    terms = PayrollTerms((tax,), ())
    first_week = [hours(1, "40.010", "20", "20")]
    second_week = [hours(2, "40.010", "20", "20", day=7), hours(3, "40.010", "9", "20", day=8)]
    costs = [*closed(first_week, terms=terms)]
    costs += closed([*first_week, *second_week], costs, terms, SUNDAY + timedelta(7), 101)
    assert [one.payroll.tax_cents for one in costs] == [4_000, 5_800]
    late = hours(4, "40.010", "4", "20", day=1)
    costs += closed([*first_week, *second_week, late], costs, terms, SUNDAY, 102)
    assert [one.payroll.tax_cents for one in costs] == [4_000, 5_800, 200]


BLOCKS = st.lists(
    st.tuples(
        st.sampled_from(["40.010", "20.010", "20.020"]), st.integers(1, 8), st.integers(0, 6)
    ),
    min_size=1,
    max_size=14,
)


@given(BLOCKS, st.integers(0, 14))
def test_a_week_comes_to_the_same_however_late_its_hours_are(blocks, late_from):
    worked = [hours(n, code, str(h), str(17 + n), day) for n, (code, h, day) in enumerate(blocks)]
    day_hours = {}
    for one in worked:
        day_hours[one.happened] = day_hours.get(one.happened, 0) + one.hours
    if max(day_hours.values()) > 24:
        return
    terms = PayrollTerms((MEDICARE, UNEMPLOYMENT), ())
    at_once = closed(worked, terms=terms)
    early = worked[:late_from]
    costs = list(closed(early, terms=terms)) if early else []
    if late_from < len(worked):
        costs += closed(worked, costs, terms, first=200)
    assert by_code(costs) == by_code(at_once)


def test_the_owners_own_hours_are_no_cost_and_are_shown_apart():
    """10 hr at $35 are worth $350.00, in no other figure."""
    own = hours(1, "40.010", "10", "35", is_unpaid=True)
    report = track(Books(hours=[own]), BUDGET, LATER, NOW)
    assert report.status.whole().spent == Spent()
    assert (report.unpaid.hours, report.unpaid.cents) == (10, 35_000)
    with pytest.raises(LaborFaulty, match="there are no hours to close"):
        closed([own])


def test_a_week_that_is_over_and_not_closed_is_reported_with_what_is_accrued():
    open_hours = sums_of(lines_of(WEEK)).open_hours
    (sentence,) = unclosed_sentences(open_hours, [settings()], SUNDAY)
    assert sentence == (
        "the workweek to 2026-05-10 is not closed: 46 hr accrued at straight time, $956.00, "
        "without overtime and burden"
    )
    assert unclosed_sentences(open_hours, [settings()], SUNDAY - timedelta(1)) == []


def test_the_taxes_of_a_year_are_the_last_that_were_stated_for_it_overtime_that_of_the_week():
    early = settings(PayrollTerms((MEDICARE,), ()))
    later = replace(
        settings(PayrollTerms((UNEMPLOYMENT,), (), "rate in effect")),
        happened=date(2026, 6, 1), row=12,
    )  # fmt: skip
    of_week = settings_for([early, later], SUNDAY)
    assert of_week.terms == PayrollTerms((UNEMPLOYMENT,), ())
    with pytest.raises(LaborFaulty, match="post payroll terms first"):
        settings_for([later], SUNDAY)
