"""No setting of a caller's decimals changes a figure of labor, machines, adjustment or markups."""

from dataclasses import fields, is_dataclass
from datetime import date
from decimal import ROUND_DOWN, Decimal, Inexact, localcontext

import pytest

from estimator import money
from estimator.assemblies.markups import Markup, markup_amounts
from estimator.production import productive_time
from estimator.rates.adjustment import escalation, index_series, location
from estimator.rates.labor import labor_burden, overtime, payroll_taxes
from estimator.rates.machines import (
    bill as rental_bill,
)
from estimator.rates.machines import (
    owned_equipment,
    rent_or_own,
    rental,
    rental_rates,
    running_cost,
)
from estimator.rates.machines import (
    purchase as equipment_value,
)
from estimator.rates.public import employer_costs, public_wages
from estimator.rates.rows import Origin

D = Decimal


def of_money():
    return (
        money.round_to_cent(D("123456789012.345")), money.dollars(-123456789012),
        money.to_cents(D("1234567.895")), money.money_text(D("-1234567.895")),
        money.cents_text(123456789), money.rate_text(money.from_fixed_point(123456789, 4)),
        money.fixed_point(D("1234567.8912"), 4),
    )  # fmt: skip


def of_labor():
    terms = labor_burden.WageTerms(D("1234.5678"), D("3.3333"), D("2.7777"))
    insurance = labor_burden.PayrollInsurance("compensation", D("9.87"), D("1.237"))
    taxes = (
        payroll_taxes.EmployerTax("Medicare", D("0.0145")),
        payroll_taxes.EmployerTax("unemployment", D("0.009"), D("7000.55")),
    )
    year = labor_burden.burdened_pay(terms, taxes, (insurance,), D("2080.25"), D("133.75"), D(100))
    return (
        year, labor_burden.burdened_hour(year),
        overtime.week_pay([overtime.HoursAtRate(D("47.35"), D("312.3456"))], D("1234.56"), D(3)),
        overtime.salaried_week_pay(D("48376.43"), D(44), D("45.5")),
        overtime.overtime_on_bonus(D("194865.77"), [D("47.3"), D("51.1"), D(40)]),
        overtime.weekly_salary(D("12345.67"), 12),
        payroll_taxes.tax_due(D("123456.78"), taxes[1], D(99)),
        productive_time.PaidTime(D("2080.35"), D("123.45"), D("33.3"), D(8), D("51.7")),
        productive_time.cost_per_productive_hour(D("72800.77"), productive_time.PaidTime(D(2081))),
    )  # fmt: skip


def of_machines():
    bought = equipment_value.equipment_value(
        equipment_value.PurchaseTerms(D(1197389), D("0.0753"), D("0.0587"), D(1913), D("5.27"))
    )
    machine = owned_equipment.OwnedMachine(
        D("1181907.55"), D(20000), D(1540), D("0.23"), D("10560.45"), D("0.9447")
    )
    tires = running_cost.Tires(D("10560.45"), D(3333), D("0.77"))
    running = running_cost.RunningTerms(
        D(787), D("0.537"), running_cost.DIESEL, D("3.9876"), D("0.2345"), D("0.6123"), (tires,)
    )
    hour = running_cost.hourly_cost(machine, running, D("0.0785"))
    rates = rental_rates.RentalRates(D("1295.55"), D("4040.75"), D("12950.35"), D("36.8889"))
    mix = rental.cheapest_rental(45, rates, 500.0)
    terms = rental_bill.RentalTerms(D(125), D(125), D("0.1499"), D("0.0233"), D(999), D("14.4444"))
    choice = rent_or_own.YearlyChoice(D("105501.55"), D("14.4"), D("36.8877"), D("7.2099"))
    return (
        bought, bought.total, machine, hour, hour.per_day(D("6.75"), D("1.25")), mix,
        rental_bill.rental_bill(mix, terms, D("500.5")), rental_bill.break_even_table(rates),
        choice.owned(D("1234.5")), choice.rented(D("1234.5")), rent_or_own.break_even_hours(choice),
        rent_or_own.fixed_per_year(machine, hour, D("12345.67")),
        owned_equipment.average_value_fraction(machine.life_years, D("0.23")),
        running_cost.fuel_gal_per_hr(D(787), D("0.537"), running_cost.DIESEL),
    )  # fmt: skip


def of_adjustment():
    points = (
        index_series.IndexPoint(date(2008, 7, 1), D("216.889")),
        index_series.IndexPoint(date(2008, 10, 1), D("212.174")),
    )
    series = index_series.IndexSeries("CPI", "1982-84 = 100", 3, points, "invented")
    factor = escalation.factor_between(series, date(2008, 8, 1), date(2010, 3, 1), D("0.0437"))
    places = {
        place: {"labor": location.LocationFactor(place, "labor", D(figure), "invented")}
        for place, figure in (("here", "0.953"), ("there", "1.137"))
    }
    return (
        factor, escalation.printed_factor(factor),
        escalation.escalated_amount(D("1234567.89"), factor),
        escalation.adjusted_rate(D("12345.6789"), [factor, factor]),
        location.factors_against(places, "there", "here"),
    )  # fmt: skip


def of_public_figures():
    wages, folder = public_wages.public_wages(), public_wages.public_folder()
    return (
        employer_costs.fringe_shares(folder),
        public_wages.wage_of(wages, "laborer", "OH", 2026).mean,
        public_wages.wage_of(wages, "carpenter", None, 2026).mean,
    )


def of_markups():
    origin = Origin("invented", "markups.csv", 2)
    markups = [
        Markup("tax", "Tax", 1, D("6.8755"), None, ("material",), "invented", origin),
        Markup("fee", "Fee", 2, None, D("123456.78"), (), "invented", origin),
        Markup("profit", "Profit", 3, D("11.3333"), None, ("all", "tax"), "invented", origin),
    ]
    return markup_amounts({"material": 123456789, "labor": 987654321}, markups)


def figures(thing):
    """Return everything a result says, its properties too, as text that compares digit by digit."""
    if is_dataclass(thing):
        members = [one.name for one in fields(thing)]
        members += [name for name, one in vars(type(thing)).items() if isinstance(one, property)]
        return {name: figures(getattr(thing, name)) for name in members}
    if isinstance(thing, dict):
        return {name: figures(one) for name, one in thing.items()}
    return [figures(one) for one in thing] if isinstance(thing, tuple) else repr(thing)


OF_ALL = [of_money, of_labor, of_machines, of_adjustment, of_public_figures, of_markups]


@pytest.mark.parametrize("of", OF_ALL)
def test_a_caller_who_computes_with_six_digits_rounded_down_gets_the_same_figures(of):
    usual = figures(of())
    with localcontext(prec=6, rounding=ROUND_DOWN) as strict:
        strict.traps[Inexact] = True
        unusual = figures(of())
    assert unusual == usual
