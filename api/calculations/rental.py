"""Renting a machine: the cheapest mix of days, weeks and months, its bill, where tiers turn."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from api.contract.places import ROOT, faults_at, pointer


def rental(asked: Mapping[str, Any]) -> dict[str, Any]:
    """Return the cheapest mix for a span, its bill, and from how many days the longer tier pays.

    Parameters
    ----------
    asked : mapping
        `days`, `meter_hours`, `rates` (as of `RentalRates`) and `terms` (as of `RentalTerms`).

    Raises
    ------
    EquipmentFaulty
        If the rates price nothing, or tiers do not grow.
    """
    from estimator.rates.machines.bill import RentalTerms, break_even_table, rental_bill
    from estimator.rates.machines.rental import cheapest_rental
    from estimator.rates.machines.rental_rates import RentalRates

    hours: Decimal = asked["meter_hours"]
    with faults_at(pointer("rates"), asked["rates"]):
        rates = RentalRates(**asked["rates"])
    with faults_at(pointer("terms"), asked["terms"]):
        terms = RentalTerms(**asked["terms"])
    with faults_at(ROOT, asked):
        found = cheapest_rental(asked["days"], rates, float(hours))
        bill = rental_bill(found, terms, hours)
    return {
        **vars(found),
        "cost": found.cost,
        "bill": {**vars(bill), "total": bill.total},
        "break_even": [vars(one) for one in break_even_table(rates)],
    }
