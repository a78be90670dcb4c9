"""Payroll taxes, insurance and man-hours against forms, examples and manuals."""

from decimal import Decimal

import pytest

from estimator.production.productive_time import (
    PaidTime,
    cost_per_productive_hour,
    delay_factor,
    production_efficiency,
)
from estimator.rates.labor.labor_burden import (
    PayrollInsurance,
    WageTerms,
    burdened_hour,
    burdened_pay,
)
from estimator.rates.labor.payroll_taxes import EmployerTax, tax_due
from estimator.rates.public.employer_costs import employer_taxes
from estimator.rates.public.public_wages import public_folder
from tests.published.source import published

PAYROLL_TEXTBOOK = "Source not recorded: payroll textbook, table of employer taxes"
NAVEDTRA_14045 = "NAVEDTRA 14045, Builder Advanced, quoting NAVFAC P-405 (edition not recorded)"
WITH_A_HIGH_BASE = EmployerTax("social security", Decimal("0.062"), Decimal(1_000_000))
MEDICARE = EmployerTax("Medicare", Decimal("0.0145"))


def tax_of(year, name, state=None):
    """Return a tax as the shipped table has it."""
    return next(
        one for one in employer_taxes(public_folder(), year, state) if one.name.lower() == name
    )


@published(source="IRS Publication 15 and Form 940", section="FUTA, line 8", status="seen")
def test_unemployment_tax_is_42_a_year_for_anybody_above_7000():
    unemployment = tax_of(2025, "federal unemployment")
    assert tax_due(Decimal(7000), unemployment).amount == Decimal("42.00")
    assert tax_due(Decimal(85000), unemployment).amount == Decimal("42.00")


@published(
    source="IRS Form 940, Schedule A (2019), instructions",
    section="example 1, 20,000 to each of three employees, reduction 0.027",
    status="derived",
    note="the inputs were read; 3 x 7,000 x 0.027 follows",
)
def test_a_credit_reduction_of_2_7_percent_adds_567_for_three_employees():
    full = tax_of(2025, "federal unemployment")
    reduced = EmployerTax(full.name, full.rate_fraction + Decimal("0.027"), full.wage_base)
    more = tax_due(Decimal(20_000), reduced).amount - tax_due(Decimal(20_000), full).amount
    assert 3 * more == Decimal("567.00")


@published(
    source="26 U.S.C. 3301 and 3302, Federal Unemployment Tax Act",
    section="6.0 % with and without the credit of 5.4 %",
    status="second-hand",
)
def test_without_the_credit_unemployment_tax_is_420():
    full = tax_of(2025, "federal unemployment")
    lost = EmployerTax(full.name, full.rate_fraction + Decimal("0.054"), full.wage_base)
    assert tax_due(Decimal(7000), lost).amount == Decimal("420.00")


@published(
    source="IRS Publication 15",
    section="social security 6.2 %, Medicare 1.45 %",
    status="seen",
    note="two taxes of 1,000: 62.00 and 14.50",
)
def test_social_security_and_medicare_are_7_65_percent_of_a_wage():
    assert tax_due(Decimal(1000), tax_of(2025, "social security")).amount == Decimal("62.00")
    assert tax_due(Decimal(1000), tax_of(2025, "medicare")).amount == Decimal("14.50")


@published(
    source="Social Security Administration, contribution and benefit base, 2022",
    section="6.2 % of at most 147,000",
    status="second-hand",
)
def test_who_earned_147000_or_more_in_2022_cost_9114():
    tax = EmployerTax("social security", Decimal("0.062"), Decimal(147000))
    assert tax_due(Decimal(147000), tax).amount == Decimal("9114.00")
    assert tax_due(Decimal(210000), tax).amount == Decimal("9114.00")


@published(
    source=PAYROLL_TEXTBOOK,
    section="wages of 85,100.90",
    status="seen",
    note=(
        "prints 5,276.24 and 1,233.95, the sums of taxes rounded employee by employee; "
        "on the total they would be 5,276.26 and 1,233.96. The six wages are ours"
    ),
)
@pytest.mark.parametrize(
    ("tax", "by_employee", "on_total"),
    [(WITH_A_HIGH_BASE, "5276.24", "5276.26"), (MEDICARE, "1233.95", "1233.96")],
)
def test_taxes_are_rounded_for_each_employee_and_then_added_up(tax, by_employee, on_total):
    wages = ["15500.80", "16222.32", "11176.52", "16705.70", "12588.60", "12906.96"]
    taxes = [tax_due(Decimal(one), tax).amount for one in wages]
    assert sum(taxes) == Decimal(by_employee)
    assert tax_due(Decimal("85100.90"), tax).amount == Decimal(on_total)


