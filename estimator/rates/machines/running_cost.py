"""What a machine costs while it runs: fuel, filters-oil-grease, tires, repair.

Formulas of the USACE schedule. Its labor adjustment factor brings the national cost of a
mechanic's hour to the region; 1 where the factors are your own.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from estimator.errors import EquipmentFaulty, fault
from estimator.money import round_to_cent
from estimator.rates.decimal_check import check_decimals
from estimator.rates.machines.owned_equipment import (
    HourlyCost,
    OwnedMachine,
    cost_of_money_per_hr,
    depreciation_per_hr,
)

_TIRE_REPAIR_FRACTION = Decimal("0.15")
_TIRE_COST_FACTOR = Decimal("1.5")
_TIRE_LIFE_FACTOR = Decimal("1.8")


@dataclass(frozen=True)
class Fuel:
    """A fuel as engines burn it.

    Parameters
    ----------
    name : str
    lb_per_bhp_hr : Decimal [lb per brake horsepower-hour]
    lb_per_gal : Decimal [lb/gal]

    Raises
    ------
    EquipmentFaulty
        If a number is not positive.
    """

    name: str
    lb_per_bhp_hr: Decimal
    lb_per_gal: Decimal

    def __post_init__(self) -> None:
        check_decimals(
            EquipmentFaulty, positive=("lb_per_bhp_hr", "lb_per_gal"),
            lb_per_bhp_hr=self.lb_per_bhp_hr, lb_per_gal=self.lb_per_gal,
        )  # fmt: skip


# USACE EP 1110-1-8 (2003), ch. 2, averages of manufacturers' engine data.
DIESEL = Fuel("diesel", Decimal("0.36"), Decimal(7))
GASOLINE = Fuel("gasoline", Decimal("0.60"), Decimal(6))


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

    Raises
    ------
    EquipmentFaulty
        If life or wear factor is zero, a number is negative, or the factor is above 1.
    """

    cost: Decimal
    life_hours: Decimal
    wear_factor: Decimal = Decimal(1)

    def __post_init__(self) -> None:
        check_decimals(
            EquipmentFaulty, positive=("life_hours", "wear_factor"), fractions=("wear_factor",),
            **vars(self),
        )  # fmt: skip

    @property
    def wear_per_hr(self) -> Decimal:
        """1.5 x cost / (1.8 x wear factor x life), not rounded [$/hr]."""
        return (
            _TIRE_COST_FACTOR * self.cost / (_TIRE_LIFE_FACTOR * self.wear_factor * self.life_hours)
        )


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
    fuel_per_gal : Decimal [$/gal]
    service_fraction : Decimal [$ per $ of fuel]
        Filters, oil and grease, with the labor of it.
    repair_fraction : Decimal [$ per $ of value without tires]
        All repairs over the life.
    tires : tuple of Tires
    labor_factor : Decimal
    economic_factor : Decimal
        Brings repair from the year of manufacture to today.

    Raises
    ------
    EquipmentFaulty
        If a number is negative or the power factor is above 1.
    """

    horsepower: Decimal
    power_factor: Decimal
    fuel: Fuel
    fuel_per_gal: Decimal
    service_fraction: Decimal = Decimal(0)
    repair_fraction: Decimal = Decimal(0)
    tires: tuple[Tires, ...] = ()
    labor_factor: Decimal = Decimal(1)
    economic_factor: Decimal = Decimal(1)

    def __post_init__(self) -> None:
        check_decimals(
            EquipmentFaulty, fractions=("power_factor",), horsepower=self.horsepower,
            power_factor=self.power_factor, fuel_per_gal=self.fuel_per_gal,
            service_fraction=self.service_fraction, repair_fraction=self.repair_fraction,
            labor_factor=self.labor_factor, economic_factor=self.economic_factor,
        )  # fmt: skip


def fuel_gal_per_hr(horsepower: Decimal, power_factor: Decimal, fuel: Fuel) -> Decimal:
    """Return the fuel an engine burns in an hour of work [gal/hr], not rounded.

    Parameters
    ----------
    horsepower : Decimal [hp]
    power_factor : Decimal
        0 to 1.
    fuel : Fuel

    Raises
    ------
    EquipmentFaulty
        If a number is negative or the factor is above 1.

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
    check_decimals(
        EquipmentFaulty, fractions=("power_factor",), horsepower=horsepower,
        power_factor=power_factor,
    )  # fmt: skip
    return horsepower * power_factor * fuel.lb_per_bhp_hr / fuel.lb_per_gal


def tire_repair_per_hr(tire_wear_per_hr: Decimal, labor_factor: Decimal = Decimal(1)) -> Decimal:
    """Return tire repair as 15 % of tire wear, adjusted, half-up to the cent [$/hr].

    Parameters
    ----------
    tire_wear_per_hr : Decimal [$/hr]
    labor_factor : Decimal

    Raises
    ------
    EquipmentFaulty
        If a number is negative.

    References
    ----------
    USACE EP 1110-1-8 (2003), worksheet part 5.f.

    Examples
    --------
    >>> tire_repair_per_hr(Decimal("1.25"), Decimal("0.88"))  # 0.165: a tie
    Decimal('0.17')
    """
    check_decimals(EquipmentFaulty, tire_wear_per_hr=tire_wear_per_hr, labor_factor=labor_factor)
    return round_to_cent(tire_wear_per_hr * _TIRE_REPAIR_FRACTION * labor_factor)


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


def hourly_cost(
    machine: OwnedMachine, terms: RunningTerms, annual_rate_fraction: Decimal
) -> HourlyCost:
    """Return the seven elements of a machine hour, each rounded to the cent.

    Parameters
    ----------
    machine : OwnedMachine
    terms : RunningTerms
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
    fuel = round_to_cent(
        fuel_gal_per_hr(terms.horsepower, terms.power_factor, terms.fuel) * terms.fuel_per_gal
    )
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
