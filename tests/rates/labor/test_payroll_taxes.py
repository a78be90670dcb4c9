from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import LaborFaulty
from estimator.rates.labor.payroll_taxes import EmployerTax, tax_due, taxes_due
from tests.rates.labor.federal_taxes import MEDICARE, SOCIAL_SECURITY, UNEMPLOYMENT

STATE = EmployerTax("state unemployment", Decimal("0.027"), Decimal(9500))
dollars = st.decimals(0, 400_000, places=2)
taxes = st.sampled_from([MEDICARE, STATE, UNEMPLOYMENT, SOCIAL_SECURITY])


def test_a_week_below_every_base_bears_every_tax_on_all_of_it():
    all_taxes = [SOCIAL_SECURITY, MEDICARE, UNEMPLOYMENT, STATE]
    due = taxes_due(Decimal("1000.00"), all_taxes)
    assert [one.amount for one in due] == [
        Decimal("62.00"), Decimal("14.50"), Decimal("6.00"), Decimal("27.00"),
    ]  # fmt: skip


def test_wages_above_the_base_bear_no_more():
    assert tax_due(Decimal(9500), STATE).amount == Decimal("256.50")
    assert tax_due(Decimal(50000), STATE).amount == Decimal("256.50")


def test_the_week_that_crosses_the_base_is_taxed_in_part():
    due = tax_due(Decimal(900), STATE, paid_before=Decimal(9000))
    assert (due.taxable_wages, due.amount) == (Decimal(500), Decimal("13.50"))


def test_after_the_base_nothing_is_due():
    assert tax_due(Decimal(900), STATE, paid_before=Decimal(9500)).amount == Decimal("0.00")


def test_a_base_of_nothing_taxes_nothing():
    assert tax_due(Decimal(900), EmployerTax("none", Decimal("0.05"), Decimal(0))).amount == 0


def test_medicare_has_no_base():
    assert tax_due(Decimal(300000), MEDICARE).amount == Decimal("4350.00")


def test_half_a_cent_of_tax_is_a_cent():
    assert tax_due(Decimal("100.00"), EmployerTax("half", Decimal("0.00005"))).amount == Decimal(
        "0.01"
    )


@pytest.mark.parametrize(
    "make",
    [
        lambda: EmployerTax("base", Decimal("0.01"), Decimal(-1)),
        lambda: EmployerTax("rate", Decimal("-0.01")),
        lambda: EmployerTax("percent", Decimal("6.2")),
        lambda: EmployerTax("float", 0.062),
        lambda: EmployerTax("long", Decimal("0.0000001")),
        lambda: tax_due(Decimal(-1), MEDICARE),
        lambda: tax_due(Decimal(1), MEDICARE, Decimal(-1)),
    ],
)
def test_taxes_and_wages_that_cannot_be_are_refused(make):
    with pytest.raises(LaborFaulty):
        make()


def test_a_base_below_zero_is_named():
    with pytest.raises(LaborFaulty, match="wage_base: is negative"):
        EmployerTax("state", Decimal("0.027"), Decimal(-7000))


@given(dollars, dollars, taxes)
def test_two_periods_of_a_year_are_taxed_on_no_more_than_the_year(first, second, tax):
    parts = tax_due(first, tax).taxable_wages + tax_due(second, tax, first).taxable_wages
    assert parts == tax_due(first + second, tax).taxable_wages


@given(dollars, dollars, taxes)
def test_more_wages_never_bear_less_tax(wages, more, tax):
    assert tax_due(wages + more, tax).amount >= tax_due(wages, tax).amount
