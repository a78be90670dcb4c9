from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import EquipmentFaulty
from estimator.rates.machines.owned_equipment import (
    HourlyCost,
    OwnedMachine,
    average_value_fraction,
    cost_of_money_per_hr,
    depreciation_per_hr,
)
from estimator.rates.machines.purchase import PurchaseTerms, equipment_value

money = st.decimals(0, 200, places=2)


def machine(**changed) -> OwnedMachine:
    terms = {
        "value": Decimal(45000), "life_hours": Decimal(5000), "hours_per_year": Decimal(1000),
        "salvage_fraction": Decimal("0.20"),
    }  # fmt: skip
    return OwnedMachine(**(terms | changed))


def test_a_list_price_alone_is_the_value():
    assert equipment_value(PurchaseTerms(Decimal(52000))).total == Decimal(52000)
    no_weight = PurchaseTerms(Decimal(52000), freight_per_cwt=Decimal("5.27"))
    no_freight = PurchaseTerms(Decimal(52000), shipping_weight_cwt=Decimal(180))
    assert equipment_value(no_weight).total == equipment_value(no_freight).total == 52000


def test_discount_tax_and_freight_are_rounded_line_by_line():
    value = equipment_value(
        PurchaseTerms(
            Decimal(48999), Decimal("0.075"), Decimal("0.06"), Decimal("76.5"), Decimal("4.10")
        )
    )
    assert (value.discount, value.tax, value.freight) == (
        Decimal(3675),
        Decimal(2719),
        Decimal(314),
    )
    assert value.total == Decimal(48357)


def test_depreciation_leaves_out_salvage():
    assert depreciation_per_hr(machine()) == Decimal("7.20")


def test_depreciation_leaves_out_the_tires_at_their_old_price():
    with_tires = machine(tire_cost=Decimal(2000), tire_cost_index=Decimal("0.90"))
    assert depreciation_per_hr(with_tires) == Decimal("6.84")


def test_without_salvage_all_of_the_value_is_used_up():
    assert depreciation_per_hr(machine(salvage_fraction=Decimal(0))) == Decimal("9.00")


def test_the_average_of_five_falling_years_is_counted_at_their_beginnings():
    # 1.00, 0.84, 0.68, 0.52, 0.36
    assert average_value_fraction(Decimal(5), Decimal("0.20")) == Decimal("0.68")


def test_a_machine_of_one_year_is_worth_all_of_it():
    assert average_value_fraction(Decimal(1), Decimal("0.20")) == 1


def test_a_machine_that_keeps_its_value_is_always_worth_all_of_it():
    assert average_value_fraction(Decimal(8), Decimal(1)) == 1


def test_money_in_a_machine_costs_its_share_of_an_hour():
    assert cost_of_money_per_hr(machine(), Decimal("0.08")) == Decimal("2.45")
    assert cost_of_money_per_hr(machine(), Decimal(0)) == Decimal("0.00")


def test_fewer_hours_a_year_make_the_money_dearer_by_the_hour():
    idle = machine(hours_per_year=Decimal(250))
    assert cost_of_money_per_hr(idle, Decimal("0.08")) == Decimal("8.93")


def test_a_day_is_the_hours_it_runs_and_the_hours_it_waits():
    hour = HourlyCost(
        Decimal("7.20"), Decimal("2.45"), fuel=Decimal("7.20"), repair=Decimal("5.40")
    )
    assert (hour.total, hour.standby) == (Decimal("22.25"), Decimal("6.05"))
    assert hour.per_day(Decimal(6), Decimal(2)) == Decimal("145.60")
    assert hour.per_day(Decimal(0)) == Decimal("0.00")


def test_half_a_cent_of_standby_is_a_cent():
    assert HourlyCost(Decimal("0.01"), Decimal("0.00")).standby == Decimal("0.01")


@pytest.mark.parametrize(
    "make",
    [
        lambda: machine(life_hours=Decimal(0)),
        lambda: machine(hours_per_year=Decimal(0)),
        lambda: machine(value=Decimal(0)),
        lambda: machine(value=Decimal(-1)),
        lambda: machine(salvage_fraction=Decimal(20)),
        lambda: machine(tire_cost=Decimal(40000)),
        lambda: machine(value=45000.0),
        lambda: PurchaseTerms(Decimal(0)),
        lambda: PurchaseTerms(Decimal(50000), discount_fraction=Decimal("7.5")),
        lambda: average_value_fraction(Decimal("0.5"), Decimal(0)),
        lambda: cost_of_money_per_hr(machine(), Decimal(8)),
        lambda: HourlyCost(Decimal(1), Decimal(1)).per_day(Decimal(-8)),
    ],
)
def test_machines_that_cannot_be_are_refused(make):
    with pytest.raises(EquipmentFaulty):
        make()


def test_a_life_of_no_hours_is_named():
    with pytest.raises(EquipmentFaulty, match="life_hours: is zero"):
        machine(life_hours=Decimal(0))


@given(st.decimals(1, 30, places=2), st.decimals(0, 1, places=2))
def test_the_average_value_lies_between_salvage_and_new(years, salvage):
    average = average_value_fraction(years, salvage)
    assert max(salvage, Decimal("0.5")) <= average <= 1


@given(money, money, money)
def test_standby_costs_no_more_than_owning_and_owning_no_more_than_working(
    depreciation, interest, fuel
):
    hour = HourlyCost(depreciation, interest, fuel=fuel)
    assert hour.standby <= hour.owning <= hour.total
    assert hour.running == fuel
