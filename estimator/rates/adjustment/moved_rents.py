"""Rents moved to another day and place with the machine whose day they are of."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from estimator.errors import Faults, InputFaulty, RateMissing
from estimator.money import round_to_cent
from estimator.rates.adjustment.adjusted_rates import (
    Adjustment,
    factors_in_words,
    rate_steps,
    rates_in_force,
)
from estimator.rates.adjustment.escalation import adjusted_rate
from estimator.rates.rents import RENTS, Rent, RentTable
from estimator.rates.resources import RateTable
from estimator.rates.rows import Origin


def adjusted_rents(
    rents: RentTable, rates: RateTable, adjustment: Adjustment, tables: str = "adjusted"
) -> tuple[Rent, ...]:
    """Return new rows for the rents of the machines that an adjustment changes.

    Parameters
    ----------
    rents, rates : RentTable, RateTable
        Of one stack of sets; the row in force on the day of the adjustment is moved from its date.
    adjustment : Adjustment
        As for `adjusted`: a machine's week moves by the same index and place as its day.
    tables : str
        What to call the new set.

    Returns
    -------
    tuple of Rent
        Week, month, delivery, pick-up and over-hour are multiplied alike.

    Raises
    ------
    RateMissing
        If an index has no figure for a month that is needed, with every machine that needs it.
    """
    days = {rate.code: rate for rate in rates_in_force(rates, adjustment.day)}
    faults = Faults()
    rows: list[Rent] = []
    for resource in rents.resources:
        rent = rents.rent_on(resource, adjustment.day)
        if rent is None or resource not in days:
            continue
        try:
            steps = rate_steps(replace(days[resource], set_on=rent.set_on), adjustment)
        except InputFaulty as error:
            faults.take(f"{rent.origin}, {resource}", error)
            continue
        if steps:
            origin = Origin(tables, RENTS, len(rows) + 2)
            source = f"{rent.origin}, all its prices {factors_in_words(steps, rent.source)}"
            moved = _moved(rent, [step.factor for step in steps])
            rows.append(
                replace(
                    moved, set_on=adjustment.day, valid_until=None, source=source, origin=origin
                )
            )
    faults.raise_if_any(RateMissing)
    return tuple(rows)


def _moved(rent: Rent, factors: list[Decimal]) -> Rent:
    def cents(price: Decimal) -> Decimal:
        return round_to_cent(adjusted_rate(price, factors))

    return replace(
        rent,
        week=None if rent.week is None else cents(rent.week),
        month=None if rent.month is None else cents(rent.month),
        delivery=cents(rent.delivery),
        pick_up=cents(rent.pick_up),
        over_hour=adjusted_rate(rent.over_hour, factors),
    )
