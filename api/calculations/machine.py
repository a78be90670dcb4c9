"""What a machine of one's own costs an hour and a year, beside the same machine rented."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING, Any

from api.calculations.machine_shapes import MachineToOwn, RentInstead
from api.contract.commands import stated
from api.contract.places import ROOT, faults_at, pointer
from estimator.errors import EquipmentFaulty, fault

if TYPE_CHECKING:
    from estimator.rates.machines.owned_equipment import HourlyCost, OwnedMachine

_VALUE = pointer("machine", "value")
_ONE_VALUE = "give the value, or the list price that it is bought for"


def machine(body: MachineToOwn) -> dict[str, Any]:
    """Return the seven elements of a machine hour, their sums, and a year owned or rented.

    Parameters
    ----------
    body : MachineToOwn
        The machine, what it burns and wears, what the money costs, and the rent in its place.

    Raises
    ------
    EquipmentFaulty
        If salvage and tires are more than the value, or only one part names tires.
    """
    from estimator.rates.machines.owned_equipment import OwnedMachine
    from estimator.rates.machines.running_cost import (
        DIESEL,
        GASOLINE,
        RunningTerms,
        Tires,
        fuel_gal_per_hr,
        hourly_cost,
    )

    owned, burned = stated(body.machine), stated(body.running)
    owned["value"] = _value(body)
    with faults_at(pointer("machine"), owned):
        own = OwnedMachine(**owned)
    with faults_at(pointer("running", "tires")):
        burned["tires"] = tuple(Tires(**stated(one)) for one in body.running.tires)
    burned["fuel"] = {one.name: one for one in (DIESEL, GASOLINE)}[body.running.fuel]
    with faults_at(pointer("running"), burned):
        terms = RunningTerms(**burned)
    with faults_at(ROOT, stated(body)):
        hour = hourly_cost(own, terms, body.annual_rate_fraction)
    return {
        "value": own.value,
        **vars(hour),
        "fuel_gal_per_hr": fuel_gal_per_hr(terms.horsepower, terms.power_factor, terms.fuel),
        "owning": hour.owning,
        "running": hour.running,
        "total": hour.total,
        "standby": hour.standby,
        "year": _year(own, hour, body.rent_instead) if body.rent_instead else None,
    }


def _value(body: MachineToOwn) -> Decimal:
    """Return what the machine is worth at the yard [$]: as it is stated, or as it is bought."""
    from estimator.rates.machines.purchase import PurchaseTerms, equipment_value

    if body.bought is None and body.machine.value is not None:
        return body.machine.value
    if body.bought is None or body.machine.value is not None:
        what = "is missing" if body.bought is None else "is given beside the list price"
        raise fault(EquipmentFaulty, what, _ONE_VALUE, _VALUE)
    terms = stated(body.bought)
    with faults_at(pointer("bought"), terms):
        return equipment_value(PurchaseTerms(**terms)).total


def _year(own: OwnedMachine, hour: HourlyCost, rented: RentInstead) -> dict[str, Any]:
    from estimator.rates.machines.rent_or_own import YearlyChoice, break_even_hours, fixed_per_year

    other = {name: one for name, one in stated(rented).items() if name == "other_per_year"}
    fixed = fixed_per_year(own, hour, **other)
    choice = YearlyChoice(fixed, hour.running, rented.rent_per_hr, hour.fuel)
    return {
        "hours": rented.hours,
        "fixed_per_year": fixed,
        "owned": choice.owned(rented.hours),
        "rented": choice.rented(rented.hours),
        "break_even_hours": break_even_hours(choice) if choice.saved_per_hr > 0 else None,
    }
