from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import LaborFaulty
from estimator.rates.labor.labor_burden import (
    PayrollInsurance,
    WageTerms,
    burdened_hour,
    burdened_pay,
)
from estimator.rates.labor.payroll_taxes import EmployerTax
from tests.rates.labor.federal_taxes import MEDICARE, SOCIAL_SECURITY, UNEMPLOYMENT

TAXES = (
    SOCIAL_SECURITY,
    MEDICARE,
    UNEMPLOYMENT,
    EmployerTax("state unemployment", Decimal("0.027"), Decimal(9500)),
)
INSURANCE = (
    PayrollInsurance("workers' compensation", Decimal("9.00"), Decimal("0.95")),
    PayrollInsurance("general liability", Decimal("1.20")),
)
LABORER = WageTerms(Decimal(24), plan_fringe_per_hr=Decimal("1.50"))
YEAR = burdened_pay(LABORER, TAXES, INSURANCE, Decimal(2000), Decimal(100))


def test_a_year_is_paid_with_its_overtime():
    assert (YEAR.straight_pay, YEAR.overtime_premium) == (Decimal("50400.00"), Decimal("1200.00"))


def test_taxes_fall_on_the_premium_too_and_stop_at_their_bases():
    assert [line.amount for line in YEAR.taxes] == [
        Decimal("3199.20"), Decimal("748.20"), Decimal("42.00"), Decimal("256.50"),
    ]  # fmt: skip


def test_insurance_is_rated_on_straight_time_only():
    assert [(line.base, line.amount) for line in YEAR.insurance] == [
        (Decimal("50400.00"), Decimal("4309.20")),
        (Decimal("50400.00"), Decimal("604.80")),
    ]


def test_some_states_rate_the_premium_as_well():
    rated = PayrollInsurance("compensation", Decimal("9.00"), counts_overtime_premium=True)
    year = burdened_pay(LABORER, TAXES, (rated,), Decimal(2000), Decimal(100))
    assert year.insurance[0].amount == Decimal("4644.00")


def test_the_cost_is_the_exact_sum_of_the_lines():
    assert (YEAR.burden, YEAR.cost) == (Decimal("12309.90"), Decimal("63909.90"))


def test_the_hour_shows_its_parts():
    hour = burdened_hour(YEAR)
    assert (hour.wage, hour.overtime_premium) == (Decimal("24.0000"), Decimal("0.5714"))
    assert (hour.fringe, hour.taxes, hour.insurance) == (
        Decimal("1.5000"), Decimal("2.0219"), Decimal("2.3400"),
    )  # fmt: skip
    assert hour.total == Decimal("30.4333")


def test_fringe_in_cash_is_taxed_and_insured_where_the_plan_is_not():
    cash = WageTerms(Decimal(24), cash_fringe_per_hr=Decimal("1.50"))
    week = burdened_pay(cash, (MEDICARE,), INSURANCE[1:], Decimal(40))
    plan = burdened_pay(LABORER, (MEDICARE,), INSURANCE[1:], Decimal(40))
    assert (week.cost, plan.cost) == (Decimal("1047.03"), Decimal("1045.44"))


def test_the_first_week_of_the_year_is_dearer_than_the_last():
    first = burdened_pay(LABORER, TAXES, INSURANCE, Decimal(40))
    last = burdened_pay(LABORER, TAXES, INSURANCE, Decimal(40), paid_before=Decimal(50000))
    assert first.cost - last.cost == Decimal("31.68")  # 0.6 % and 2.7 % of 960


def test_an_hour_without_burden_is_the_wage():
    assert burdened_hour(burdened_pay(WageTerms(Decimal(24)), (), (), Decimal(1))).total == 24


@pytest.mark.parametrize(
    "make",
    [
        lambda: WageTerms(Decimal(-24)),
        lambda: WageTerms(Decimal(24), cash_fringe_per_hr=Decimal(-1)),
        lambda: WageTerms(24.0),
        lambda: PayrollInsurance("compensation", Decimal(-9)),
        lambda: PayrollInsurance("compensation", Decimal(9), Decimal(-1)),
        lambda: burdened_pay(LABORER, TAXES, INSURANCE, Decimal(0)),
        lambda: burdened_pay(LABORER, TAXES, INSURANCE, Decimal(40), Decimal(-1)),
        lambda: burdened_pay(LABORER, TAXES, INSURANCE, Decimal(40), paid_before=Decimal(-1)),
    ],
)
def test_terms_that_cannot_be_are_refused(make):
    with pytest.raises(LaborFaulty):
        make()


def test_a_negative_wage_is_named():
    with pytest.raises(LaborFaulty, match="wage_per_hr: is negative"):
        WageTerms(Decimal(-24))


@given(
    st.decimals(0, 120, places=2), st.decimals(0, 20, places=2),
    st.decimals(1, 2080, places=1), st.decimals(0, 400, places=1),
)  # fmt: skip
def test_a_higher_wage_never_costs_or_burdens_less(wage, more, straight, overtime):
    low = burdened_pay(WageTerms(wage), TAXES, INSURANCE, straight, overtime)
    high = burdened_pay(WageTerms(wage + more), TAXES, INSURANCE, straight, overtime)
    assert high.burden >= low.burden
    assert high.cost >= low.cost >= low.gross_pay
