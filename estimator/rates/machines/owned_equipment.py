"""What it costs an hour to own a machine and to run it: the published build-up.

Owning is depreciation and the cost of the money in the machine; running is fuel, service, tires
and repair (`running_cost`). Each element is rounded to the cent per hour, the rate is their sum.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from estimator.errors import EquipmentFaulty, fault
from estimator.money import exact_arithmetic, round_to_cent
from estimator.rates.exact_inputs import Exact, exact_inputs

_STANDBY_FRACTION = Decimal("0.5")


@exact_inputs(
    EquipmentFaulty, positive=("value", "life_hours", "hours_per_year"),
    fractions=("salvage_fraction",), value="$", life_hours="hr", hours_per_year="hr",
    salvage_fraction="fraction", tire_cost="$", tire_cost_index="fraction",
)  # fmt: skip
@dataclass(frozen=True)
class OwnedMachine:
    """A machine, its life, and what is left of it.

    Parameters
    ----------
    value : Decimal [$]
        Bought and brought to the yard: `equipment_value`.
    life_hours : Decimal [hr]
        Economic life.
    hours_per_year : Decimal [hr/year]
        What it works in a year.
    salvage_fraction : Decimal [$ per $ of value]
        What it brings at the end.
    tire_cost : Decimal [$]
        Of the set it came with; tires wear out by themselves and are no part of depreciation.
    tire_cost_index : Decimal
        Brings today's tire cost to the year of manufacture; 1 for a machine bought this year.

    Raises
    ------
    EquipmentFaulty
        If value or a number of hours is zero, a number is negative, salvage is above 1, or
        salvage and tires are more than the value.
    """

    value: Exact
    life_hours: Exact
    hours_per_year: Exact
    salvage_fraction: Exact = Decimal(0)
    tire_cost: Exact = Decimal(0)
    tire_cost_index: Exact = Decimal(1)

    def __post_init__(self) -> None:
        if self.depreciable < 0:
            raise fault(EquipmentFaulty, "salvage and tires are more than the value")

    @property
    def life_years(self) -> Decimal:
        """Economic life over hours a year [year], not rounded."""
        return self.life_hours / self.hours_per_year

    @property
    def original_tires(self) -> Decimal:
        """Tires at the prices of the year of manufacture [$]."""
        return self.tire_cost_index * self.tire_cost

    @property
    def depreciable(self) -> Decimal:
        """Value less salvage and tires [$]."""
        return self.value * (1 - self.salvage_fraction) - self.original_tires


@exact_arithmetic
@dataclass(frozen=True)
class HourlyCost:
    """The seven elements of a machine hour, each in cents [$/hr]; no operator, no overhead."""

    depreciation: Decimal
    cost_of_money: Decimal
    fuel: Decimal = Decimal(0)
    filters_oil_grease: Decimal = Decimal(0)
    tire_wear: Decimal = Decimal(0)
    tire_repair: Decimal = Decimal(0)
    repair: Decimal = Decimal(0)

    @property
    def owning(self) -> Decimal:
        """Depreciation and cost of money [$/hr]."""
        return self.depreciation + self.cost_of_money

    @property
    def running(self) -> Decimal:
        """What only a working machine costs [$/hr]."""
        return self.total - self.owning

    @property
    def total(self) -> Decimal:
        """All seven elements [$/hr]."""
        return sum(vars(self).values(), Decimal(0))

    @property
    def standby(self) -> Decimal:
        """Half the depreciation and all of the cost of money, half-up to the cent [$/hr]."""
        return round_to_cent(_STANDBY_FRACTION * self.depreciation + self.cost_of_money)

    @exact_inputs(EquipmentFaulty, working_hours="hr", standby_hours="hr")
    def per_day(self, working_hours: Exact, standby_hours: Exact = Decimal(0)) -> Decimal:
        """Return the cost of a day [$].

        Parameters
        ----------
        working_hours, standby_hours : Decimal [hr]
            Hours that it runs, and hours that it waits on the site.

        Examples
        --------
        >>> hour = HourlyCost(Decimal("4.00"), Decimal("1.00"), fuel=Decimal("6.00"))
        >>> hour.per_day(Decimal(6), Decimal(2))
        Decimal('72.00')
        """
        return round_to_cent(self.total * working_hours + self.standby * standby_hours)


@exact_arithmetic
def depreciation_per_hr(machine: OwnedMachine) -> Decimal:
    """Return straight-line depreciation over the hours of life, half-up to the cent [$/hr].

    Notes
    -----
    D = (value (1 - salvage) - tire index x tires) / life.

    References
    ----------
    USACE EP 1110-1-8 (2003), Figure 2-1, part 4.a.

    Examples
    --------
    >>> truck = OwnedMachine(
    ...     Decimal(1181907), Decimal(20000), Decimal(1540), Decimal("0.20"),
    ...     tire_cost=Decimal(10560), tire_cost_index=Decimal("0.944"),
    ... )
    >>> depreciation_per_hr(truck)
    Decimal('46.78')
    """
    return round_to_cent(machine.depreciable / machine.life_hours)


@exact_inputs(
    EquipmentFaulty, fractions=("salvage_fraction",), life_years="fraction",
    salvage_fraction="fraction",
)  # fmt: skip
def average_value_fraction(life_years: Exact, salvage_fraction: Exact) -> Decimal:
    """Return the average value over a machine's years as a fraction of its value new.

    Parameters
    ----------
    life_years : Decimal [year]
        At least one.
    salvage_fraction : Decimal
        What the machine brings at the end, 0 to 1 of its value new.

    Raises
    ------
    EquipmentFaulty
        If life is below a year, or salvage is outside 0 to 1.

    Notes
    -----
    ((N - 1)(1 + s) + 2) / (2 N): the mean of the values at the start of each of N years, falling
    in a straight line to the salvage s after the last.

    References
    ----------
    USACE EP 1110-1-8, ch. 2, facilities capital cost of money (from memory).

    Examples
    --------
    >>> average_value_fraction(Decimal(5), Decimal("0.20"))
    Decimal('0.68')
    """
    if life_years < 1:
        raise fault(EquipmentFaulty, "is below a year", "average it by hand", "life_years")
    return ((life_years - 1) * (1 + salvage_fraction) + 2) / (2 * life_years)


@exact_inputs(EquipmentFaulty, fractions=("annual_rate_fraction",), annual_rate_fraction="fraction")
def cost_of_money_per_hr(machine: OwnedMachine, annual_rate_fraction: Exact) -> Decimal:
    """Return what the money in a machine costs an hour, half-up to the cent [$/hr].

    Parameters
    ----------
    machine : OwnedMachine
        Value, life and salvage.
    annual_rate_fraction : Decimal [$ per $ and year]
        What the lender takes, or what the money would earn elsewhere.

    Raises
    ------
    EquipmentFaulty
        If the rate is outside 0 to 1, or life is below a year.

    Notes
    -----
    C = value x average value fraction x rate / hours per year, divided last, so that years that
    are not a whole number miss no half cent.

    References
    ----------
    USACE EP 1110-1-8, ch. 2 (from memory). The pamphlet takes its rate from the Treasury's
    half-yearly prompt-payment rate, adjusted; an owner takes the rate of the loan.

    Examples
    --------
    >>> skid_steer = OwnedMachine(Decimal(45000), Decimal(5000), Decimal(1000), Decimal("0.20"))
    >>> cost_of_money_per_hr(skid_steer, Decimal("0.08"))
    Decimal('2.45')
    """
    average_value_fraction(machine.life_years, machine.salvage_fraction)  # refuses a short life
    life, year = machine.life_hours, machine.hours_per_year
    doubled = (life - year) * (1 + machine.salvage_fraction) + 2 * year
    return round_to_cent(machine.value * doubled * annual_rate_fraction / (2 * life * year))
