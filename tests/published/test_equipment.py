"""Owned and rented machines against the Corps of Engineers' schedule and highway practice."""

from decimal import Decimal

import pytest

from estimator.rates.machines.bill import RentalTerms, break_even_table, rental_bill
from estimator.rates.machines.owned_equipment import (
    HourlyCost,
    OwnedMachine,
    average_value_fraction,
    cost_of_money_per_hr,
    depreciation_per_hr,
)
from estimator.rates.machines.purchase import PurchaseTerms, equipment_value
from estimator.rates.machines.rental import cheapest_rental
from estimator.rates.machines.rental_rates import RentalRates
from estimator.rates.machines.running_cost import (
    DIESEL,
    GASOLINE,
    RunningTerms,
    Tires,
    fuel_gal_per_hr,
    repair_per_hr,
    tire_repair_per_hr,
)
from tests.published.source import published

EP_1110_1_8 = "USACE EP 1110-1-8, Construction Equipment Ownership and Operating Expense (2003)"
FIGURE_2_1 = PurchaseTerms(
    list_price=Decimal(1_197_389), discount_fraction=Decimal("0.075"),
    tax_fraction=Decimal("0.0580"), shipping_weight_cwt=Decimal(1_913),
    freight_per_cwt=Decimal("5.27"),
)  # fmt: skip
TRUCK = OwnedMachine(
    value=Decimal(1_181_907), life_hours=Decimal(20_000), hours_per_year=Decimal(1_540),
    salvage_fraction=Decimal("0.20"), tire_cost=Decimal(10_560), tire_cost_index=Decimal("0.944"),
)  # fmt: skip
TABLE_2_2 = HourlyCost(
    depreciation=Decimal("48.03"), cost_of_money=Decimal("12.73"), fuel=Decimal("29.79"),
    filters_oil_grease=Decimal("7.22"), tire_wear=Decimal("20.40"), tire_repair=Decimal("2.69"),
    repair=Decimal("46.81"),
)  # fmt: skip


@published(
    source=EP_1110_1_8,
    section="Figure 2-1, part 2, equipment value",
    status="seen",
    note="each line is rounded to the dollar before the next; unrounded it is 1,181,906.25",
)
def test_a_list_price_of_1197389_becomes_a_value_of_1181907():
    value = equipment_value(FIGURE_2_1)
    assert (value.discount, value.tax, value.freight) == (
        Decimal(89_804), Decimal(64_240), Decimal(10_082),
    )  # fmt: skip
    assert value.list_price - value.discount == Decimal(1_107_585)
    assert value.total == Decimal(1_181_907)
    unrounded = Decimal(1_197_389) * Decimal("0.925") * Decimal("1.058") + Decimal("10081.51")
    assert round(unrounded) == 1_181_906


@published(
    source=EP_1110_1_8,
    section="par. 2.11, discount codes B and S",
    status="derived",
    note="the codes, 7.5 and 15 %, were read; the price of 100,000 is ours",
)
@pytest.mark.parametrize(("discount", "value"), [("0.075", 92_500), ("0.15", 85_000)])
def test_machines_are_discounted_by_7_and_a_half_and_highway_trucks_by_15(discount, value):
    terms = PurchaseTerms(Decimal(100_000), discount_fraction=Decimal(discount))
    assert equipment_value(terms).total == value


@published(source=EP_1110_1_8, section="Figure 2-1, part 3, 20,000 h / 1,540 h", status="seen")
def test_20000_hours_are_12_99_years():
    assert round(TRUCK.life_years, 2) == Decimal("12.99")


@published(
    source=EP_1110_1_8,
    section="Figure 2-1, part 4.a, tire index 2,373 / 2,515 and depreciation",
    status="seen",
    note="the index is printed as 0.944; unrounded it gives the same cents",
)
@pytest.mark.parametrize("index", [Decimal("0.944"), Decimal(2_373) / Decimal(2_515)])
def test_depreciation_without_tires_and_salvage_is_46_78_an_hour(index):
    truck = OwnedMachine(
        Decimal(1_181_907), Decimal(20_000), Decimal(1_540), Decimal("0.20"), Decimal(10_560), index
    )
    assert depreciation_per_hr(truck) == Decimal("46.78")


@published(
    source=EP_1110_1_8,
    section="Figure 2-1, part 4.a, by the naive rule",
    status="derived",
    note="price over life, with tires and salvage left in, overstates by more than a quarter",
)
def test_price_over_life_would_be_59_10_an_hour():
    naive = OwnedMachine(Decimal(1_181_907), Decimal(20_000), Decimal(1_540))
    assert depreciation_per_hr(naive) == Decimal("59.10")


@published(source=EP_1110_1_8, section="Table 2-2, Region 6, rate elements", status="seen")
def test_seven_elements_add_up_to_167_67_an_hour():
    assert TABLE_2_2.total == Decimal("167.67")


@published(
    source=EP_1110_1_8,
    section="par. 2.27, standby, on the elements of Table 2-2",
    status="derived",
    note="half of 48.03 and 12.73 are 36.745, a tie",
)
def test_standby_is_half_the_depreciation_and_the_cost_of_money():
    assert TABLE_2_2.standby == Decimal("36.75")
    assert TABLE_2_2.owning == Decimal("60.76")


