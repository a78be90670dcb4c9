"""Renting a machine: the cheapest mix of days, weeks and months, its bill, where tiers turn."""

from __future__ import annotations

from typing import Any

from api.calculations.rental_shapes import RentalCost
from api.contract.commands import stated
from api.contract.places import ROOT, faults_at, pointer


def rental(body: RentalCost) -> dict[str, Any]:
    """Return the cheapest mix for a span, its bill, and from how many days the longer tier pays.

    Parameters
    ----------
    body : Rental
        The span and the meter hours, with rates and terms as the library has them.

    Raises
    ------
    EquipmentFaulty
        If the rates price nothing, or tiers do not grow.
    """
    from estimator.rates.machines.bill import (
        RentalTerms,
        break_even_table,
        rental_bill,
        tier_starts,
    )
    from estimator.rates.machines.rental import cheapest_rental
    from estimator.rates.machines.rental_rates import RentalRates

    prices, charged = stated(body.rates), stated(body.terms) if body.terms else {}
    with faults_at(pointer("rates"), prices):
        rates = RentalRates(**prices)
    with faults_at(pointer("terms"), charged):
        terms = RentalTerms(**charged)
    with faults_at(ROOT, stated(body)):
        cheapest = cheapest_rental(body.days, rates, float(body.meter_hours))
        bill = rental_bill(cheapest, terms, body.meter_hours)
    return {
        **vars(cheapest),
        "cost": cheapest.cost,
        "bill": {**vars(bill), "total": bill.total},
        "break_even": [vars(one) for one in break_even_table(rates)],
        "tiers_from": [{"tier": tier, "days": days} for tier, days in tier_starts(rates).items()],
    }
