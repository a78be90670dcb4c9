"""The rest of a work by the dates of the job: its machines for what the rents of the job rise by.

What has been rented for the work so far is spent. A machine that is there already stays for the
rest, as in one rental; another comes for the rest alone, or stays for the next work that uses it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal

import numpy as np

from estimator.assemblies.markups import percent_markup_cents
from estimator.money import from_fixed_point, to_cents
from estimator.production.working_calendar import working_days_between
from estimator.rates.kinds import EQUIPMENT
from estimator.rates.rents import Rent
from estimator.scheduling.dated_rents import is_by_the_day, rent_with
from estimator.scheduling.rented_spans import MachineUse
from estimator.studies.comparison.comparison import Comparison
from estimator.studies.comparison.first_day import ItemStart
from estimator.studies.comparison.method_prices import MethodPrices
from estimator.studies.comparison.prepared_method import PreparedMethod, PricedLine

_NEXT_MORNING = 1e-6  # of a day of work


@dataclass(frozen=True)
class DoneWork:
    """What has been done of a work.

    Parameters
    ----------
    under_way : int
        Place of the method that has done it.
    days : int [working day]
        On which it was done, from the first day of the item on.
    """

    under_way: int
    days: int


def prices_by_dates(
    comparison: Comparison, place: int, prices: MethodPrices, done: DoneWork
) -> MethodPrices:
    """Return what the rest comes to by a method, its machines rented by the dates of the job.

    Parameters
    ----------
    comparison : Comparison
        Of the whole work.
    place : int
        Of the method.
    prices : MethodPrices
        What the rest comes to, machines by the day, once.
    done : DoneWork
        What came before it.

    Notes
    -----
    As it is where the scope has no calendar. Prices stay those of the day, and the other work keeps
    its dates.
    """
    start = comparison.start
    if start is None:
        return prices
    prepared = comparison.prepared[place]
    so_far = _so_far(comparison, start, done)
    first, last = (
        start.finish(done.days + days) for days in (_NEXT_MORNING, float(prices.days[0]))
    )
    uses = _uses(start, prepared, prices, first, last)
    more = sum(_rise(start, resource, so_far.get(resource), use) for resource, use in uses.items())
    single = sum(
        to_cents(days * one.rate.rate) for one, days, _ in _rented(start, prepared, prices)
    )
    return _with_equipment(prepared, prices, more - single)


def _rise(start: ItemStart, resource: str, so_far: MachineUse | None, use: MachineUse) -> int:
    """Return by how much the rent of the job rises with one more use of a machine [cents]."""
    job = start.job
    before = [] if so_far is None else [so_far]
    with_it, without = (
        rent_with(job.estimate, job.schedule, resource, uses, start.place)
        for uses in ([*before, use], before)
    )
    return with_it - without


def _so_far(comparison: Comparison, start: ItemStart, done: DoneWork) -> dict[str, MachineUse]:
    """Return the machines of the work so far: as many as its plan takes, on each of its days."""
    planned = comparison.as_written[done.under_way]
    last = start.finish(float(planned.days[0]))
    uses = _uses(start, comparison.prepared[done.under_way], planned, start.day, last)
    return {
        resource: replace(
            use, finish=start.finish(done.days), days=Decimal(done.days * use.machines)
        )
        for resource, use in uses.items()
    }


def _uses(
    start: ItemStart, prepared: PreparedMethod, prices: MethodPrices, first: date, last: date
) -> dict[str, MachineUse]:
    """Return the use of each machine of a method that has a rent, from one day to another."""
    codes = {one.rate.code for one in prepared.lines}
    worked = max(1, working_days_between(start.calendar, first, last))
    uses: dict[str, MachineUse] = {}
    for one, days, rent in _rented(start, prepared, prices):
        if one.rate.code in uses:
            days += uses[one.rate.code].days
        is_brought = bool(prepared.method.mobilization) or rent.brought_by in codes
        machines = max(1, -int(-days // worked))
        uses[one.rate.code] = MachineUse(first, last, machines, days, is_brought)
    return uses


def _rented(
    start: ItemStart, prepared: PreparedMethod, prices: MethodPrices
) -> Iterator[tuple[PricedLine, Decimal, Rent]]:
    """Yield the lines of machines by the day that have a rent, with the days that they order."""
    estimate = start.job.estimate
    for one, ordered in zip(prepared.lines, prices.ordered, strict=True):
        rent = estimate.tables.rents.rent_on(one.rate.code, estimate.on)
        days = from_fixed_point(round(float(ordered[0]) * 10**one.decimals), one.decimals)
        if rent is not None and days and is_by_the_day(one.rate):
            yield one, days, rent


def _with_equipment(prepared: PreparedMethod, prices: MethodPrices, more: int) -> MethodPrices:
    """Return prices with so many cents more of equipment, and the markups on it."""
    paid = dict(prices.cents_by_kind)
    paid[EQUIPMENT] = paid.get(EQUIPMENT, np.zeros(1, dtype=np.int64)) + more
    markups = percent_markup_cents(paid, prepared.markups)
    return replace(prices, cents_by_kind=paid, markup_cents=np.asarray(markups))