@published(
    source=EP_1110_1_8,
    section="worksheet part 5.f, tire repair: wear x 0.15 x 0.88",
    status="seen",
    note="1.25 gives 0.165, a tie, which is printed 0.17: half-up, where half-even would be 0.16",
)
@pytest.mark.parametrize(("wear", "repair"), [("20.40", "2.69"), ("1.25", "0.17")])
def test_tire_repair_is_15_percent_of_wear_by_the_labor_factor(wear, repair):
    assert tire_repair_per_hr(Decimal(wear), Decimal("0.88")) == Decimal(repair)


@published(
    source=EP_1110_1_8,
    section="worksheet part 5.e, tire wear: 1.5 x cost / (1.8 x factor x life)",
    status="derived",
    note="the formula was read; a set of 12,000 for 2,000 hours at 0.80 is ours",
)
def test_a_set_of_tires_wears_by_its_formula():
    assert Tires(Decimal(12_000), Decimal(2_000), Decimal("0.80")).wear_per_hr == Decimal("6.25")


@published(
    source=EP_1110_1_8,
    section="worksheet part 5.d, repair: (value - tires) x factor / life",
    status="derived",
    note="the formula was read; a repair factor of 0.90 on the truck of Figure 2-1 is ours",
)
def test_repair_is_on_the_value_without_tires_and_with_salvage():
    terms = RunningTerms(
        Decimal(0), Decimal(0), DIESEL, Decimal(0), repair_fraction=Decimal("0.90"),
        labor_factor=Decimal("0.88"),
    )  # fmt: skip
    assert repair_per_hr(TRUCK, terms) == Decimal("46.41")


@published(
    source=EP_1110_1_8,
    section="ch. 2, fuel factor: diesel 0.36 / 7, gasoline 0.60 / 6",
    status="seen",
    note="prints 0.0514 for diesel, which is 0.05142857",
)
@pytest.mark.parametrize(("fuel", "gallons"), [(DIESEL, "0.0514"), (GASOLINE, "0.1000")])
def test_a_horsepower_hour_burns_a_twentieth_or_a_tenth_of_a_gallon(fuel, gallons):
    assert round(fuel_gal_per_hr(Decimal(1), Decimal(1), fuel), 4) == Decimal(gallons)


@published(
    source=EP_1110_1_8,
    section="ch. 2, average value: ((N - 1)(1 + s) + 2) / 2N",
    status="from memory",
    note="checked by hand as the mean of 1.00, 0.84, 0.68, 0.52 and 0.36",
)
def test_a_machine_of_five_years_and_a_fifth_salvage_is_worth_0_68_on_average():
    assert average_value_fraction(Decimal(5), Decimal("0.20")) == Decimal("0.68")


@published(
    source="FHWA, Equipment Rental Rates, memorandum of November 7, 1988",
    section="cost of money: average value x rate / annual hours of use",
    status="second-hand",
    note="the rule was read in a copy; 45,000, 5 years of 1,000 h, 20 % salvage, 8 % are ours",
)
def test_the_cost_of_money_is_average_value_times_rate_over_hours():
    machine = OwnedMachine(Decimal(45_000), Decimal(5_000), Decimal(1_000), Decimal("0.20"))
    assert cost_of_money_per_hr(machine, Decimal("0.08")) == Decimal("2.45")


@published(
    source="Rental yards",
    section="a week bills about three days, a four-week month about three weeks",
    status="common practice, no source",
)
def test_three_days_are_a_week_and_three_weeks_a_month_in_the_usual_proportion():
    rates = RentalRates(Decimal(100), Decimal(300), Decimal(900))
    assert [(one.longer, one.count) for one in break_even_table(rates)] == [
        ("week", 3), ("month", 3), ("month", 9),
    ]  # fmt: skip
    assert cheapest_rental([2, 3, 7, 9, 21, 28], rates).cost_cents.tolist() == [
        20_000, 30_000, 30_000, 50_000, 90_000, 90_000,
    ]  # fmt: skip


@published(
    source="Rental yards",
    section="8, 40 and 160 meter hours are included in a day, a week and a four-week month",
    status="common practice, no source",
)
@pytest.mark.parametrize(("days", "hours"), [(1, 8.0), (7, 40.0), (28, 160.0)])
def test_a_single_shift_is_included_in_every_tier(days, hours):
    rates = RentalRates(Decimal(100), Decimal(300), Decimal(900), over_hour=Decimal(50))
    assert cheapest_rental(days, rates, hours).over_hour_charge == 0
    assert cheapest_rental(days, rates, hours + 1).over_hours == 1


@published(
    source="Rental yards",
    section="a bill: weeks at their price, the waiver on the rent, and the hauling each way",
    status="common practice, no source",
    note="all sums are ours",
)
def test_three_weeks_at_1200_are_3600_and_the_bill_adds_waiver_and_hauling():
    rental = cheapest_rental(21, RentalRates(week=Decimal(1_200)))
    assert rental.cost == Decimal("3600.00")
    bare = rental_bill(rental, RentalTerms(Decimal(0), Decimal(0)), Decimal(0))
    assert bare.total == Decimal("3600.00")
    whole = rental_bill(
        rental, RentalTerms(Decimal(125), Decimal(125), Decimal("0.15")), Decimal(0)
    )
    assert whole.total == Decimal("4390.00")
