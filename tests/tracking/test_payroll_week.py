"""A closed workweek: overtime, the year's taxes, what each code bears."""

from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import LaborFaulty
from estimator.rates.labor.labor_burden import PayrollInsurance
from estimator.rates.labor.payroll_taxes import tax_due
from estimator.tracking.payroll_week import (
    RATE_IN_EFFECT,
    HoursRow,
    PayrollTerms,
    YearToDate,
    check_hours,
    person_week,
    workweek_end,
)
from tests.rates.labor.federal_taxes import MEDICARE, SOCIAL_SECURITY, UNEMPLOYMENT
from tests.tracking.rows import MONDAY, at

NO_BURDEN = PayrollTerms((), ())
TAXES = (replace(SOCIAL_SECURITY, wage_base=Decimal(20_000)), MEDICARE, UNEMPLOYMENT)


def hours(row, code, worked, rate="20", day=0, **more):
    on = MONDAY + timedelta(day)
    return HoursRow(row, on, at(on), "AB", "mason", code, Decimal(worked), Decimal(rate), **more)


def week_of(*worked):
    """Return a week of blocks `(code, hours, rate)`, one after the other, ten hours a day."""
    blocks = [
        (code, min(Decimal(10), Decimal(total) - done), rate)
        for code, total, rate in worked
        for done in range(0, int(total), 10)
    ]
    return [hours(i, code, h, rate, i) for i, (code, h, rate) in enumerate(blocks)]


def test_a_week_of_46_hours_at_two_rates_by_the_weighted_average():
    """40 hr at $20 and 6 at $26: $956; regular rate 956 / 46; premium 6 / 2 x it = 62.347826."""
    week = person_week(week_of(("40.010", "40", "20"), ("20.010", "6", "26")), NO_BURDEN)
    assert (week.straight_cents, week.premium_cents) == (95_600, 6_235)
    assert sum(week.cents_by_code.values()) == 101_835


def test_by_the_rate_in_effect_the_premium_is_half_of_what_the_late_hours_were_paid():
    """The six hours beyond forty were worked at $26: 6 x 13 = $78.00."""
    terms = PayrollTerms((), (), RATE_IN_EFFECT)
    week = person_week(week_of(("40.010", "40", "20"), ("20.010", "6", "26")), terms)
    assert (week.straight_cents, week.premium_cents) == (95_600, 7_800)


def test_an_unknown_rule_of_overtime_is_refused():
    with pytest.raises(LaborFaulty, match="is no rule for overtime; write 'weighted average' or"):
        PayrollTerms((), (), "after eight")


@given(st.lists(st.integers(0, 60), min_size=20, max_size=52))
def test_the_taxes_of_the_weeks_are_those_of_the_year_to_the_cent(worked):
    year = YearToDate()
    for week_hours in worked:
        if week_hours:
            rows = [hours(i, "40.010", str(Decimal(week_hours) / 5), "21.37", i) for i in range(5)]
            week = person_week(rows, PayrollTerms(TAXES, ()), year)
            year = YearToDate(
                year.gross_cents + week.gross_cents, year.tax_cents + week.burden_cents
            )
    paid = Decimal(year.gross_cents) / 100
    assert year.tax_cents == 100 * sum(tax_due(paid, tax).amount for tax in TAXES)


def test_insurance_is_rated_on_straight_pay_unless_the_state_counts_the_premium():
    """46 hr at $20 are $920; 9 % of it is $82.80; with the premium of $60 it is $88.20."""
    rows = week_of(("40.010", "46", "20"))
    plain = PayrollInsurance("workers' compensation", Decimal(9))
    with_premium = PayrollInsurance("workers' compensation", Decimal(9), Decimal(1), True)
    assert person_week(rows, PayrollTerms((), (plain,))).burden_cents == 8_280
    assert person_week(rows, PayrollTerms((), (with_premium,))).burden_cents == 8_820


def test_more_than_a_day_or_a_week_has_is_refused_for_each_person_and_day():
    rows = [hours(1, "40.010", "20"), hours(2, "20.010", "5", is_unpaid=True)]
    with pytest.raises(LaborFaulty, match="AB, 2026-05-04: 25 hours are more than a day has"):
        check_hours(rows)
    long_week = [hours(day, "40.010", "24", day=day) for day in range(7)]
    check_hours(long_week)
    with pytest.raises(LaborFaulty, match=r"AB: 168\.5 hours are more than a week has"):
        check_hours([*long_week, hours(9, "40.010", "0.5", day=7)])


def test_a_workweek_ends_on_its_stated_weekday():
    days = [date(2026, 5, day) for day in (9, 10, 11)]
    assert [workweek_end(day, 5) for day in days] == [
        date(2026, 5, 9), date(2026, 5, 16), date(2026, 5, 16),
    ]  # fmt: skip
