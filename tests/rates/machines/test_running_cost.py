from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import EquipmentFaulty
from estimator.rates.machines.owned_equipment import OwnedMachine
from estimator.rates.machines.running_cost import (
    DIESEL,
    GASOLINE,
    Fuel,
    RunningTerms,
    Tires,
    fuel_gal_per_hr,
    hourly_cost,
    repair_per_hr,
    tire_repair_per_hr,
)

LOADER = OwnedMachine(
    Decimal(60000), Decimal(6000), Decimal(1000), Decimal("0.25"), tire_cost=Decimal(3000)
)
TERMS = RunningTerms(
    Decimal(70), Decimal("0.50"), DIESEL, Decimal("4.00"), service_fraction=Decimal("0.25"),
    repair_fraction=Decimal("0.60"), tires=(Tires(Decimal(3000), Decimal(2500)),),
)  # fmt: skip


def test_an_idle_engine_burns_nothing():
    assert fuel_gal_per_hr(Decimal(70), Decimal(0), DIESEL) == 0


def test_gasoline_is_burned_by_the_tenth_of_a_gallon():
    assert fuel_gal_per_hr(Decimal(13), Decimal("0.50"), GASOLINE) == Decimal("0.65")


def test_all_seven_elements_of_a_wheel_loader_come_out():
    hour = hourly_cost(LOADER, TERMS, Decimal("0.06"))
    assert (hour.depreciation, hour.cost_of_money) == (Decimal("7.00"), Decimal("2.48"))
    assert (hour.fuel, hour.filters_oil_grease) == (Decimal("7.20"), Decimal("1.80"))
    assert (hour.tire_wear, hour.tire_repair) == (Decimal("1.00"), Decimal("0.15"))
    assert (hour.repair, hour.total) == (Decimal("5.70"), Decimal("25.33"))


def test_labor_that_is_cheaper_makes_service_and_repair_cheaper():
    terms = RunningTerms(
        Decimal(70), Decimal("0.50"), DIESEL, Decimal("4.00"), service_fraction=Decimal("0.25"),
        repair_fraction=Decimal("0.60"), tires=TERMS.tires, labor_factor=Decimal("0.90"),
    )  # fmt: skip
    hour = hourly_cost(LOADER, terms, Decimal("0.06"))
    assert (hour.filters_oil_grease, hour.tire_repair, hour.repair) == (
        Decimal("1.62"), Decimal("0.14"), Decimal("5.13"),
    )  # fmt: skip


def test_tires_are_repaired_at_the_usual_wage_where_no_other_is_named():
    assert tire_repair_per_hr(Decimal("20.40")) == Decimal("3.06")
    assert tire_repair_per_hr(Decimal("20.40"), Decimal("0.88")) == Decimal("2.69")


def test_tires_on_hard_ground_wear_faster():
    assert Tires(Decimal(3000), Decimal(2500), Decimal("0.50")).wear_per_hr == 2


def test_repair_does_not_leave_out_salvage():
    assert repair_per_hr(LOADER, TERMS) == Decimal("5.70")


@pytest.mark.parametrize(
    "make",
    [
        lambda: fuel_gal_per_hr(Decimal(70), Decimal("1.5"), DIESEL),
        lambda: fuel_gal_per_hr(Decimal(-70), Decimal("0.5"), DIESEL),
        lambda: Fuel("water", Decimal("0.36"), Decimal(0)),
        lambda: Tires(Decimal(3000), Decimal(0)),
        lambda: Tires(Decimal(3000), Decimal(2500), Decimal(0)),
        lambda: tire_repair_per_hr(Decimal(-1)),
        lambda: RunningTerms(Decimal(70), Decimal("0.50"), DIESEL, Decimal(-4)),
        lambda: hourly_cost(
            LOADER, RunningTerms(Decimal(70), Decimal("0.50"), DIESEL, Decimal(4)), Decimal(0)
        ),
    ],
)
def test_engines_and_tires_that_cannot_be_are_refused(make):
    with pytest.raises(EquipmentFaulty):
        make()


@given(st.decimals(0, 1, places=2), st.decimals(0, 1, places=2))
def test_a_harder_worked_engine_never_burns_less(low, more):
    burned = [
        fuel_gal_per_hr(Decimal(70), factor, DIESEL)
        for factor in (low, min(Decimal(1), low + more))
    ]
    assert burned[0] <= burned[1]