@published(
    source="Source not recorded: examples of workers' compensation premiums",
    section="120,000 at 3.10 per 100; 40,000 with a modifier of 1.15; 50,000 at 4.50",
    status="seen",
)
@pytest.mark.parametrize(
    ("pay", "per_100", "modifier", "premium"),
    [
        (120_000, "3.10", "1", "3720.00"),
        (40_000, "100", "1.15", "46000.00"),
        (50_000, "4.50", "1", "2250.00"),
    ],
)
def test_compensation_is_pay_over_100_times_rate_times_modifier(pay, per_100, modifier, premium):
    insurance = PayrollInsurance("compensation", Decimal(per_100), Decimal(modifier))
    assert insurance.premium(Decimal(pay)) == Decimal(premium)


@published(
    source="Ohio Bureau of Workers' Compensation, How is the premium figured for my business?",
    section="undated page: overtime pay is payroll, premium = payroll x rate",
    status="derived",
    note="the rule was read; 40 h at 20, 10 h at 30 and 5.50 per 100 are ours. States that leave "
    "out the extra pay for overtime (from memory) insure 1,000 of the 1,100: 55.00",
)
@pytest.mark.parametrize(("counts", "premium"), [(True, "60.50"), (False, "55.00")])
def test_overtime_is_insured_whole_in_ohio_and_elsewhere_without_its_extra_pay(counts, premium):
    insurance = PayrollInsurance("compensation", Decimal("5.50"), counts_overtime_premium=counts)
    week = burdened_pay(WageTerms(Decimal(20)), (), (insurance,), Decimal(40), Decimal(10))
    assert week.gross_pay == Decimal("1100.00")
    assert week.insurance[0].amount == Decimal(premium)


@published(
    source=NAVEDTRA_14045,
    section="ch. 2, production efficiency: average of the elements; 67 % is usual",
    status="derived",
    note="the average and the 67 % were read; the graph from percent to delay factor was not",
)
def test_the_average_of_eight_elements_is_the_efficiency_and_67_percent_delays_nothing():
    elements = [0.75, 0.5, 0.6, 0.7, 0.8, 0.61, 0.65, 0.75]
    assert production_efficiency(elements) == pytest.approx(0.67, rel=1e-12)
    assert delay_factor(0.67) == 1.0


@published(
    source="BLS Employer Costs for Employee Compensation, June 2022",
    section="Table 4, private construction: wages 30.39, leave and supplements 3.58, plans 5.55, "
    "legally required 4.03",
    status="second-hand",
    note="prints 43.56 in all, its parts add up to 43.55; the legally required part stands here as "
    "11.8634 per 100 of pay in cash",
)
def test_an_hour_of_construction_costs_43_55_for_a_wage_of_30_39():
    required = PayrollInsurance("legally required", Decimal("11.8634"))
    terms = WageTerms(Decimal("30.39"), Decimal("3.58"), Decimal("5.55"))
    hour = burdened_hour(burdened_pay(terms, (), (required,), Decimal(2080)))
    assert (hour.wage, hour.fringe) == (Decimal("30.39"), Decimal("9.13"))
    assert hour.total.quantize(Decimal("0.01")) == Decimal("43.55")


@published(
    source=NAVEDTRA_14045,
    section="ch. 2, productive part of a ten-hour day: less 1 h meal, 1 h travel, 0.5 h breaks",
    status="seen",
    note="7.5 hours, 0.9375 man-days; 20 dollars a paid hour are ours",
)
def test_ten_paid_hours_of_which_seven_and_a_half_work_cost_a_third_more():
    day = PaidTime(Decimal(10), Decimal(0), Decimal(150), Decimal(10))
    assert day.productive_hours == Decimal("7.5")
    assert day.productive_hours / 8 == Decimal("0.9375")
    assert cost_per_productive_hour(Decimal(200), day) == Decimal("26.6667")
