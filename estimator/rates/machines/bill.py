"""The whole bill of a rental, and the spans from which the longer tier is the cheaper one."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

import numpy as np

from estimator.errors import EquipmentFaulty
from estimator.money import exact_arithmetic, round_to_cent, to_cents
from estimator.rates.exact_inputs import Exact, exact_inputs
from estimator.rates.machines.rental import Rental, cheapest_rental
from estimator.rates.machines.rental_rates import RentalRates, RentalTier


@exact_inputs(
    EquipmentFaulty, fractions=("damage_waiver_fraction", "environmental_fee_fraction"),
    delivery="$", pick_up="$", damage_waiver_fraction="fraction",
    environmental_fee_fraction="fraction", environmental_fee_most="$", fuel_per_hr="$/hr",
)  # fmt: skip
@dataclass(frozen=True)
class RentalTerms:
    """What a yard charges beside the rent, and what the machine burns.

    Parameters
    ----------
    delivery, pick_up : Decimal [$]
        Bringing and taking it away.
    damage_waiver_fraction : Decimal [$ per $ of rent and over-hours]
        No insurance: it limits what the yard may claim, as its contract says.
    environmental_fee_fraction : Decimal [$ per $ of rent and over-hours]
        As the contract names it.
    environmental_fee_most : Decimal or None [$]
        Its cap, if there is one.
    fuel_per_hr : Decimal [$ per meter hour]
        What it burns, at the price of the fuel.
    """

    delivery: Exact = Decimal(0)
    pick_up: Exact = Decimal(0)
    damage_waiver_fraction: Exact = Decimal(0)
    environmental_fee_fraction: Exact = Decimal(0)
    environmental_fee_most: Exact | None = None
    fuel_per_hr: Exact = Decimal(0)


@exact_arithmetic
@dataclass(frozen=True)
class RentalBill:
    """The lines of a rental bill, each rounded to the cent [$]; sales tax is not among them."""

    rent: Decimal
    over_hours: Decimal
    damage_waiver: Decimal
    environmental_fee: Decimal
    delivery: Decimal
    pick_up: Decimal
    fuel: Decimal

    @property
    def total(self) -> Decimal:
        """Exact sum of the lines [$]."""
        return sum(vars(self).values(), Decimal(0))


@dataclass(frozen=True)
class BreakEven:
    """From how many of the shorter tier the longer one costs no more.

    Parameters
    ----------
    shorter, longer : str
        `day`, `week` or `month`.
    count : int
        The first number of shorter tiers that is not cheaper than one longer.
    """

    shorter: str
    longer: str
    count: int


@exact_inputs(EquipmentFaulty, meter_hours="hr")
def rental_bill(rental: Rental, terms: RentalTerms, meter_hours: Exact) -> RentalBill:
    """Return the bill for a rental, with fuel.

    Parameters
    ----------
    rental : Rental
        From `cheapest_rental`.
    terms : RentalTerms
        Delivery, waiver, fee and fuel.
    meter_hours : Decimal [hr]
        What the machine runs; it burns nothing while it stands.

    Notes
    -----
    Waiver and fee are taken on rent and over-hours, not on delivery or fuel: common practice, no
    source; the contract goes first.

    Examples
    --------
    >>> rental = cheapest_rental(4, RentalRates(day=Decimal(295), week=Decimal(1040)))
    >>> terms = RentalTerms(Decimal(125), Decimal(125), Decimal("0.15"), Decimal("0.02"))
    >>> rental_bill(rental, terms, Decimal(20)).total
    Decimal('1466.80')
    """
    fee = rental.cost * terms.environmental_fee_fraction
    if terms.environmental_fee_most is not None:
        fee = min(fee, terms.environmental_fee_most)
    return RentalBill(
        rent=rental.rent,
        over_hours=rental.over_hour_charge,
        damage_waiver=round_to_cent(rental.cost * terms.damage_waiver_fraction),
        environmental_fee=round_to_cent(fee),
        delivery=round_to_cent(terms.delivery),
        pick_up=round_to_cent(terms.pick_up),
        fuel=round_to_cent(terms.fuel_per_hr * meter_hours),
    )


@exact_arithmetic
def break_even_table(rates: RentalRates) -> tuple[BreakEven, ...]:
    """Return from how many days a week, and from how many weeks or days a month, costs no more.

    Returns
    -------
    tuple of BreakEven
        Day to week, week to month, day to month; a pair is left out where a tier is absent or the
        longer tier never pays.

    Examples
    --------
    >>> rates = RentalRates(Decimal(295), Decimal(1040), Decimal(2950))
    >>> [(one.shorter, one.longer, one.count) for one in break_even_table(rates)]
    [('day', 'week', 4), ('week', 'month', 3), ('day', 'month', 10)]
    """
    day, week, month = rates.tiers
    pairs = (
        ("day", day, "week", week),
        ("week", week, "month", month),
        ("day", day, "month", month),
    )
    return tuple(
        BreakEven(shorter, longer, count)
        for shorter, small, longer, large in pairs
        if (count := _count(small, large))
    )


def tier_starts(rates: RentalRates) -> Mapping[str, int]:
    """Return the first span in whose cheapest mix each tier is found [day].

    Returns
    -------
    mapping of str to int
        `day`, `week`, `month`, those that are ever taken; without over-hours.

    Notes
    -----
    Earlier than the break-even of pure tiers: two weeks and three days may cost as much as a month
    that three weeks would be needed for.

    Examples
    --------
    >>> tier_starts(RentalRates(Decimal(295), Decimal(1040), Decimal(2950)))
    {'day': 1, 'week': 4, 'month': 17}
    """
    rentals = cheapest_rental(np.arange(1, rates.days_in_month + 1), rates)
    counts = {"day": rentals.days, "week": rentals.weeks, "month": rentals.months}
    return {tier: int(np.argmax(used > 0)) + 1 for tier, used in counts.items() if np.any(used)}


def _count(small: RentalTier | None, large: RentalTier | None) -> int:
    """Return how many small tiers cost as much as a large one, 0 where the large never pays."""
    if small is None or large is None:
        return 0
    whole_in_large = -(-large.days // small.days)
    if small.price * whole_in_large < large.price:
        return 0
    return max(1, -(-to_cents(large.price) // to_cents(small.price))) if small.price else 1
