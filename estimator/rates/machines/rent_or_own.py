"""To rent or to own: the hours a year from which owning is the cheaper.

Owning costs the same whether the machine runs or rusts; renting costs only when it is there. A
machine that is used less than its schedule's hours a year costs far more an hour than the schedule.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal

from estimator.errors import EquipmentFaulty, fault
from estimator.money import exact_arithmetic, round_to_cent
from estimator.rates.exact_inputs import Exact, exact_inputs
from estimator.rates.machines.owned_equipment import HourlyCost, OwnedMachine


@exact_inputs(
    EquipmentFaulty, fixed_per_year="$", own_running_per_hr="$/hr", rent_per_hr="$/hr",
    rent_running_per_hr="$/hr",
)  # fmt: skip
@dataclass(frozen=True)
class YearlyChoice:
    """A machine for a year, owned or rented.

    Parameters
    ----------
    fixed_per_year : Decimal [$/year]
        Owning: what it costs standing still, with insurance, storage and license.
    own_running_per_hr : Decimal [$/hr]
        Owning: fuel, service, tires, repair.
    rent_per_hr : Decimal [$/hr]
        Renting: rent, waiver, fees and hauling over the hours that it really works.
    rent_running_per_hr : Decimal [$/hr]
        Renting: fuel, which the yard does not pay.
    """

    fixed_per_year: Exact
    own_running_per_hr: Exact
    rent_per_hr: Exact
    rent_running_per_hr: Exact

    @property
    def saved_per_hr(self) -> Decimal:
        """What an hour in one's own machine saves; owning never pays if it is not above zero."""
        return self.rent_per_hr + self.rent_running_per_hr - self.own_running_per_hr

    @exact_inputs(EquipmentFaulty, hours="hr")
    def owned(self, hours: Exact) -> Decimal:
        """Return what a year of so many working hours costs in one's own machine [$]."""
        return round_to_cent(self.fixed_per_year + self.own_running_per_hr * hours)

    @exact_inputs(EquipmentFaulty, hours="hr")
    def rented(self, hours: Exact) -> Decimal:
        """Return what a year of so many working hours costs in rented machines [$]."""
        return round_to_cent((self.rent_per_hr + self.rent_running_per_hr) * hours)


@exact_inputs(EquipmentFaulty, other_per_year="$")
def fixed_per_year(
    machine: OwnedMachine, hour: HourlyCost, other_per_year: Exact = Decimal(0)
) -> Decimal:
    """Return what owning a machine costs in a year, run or not [$/year].

    Parameters
    ----------
    machine : OwnedMachine
        With the hours it works in a year.
    hour : HourlyCost
        At the machine's own hours per year.
    other_per_year : Decimal [$/year]
        Insurance, storage, license, property tax.

    Notes
    -----
    Owning per hour x hours per year: a machine of the site loses its value with the years, used
    or not. Where it wears by the hour alone, this makes owning look dearer than it is.

    Examples
    --------
    >>> skid_steer = OwnedMachine(Decimal(45000), Decimal(5000), Decimal(1000), Decimal("0.20"))
    >>> hour = HourlyCost(Decimal("7.20"), Decimal("2.45"))
    >>> fixed_per_year(skid_steer, hour, Decimal(900))
    Decimal('10550.00')
    """
    return round_to_cent(hour.owning * machine.hours_per_year + other_per_year)


@exact_arithmetic
def break_even_hours(choice: YearlyChoice) -> Decimal:
    """Return the working hours a year from which owning costs no more, raised to 0.01 [hr/year].

    Parameters
    ----------
    choice : YearlyChoice
        What both ways cost.

    Raises
    ------
    EquipmentFaulty
        If owning never pays, because its hour alone costs as much as the rented one.

    Notes
    -----
    H = fixed / (rent + its fuel - own running).

    Examples
    --------
    >>> choice = YearlyChoice(Decimal(10550), Decimal("14.40"), Decimal("36.88"), Decimal("7.20"))
    >>> break_even_hours(choice)
    Decimal('355.46')
    """
    if choice.saved_per_hr <= 0:
        raise fault(
            EquipmentFaulty,
            "owning never pays: its running hour costs at least as much as the rented one",
            "rent", "rent_per_hr",
        )  # fmt: skip
    hours = choice.fixed_per_year / choice.saved_per_hr
    return hours.quantize(Decimal("0.01"), rounding=ROUND_CEILING)
