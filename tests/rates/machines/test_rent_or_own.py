from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import EquipmentFaulty
from estimator.rates.machines.owned_equipment import HourlyCost, OwnedMachine
from estimator.rates.machines.rent_or_own import YearlyChoice, break_even_hours, fixed_per_year

CHOICE = YearlyChoice(Decimal(10550), Decimal("14.40"), Decimal("36.88"), Decimal("7.20"))
per_hour = st.decimals(1, 200, places=2)


def test_a_machine_that_stands_still_costs_its_owner_the_whole_year():
    assert (CHOICE.owned(Decimal(0)), CHOICE.rented(Decimal(0))) == (Decimal(10550), Decimal(0))


def test_below_the_break_even_renting_is_cheaper_and_above_it_owning():
    assert break_even_hours(CHOICE) == Decimal("355.46")
    assert CHOICE.rented(Decimal(300)) == Decimal("13224.00")
    assert CHOICE.owned(Decimal(300)) == Decimal("14870.00")
    assert CHOICE.rented(Decimal(400)) == Decimal("17632.00")
    assert CHOICE.owned(Decimal(400)) == Decimal("16310.00")


def test_what_stands_still_is_owning_with_insurance_and_storage():
    machine = OwnedMachine(Decimal(45000), Decimal(5000), Decimal(1000), Decimal("0.20"))
    hour = HourlyCost(Decimal("7.20"), Decimal("2.45"), fuel=Decimal("7.20"))
    assert fixed_per_year(machine, hour) == Decimal("9650.00")
    assert fixed_per_year(machine, hour, Decimal(900)) == Decimal("10550.00")


def test_a_machine_that_costs_nothing_standing_pays_at_once():
    free = YearlyChoice(Decimal(0), Decimal(10), Decimal(30), Decimal(7))
    assert break_even_hours(free) == 0


def test_owning_that_never_pays_is_said_so():
    dear = YearlyChoice(Decimal(5000), Decimal(45), Decimal(30), Decimal(7))
    as_dear = YearlyChoice(Decimal(5000), Decimal(37), Decimal(30), Decimal(7))
    for choice in (dear, as_dear):
        with pytest.raises(EquipmentFaulty, match="owning never pays"):
            break_even_hours(choice)


@pytest.mark.parametrize(
    "make",
    [
        lambda: YearlyChoice(Decimal(-1), Decimal(1), Decimal(1), Decimal(1)),
        lambda: CHOICE.owned(Decimal(-1)),
        lambda: CHOICE.rented(Decimal(-1)),
    ],
)
def test_costs_and_hours_below_zero_are_refused(make):
    with pytest.raises(EquipmentFaulty):
        make()


@given(st.decimals(0, 50000, places=2), per_hour, per_hour)
def test_from_the_break_even_on_owning_costs_no_more(fixed, running, more):
    choice = YearlyChoice(fixed, running, running + more, Decimal(0))
    hours = break_even_hours(choice)
    assert choice.owned(hours) <= choice.rented(hours) + Decimal("0.01")
    assert choice.owned(hours + 1) <= choice.rented(hours + 1)
