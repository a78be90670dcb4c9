"""What a machine of one's own costs an hour and a year, beside the same machine rented."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from api.calculations.machine_shapes import MachineToOwn, RentInstead
from api.contract.commands import stated
from api.contract.places import ROOT, faults_at, pointer

if TYPE_CHECKING:
    from estimator.rates.machines.owned_equipment import HourlyCost, OwnedMachine


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
        hourly_cost,
    )

    owned, burned = stated(body.machine), stated(body.running)
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
        **vars(hour),
        "owning": hour.owning,
        "running": hour.running,
        "total": hour.total,
        "standby": hour.standby,
        "year": _year(own, hour, body.rent_instead) if body.rent_instead else None,
    }


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
