"""What a job's own record teaches: prices, pace, truck turnaround, waste; rows to write down."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from itertools import pairwise

from estimator.money import RATE_DECIMALS, rounded
from estimator.pricing.printed_estimate import PrintedEstimate
from estimator.rates.resources import ResourceRate
from estimator.rates.rows import Origin
from estimator.tracking.books import Books
from estimator.tracking.closed_weeks import LABOR
from estimator.tracking.learned_rates import (
    LEAST_OBSERVATIONS,
    Learned,
    Observation,
    Proposal,
    learned_rate,
    proposed_rate,
)
from estimator.tracking.ledger_rows import Cost
from estimator.tracking.tickets import standing

PRICE = "price"
PACE = "pace"
TURNAROUND = "turnaround"
WASTE = "waste"
LEARNED_SET = "learned"

Record = dict[tuple[str, str, str], list[Observation]]
"""Observations by what they are of, code and unit."""


@dataclass(frozen=True)
class JobRate:
    """What the record says of one thing.

    Parameters
    ----------
    what : str
        `price`, `pace`, `turnaround` (of a truck) or `waste`.
    code, unit : str
        Code of the resource, cost code, or vendor; unit of the figure.
    learned : Learned
        Observations, mean, interval, outliers.
    table : float or None
        What the accepted estimate has; None where it has none.
    proposal : Proposal or None
        Of a price: what to write down.
    row : ResourceRate or None
        The row that the price was taken from.
    """

    what: str
    code: str
    unit: str
    learned: Learned
    table: float | None = None
    proposal: Proposal | None = None
    row: ResourceRate | None = None


def job_rates(books: Books, estimate: PrintedEstimate) -> tuple[JobRate, ...]:
    """Return what a job's record teaches; what has fewer than three observations is left out.

    Parameters
    ----------
    books : Books
        What is known: see `Books.known`.
    estimate : PrintedEstimate
        The accepted one.

    Notes
    -----
    Price: bills with a quantity, all of it on one code and kind of which the estimate buys one
    resource by that unit, before tax; of labor, a closed week of a person of one trade, with
    overtime, taxes and insurance. Pace: hours logged on a code between two measurements, per unit
    placed. Turnaround: minutes of a ticket. Waste: what was delivered between two measurements per
    unit placed. Reversed rows, credits and costs that do not recur teach nothing.
    """
    record: Record = defaultdict(list)
    _learn_prices(books, estimate, record)
    _learn_wages(books, estimate, record)
    _learn_pace_and_waste(books, estimate, record)
    _learn_turnaround(books, record)
    hours = _hours_per_unit(estimate)
    rates = {one.code: one for one in estimate.rates}
    return tuple(
        _job_rate(place, seen, rates, hours)
        for place, seen in record.items()
        if len(seen) >= LEAST_OBSERVATIONS
    )


def _job_rate(
    place: tuple[str, str, str],
    seen: list[Observation],
    rates: Mapping[str, ResourceRate],
    hours: Mapping[str, float],
) -> JobRate:
    what, code, unit = place
    learned = learned_rate(seen)
    if what != PRICE:
        return JobRate(what, code, unit, learned, hours.get(code) if what == PACE else None)
    row = rates[code]
    low, high = (None if one is None else float(one) for one in (row.low, row.high))
    proposal = proposed_rate(learned, float(row.rate), low, high, unit)
    return JobRate(what, code, unit, learned, float(row.rate), proposal, row)


def _live(costs: Iterable[Cost]) -> Iterator[Cost]:
    listed = list(costs)
    live = set(standing(listed))
    return (one for one in listed if one.row in live and not one.is_credit and not one.is_once)


def _learn_prices(books: Books, estimate: PrintedEstimate, record: Record) -> None:
    bought: dict[tuple[str, str, str], set[str]] = defaultdict(set)
    for line in estimate.lines:
        if line.is_paid:
            bought[line.item, line.kind, line.unit].add(line.resource)
    known = {one.code for one in estimate.rates}
    for cost in _live(books.costs):
        if cost.quantity and len(cost.splits) == 1:
            split = cost.splits[0]
            resources = bought.get((split.code, split.kind, cost.unit), set())
            if len(resources) == 1 and resources <= known and cost.quantity > 0:
                seen = Observation(
                    cost.happened, float(cost.quantity), cost.net_cents / 100, f"row {cost.row}"
                )
                record[PRICE, next(iter(resources)), f"$/{cost.unit}"].append(seen)


def _learn_wages(books: Books, estimate: PrintedEstimate, record: Record) -> None:
    trades = {one.code for one in estimate.rates if one.kind == LABOR and one.is_paid}
    hours = {one.row: one for one in books.hours}
    for cost in _live(books.costs):
        worked = [hours[row] for row in cost.payroll.hours] if cost.payroll else []
        total = sum((one.hours for one in worked), Decimal(0))
        names = {one.trade for one in worked}
        if total > 0 and cost.cents >= 0 and len(names) == 1 and names <= trades:
            seen = Observation(cost.happened, float(total), cost.cents / 100, f"row {cost.row}")
            record[PRICE, names.pop(), "$/hr"].append(seen)


def _learn_pace_and_waste(books: Books, estimate: PrintedEstimate, record: Record) -> None:
    live = set(standing(books.tickets))
    delivered = [one for one in books.tickets if one.row in live]
    for item in estimate.items:
        for since, until, placed in _placed(books, item.item):
            worked = [
                one.hours
                for one in books.hours
                if one.code == item.item and since < one.happened <= until
            ]
            loads = [
                one.quantity
                for one in delivered
                if one.code == item.item and one.unit == item.unit and since < one.happened <= until
            ]
            unit = item.unit
            for what, of, parts in ((PACE, f"hr/{unit}", worked), (WASTE, f"{unit}/{unit}", loads)):
                if parts and (amount := sum(parts, Decimal(0))) >= 0:
                    seen = Observation(until, placed, float(amount), f"to {until}")
                    record[what, item.item, of].append(seen)


def _placed(books: Books, code: str) -> Iterator[tuple[date, date, float]]:
    """Yield the spans between our own measurements of a code, and what was placed in each."""
    by_day = {
        one.happened: one.in_place
        for one in books.progress
        if one.code == code and not one.is_percent and not one.is_inspector
    }
    measured = [(date.min, Decimal(0)), *sorted(by_day.items())]
    for (since, before), (until, after) in pairwise(measured):
        if after > before:
            yield since, until, float(after - before)


def _learn_turnaround(books: Books, record: Record) -> None:
    live = set(standing(books.tickets))
    for one in books.tickets:
        if one.row in live and one.minutes:
            seen = Observation(one.happened, 1.0, float(one.minutes), f"row {one.row}")
            record[TURNAROUND, one.vendor, "min/load"].append(seen)


def _hours_per_unit(estimate: PrintedEstimate) -> dict[str, float]:
    """Return the labor hours that the estimate has per unit of each item."""
    hours: dict[str, float] = defaultdict(float)
    for line in estimate.lines:
        if line.kind == LABOR and line.unit == "hr":
            hours[line.item] += float(Decimal(line.ordered).scaleb(-line.decimals))
    return {
        one.item: hours[one.item] / float(one.quantity)
        for one in estimate.items
        if one.quantity and hours[one.item]
    }


def learned_rows(rates: Iterable[JobRate], on: date) -> tuple[ResourceRate, ...]:
    """Return the rows to write into a set of tables: the proposed prices, with their evidence.

    Parameters
    ----------
    rates : iterable of JobRate
        See `job_rates`.
    on : date
        The day that the new rows are dated with.

    Notes
    -----
    The range of the table stays, widened where the new rate lies outside.
    """
    return tuple(
        _row(one.row, one.proposal, on) for one in rates if one.row is not None and one.proposal
    )


def _row(row: ResourceRate, proposal: Proposal, on: date) -> ResourceRate:
    rate = rounded(Decimal(proposal.rate), RATE_DECIMALS)
    return replace(
        row,
        rate=rate,
        low=None if row.low is None else min(row.low, rate),
        high=None if row.high is None else max(row.high, rate),
        set_on=on,
        valid_until=None,
        source=proposal.evidence,
        note="",
        origin=Origin(LEARNED_SET, "resources.csv", 0),
    )
