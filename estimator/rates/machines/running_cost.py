"""What a machine costs while it runs: fuel, filters-oil-grease, tires, repair.

Formulas of the USACE schedule. Its labor adjustment factor brings the national cost of a
mechanic's hour to the region; 1 where the factors are your own.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from estimator.errors import EquipmentFaulty, fault
from estimator.money import exact_arithmetic, round_to_cent
from estimator.rates.exact_inputs import Exact, exact_inputs
from estimator.rates.machines.owned_equipment import (
    HourlyCost,
    OwnedMachine,
    cost_of_money_per_hr,
    depreciation_per_hr,
)

_TIRE_REPAIR_FRACTION = Decimal("0.15")
_TIRE_COST_FACTOR = Decimal("1.5")
_TIRE_LIFE_FACTOR = Decimal("1.8")


@exact_inputs(
    EquipmentFaulty, positive=("lb_per_bhp_hr", "lb_per_gal"), lb_per_bhp_hr="lb/hr",
    lb_per_gal="lb/gal",
)  # fmt: skip
@dataclass(frozen=True)
class Fuel:
    """A fuel as engines burn it.

    Parameters
    ----------
    name : str
        As a fuel list calls it.
    lb_per_bhp_hr : Decimal [lb per brake horsepower-hour]
        What an engine burns for each.
    lb_per_gal : Decimal [lb/gal]
        Its weight.
    """

    name: str
    lb_per_bhp_hr: Exact
    lb_per_gal: Exact


# USACE EP 1110-1-8 (2003), ch. 2, averages of manufacturers' engine data.
DIESEL = Fuel("diesel", Decimal("0.36"), Decimal(7))
GASOLINE = Fuel("gasoline", Decimal("0.60"), Decimal(6))


@exact_inputs(
    EquipmentFaulty, positive=("life_hours", "wear_factor"), fractions=("wear_factor",),
    cost="$", life_hours="hr", wear_factor="fraction",
)  # fmt: skip
@dataclass(frozen=True)
class Tires:
    """A set of tires of one position.

    Parameters
    ----------
    cost : Decimal [$]
        Of the set at today's prices.
    life_hours : Decimal [hr]
        Longest life.
    wear_factor : Decimal
        0 to 1: the part of it that the position and the ground leave.
    """

    cost: Exact
    life_hours: Exact
    wear_factor: Exact = Decimal(1)

    @property
    def wear_per_hr(self) -> Decimal:
        """1.5 x cost / (1.8 x wear factor x life), not rounded [$/hr]."""
        return (
            _TIRE_COST_FACTOR * self.cost / (_TIRE_LIFE_FACTOR * self.wear_factor * self.life_hours)
        )


@exact_inputs(
    EquipmentFaulty, fractions=("power_factor",), horsepower="fraction", power_factor="fraction",
    fuel_per_gal="$/gal", service_fraction="fraction", repair_fraction="fraction",
    labor_factor="fraction", economic_factor="fraction",
)  # fmt: skip
@dataclass(frozen=True)
class RunningTerms:
    """What a machine burns and wears.

    Parameters
    ----------
    horsepower : Decimal [hp]
        Rated, of the engine.
    power_factor : Decimal
        0 to 1: the part of it that is drawn on average.
    fuel : Fuel
        What the engine burns.
    fuel_per_gal : Decimal [$/gal]
        Its price in the tank.
    service_fraction : Decimal [$ per $ of fuel]
        Filters, oil and grease, with the labor of it.
    repair_fraction : Decimal [$ per $ of value without tires]
        All repairs over the life.
    tires : tuple of Tires
        One set a position; none for a machine on tracks.
    labor_factor : Decimal
        Brings the national cost of a mechanic's hour to the region.
    economic_factor : Decimal
        Brings repair from the year of manufacture to today.
    """

    horsepower: Exact
    power_factor: Exact
    fuel: Fuel
    fuel_per_gal: Exact
    service_fraction: Exact = Decimal(0)
    repair_fraction: Exact = Decimal(0)
    tires: tuple[Tires, ...] = ()
    labor_factor: Exact = Decimal(1)
    economic_factor: Exact = Decimal(1)


@exact_inputs(
    EquipmentFaulty, fractions=("power_factor",), horsepower="fraction", power_factor="fraction"
)
def fuel_gal_per_hr(horsepower: Exact, power_factor: Exact, fuel: Fuel) -> Decimal:
    """Return the fuel an engine burns in an hour of work [gal/hr], not rounded.

    Parameters
    ----------
    horsepower : Decimal [hp]
        Rated, of the engine.
    power_factor : Decimal
        0 to 1.
    fuel : Fuel
        What it burns.

    Notes
    -----
    G = hp x factor x lb per bhp-hr / lb per gal.

    References
    ----------
    USACE EP 1110-1-8 (2003), ch. 2, fuel factor.

    Examples
    --------
    >>> fuel_gal_per_hr(Decimal(70), Decimal("0.50"), DIESEL)
    Decimal('1.8000')
    """
    return horsepower * power_factor * fuel.lb_per_bhp_hr / fuel.lb_per_gal


@exact_inputs(EquipmentFaulty, tire_wear_per_hr="$/hr", labor_factor="fraction")
def tire_repair_per_hr(tire_wear_per_hr: Exact, labor_factor: Exact = Decimal(1)) -> Decimal:
    """Return tire repair as 15 % of tire wear, adjusted, half-up to the cent [$/hr].

    Parameters
    ----------
    tire_wear_per_hr : Decimal [$/hr]
        Of all sets.
    labor_factor : Decimal
        Brings the national cost of a mechanic's hour to the region.

    References
    ----------
    USACE EP 1110-1-8 (2003), worksheet part 5.f.

    Examples
    --------
    >>> tire_repair_per_hr(Decimal("1.25"), Decimal("0.88"))  # 0.165: a tie
    Decimal('0.17')
    """
    return round_to_cent(tire_wear_per_hr * _TIRE_REPAIR_FRACTION * labor_factor)


@exact_arithmetic
def repair_per_hr(machine: OwnedMachine, terms: RunningTerms) -> Decimal:
    """Return repair spread over the life, half-up to the cent [$/hr].

    Notes
    -----
    R = (value - tire index x tires) x repair factor x economic factor x labor factor / life.
    Salvage is not deducted: what is sold at the end was repaired like the rest.

    References
    ----------
    USACE EP 1110-1-8 (2003), worksheet part 5.d.

    Examples
    --------
    >>> skid_steer = OwnedMachine(Decimal(45000), Decimal(5000), Decimal(1000), Decimal("0.20"))
    >>> terms = RunningTerms(
    ...     Decimal(70), Decimal("0.50"), DIESEL, Decimal(4), repair_fraction=Decimal("0.60")
    ... )
    >>> repair_per_hr(skid_steer, terms)
    Decimal('5.40')
    """
    without_tires = machine.value - machine.original_tires
    factor = terms.repair_fraction * terms.economic_factor * terms.labor_factor
    return round_to_cent(without_tires * factor / machine.life_hours)


@exact_arithmetic
def hourly_cost(
    machine: OwnedMachine, terms: RunningTerms, annual_rate_fraction: Exact
) -> HourlyCost:
    """Return the seven elements of a machine hour, each rounded to the cent.

    Parameters
    ----------
    machine : OwnedMachine
        Value, life and tires.
    terms : RunningTerms
        Fuel, service and repair.
    annual_rate_fraction : Decimal [$ per $ and year]
        Cost of money.

    Raises
    ------
    EquipmentFaulty
        If the machine has tires and the terms none, or the other way round; or as for
        `cost_of_money_per_hr`.

    References
    ----------
    USACE EP 1110-1-8 (2003), ch. 2.

    Examples
    --------
    >>> skid_steer = OwnedMachine(Decimal(45000), Decimal(5000), Decimal(1000), Decimal("0.20"))
    >>> terms = RunningTerms(
    ...     Decimal(70), Decimal("0.50"), DIESEL, Decimal(4),
    ...     service_fraction=Decimal("0.25"), repair_fraction=Decimal("0.60"),
    ... )
    >>> hour = hourly_cost(skid_steer, terms, Decimal("0.08"))
    >>> hour.owning, hour.running, hour.total, hour.standby
    (Decimal('9.65'), Decimal('14.40'), Decimal('24.05'), Decimal('6.05'))
    """
    if bool(machine.tire_cost) != bool(terms.tires):
        raise fault(
            EquipmentFaulty, "either the machine or its running terms name tires, not both",
            "a tire that is not depreciated must wear", "tires",
        )  # fmt: skip
    burned_lb = terms.horsepower * terms.power_factor * terms.fuel.lb_per_bhp_hr
    fuel = round_to_cent(burned_lb * terms.fuel_per_gal / terms.fuel.lb_per_gal)
    wear = round_to_cent(sum((tires.wear_per_hr for tires in terms.tires), Decimal(0)))
    return HourlyCost(
        depreciation=depreciation_per_hr(machine),
        cost_of_money=cost_of_money_per_hr(machine, annual_rate_fraction),
        fuel=fuel,
        filters_oil_grease=round_to_cent(terms.service_fraction * fuel * terms.labor_factor),
        tire_wear=wear,
        tire_repair=tire_repair_per_hr(wear, terms.labor_factor),
        repair=repair_per_hr(machine, terms),
    )
