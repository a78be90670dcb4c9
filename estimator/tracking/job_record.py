"""What a job's own record teaches: prices, pace, turnaround and use; rows to write down."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal

from estimator.money import RATE_DECIMALS, rounded
from estimator.pricing.printed_estimate import PrintedEstimate
from estimator.rates.resources import ResourceRate
from estimator.rates.rows import Origin
from estimator.tracking.books import Books
from estimator.tracking.books_by_day import DailyBooks, HoursByDay, hours_by_day
from estimator.tracking.closed_weeks import LABOR
from estimator.tracking.job_use import (
    LIFE,
    WASTE,
    Record,
    learn_recovery,
    learn_use,
    placed_spans,
    recurring,
    table_of_use,
)
from estimator.tracking.learned_rates import (
    LEAST_OBSERVATIONS,
    Learned,
    Observation,
    Proposal,
    learned_rate,
    proposed_rate,
)
from estimator.tracking.progress import Progress
from estimator.tracking.tickets import standing
from estimator.tracking.unit_hours import hours_per_unit

PRICE = "price"
PACE = "pace"
TURNAROUND = "turnaround"
LEARNED_SET = "learned"

Ranges = Mapping[tuple[str, str, str], tuple[float, float]]
"""Low and high by what it is, code and unit, as factors on the figure of the estimate."""

_CERTAIN: Ranges = {}


@dataclass(frozen=True)
class JobRate:
    """What the record says of one thing.

    Parameters
    ----------
    what : str
        `price`, `pace`, `turnaround` (of a truck), `waste`, `life` or `recovery`.
    code, unit : str
        Code of the resource, cost code, or vendor; unit of the figure.
    learned : Learned
        Observations, mean, interval, outliers.
    table : float or None
        What the accepted estimate has; None where it has none.
    proposal : Proposal or None
        Of a price, a pace, a waste or a life: what to write down, or to give the item as its own.
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


def job_rates(
    books: Books, estimate: PrintedEstimate, ranges: Ranges = _CERTAIN
) -> tuple[JobRate, ...]:
    """Return what a job's record teaches; what has fewer than three observations is left out.

    Parameters
    ----------
    books : Books
        What is known: see `Books.known`.
    estimate : PrintedEstimate
        The accepted one.
    ranges : mapping of (str, str, str) to (float, float)
        Of paces, wastes and lives: see `learned_ranges`. A price has that of its row.

    Notes
    -----
    Price: bills with a quantity, all of it on one code and kind of which the estimate buys one
    resource by that unit, before tax; of labor, a closed week of a person of one trade, with
    overtime, taxes and insurance. Pace: hours logged on a code between two measurements, per unit
    placed. Turnaround: minutes of a ticket, without waiting that it states. Waste, life of
    consumables: see `learn_use`; recovery: see `learn_recovery`. Reversed rows, credits and costs
    that do not recur teach nothing. A thin record is drawn toward the range of the estimate's
    figure: see `proposed_rate`.
    """
    record: Record = defaultdict(list)
    _learn_prices(books, estimate, record)
    _learn_wages(books, estimate, record)
    _learn_pace(books.progress, hours_by_day(books.hours), estimate, record)
    learn_use(books, estimate, record)
    learn_recovery(books, estimate, record)
    _learn_turnaround(books, record)
    return _rates(record, estimate, ranges)


def pace_rates(books: DailyBooks, estimate: PrintedEstimate) -> tuple[JobRate, ...]:
    """Return the paces alone that a job's record teaches: see `job_rates`.

    Parameters
    ----------
    books : DailyBooks
        See `daily_books`.
    estimate : PrintedEstimate
        The accepted one.
    """
    record: Record = defaultdict(list)
    _learn_pace(books.rows.progress, books.hours, estimate, record)
    return _rates(record, estimate, _CERTAIN)


def _rates(record: Record, estimate: PrintedEstimate, ranges: Ranges) -> tuple[JobRate, ...]:
    tables = _Tables(estimate, ranges)
    return tuple(
        tables.job_rate(place, seen)
        for place, seen in record.items()
        if len(seen) >= LEAST_OBSERVATIONS
    )


class _Tables:
    """What the estimate has for each thing that was learned, and the range of it."""

    def __init__(self, estimate: PrintedEstimate, ranges: Ranges) -> None:
        self.estimate = estimate
        self.ranges = ranges
        self.hours = hours_per_unit(estimate)
        self.rates = {one.code: one for one in estimate.rates}

    def job_rate(self, place: tuple[str, str, str], seen: list[Observation]) -> JobRate:
        what, code, unit = place
        learned = learned_rate(seen)
        if what == PRICE:
            return self._price(code, unit, learned)
        table = self._table(what, code, unit)
        if table is None:
            return JobRate(what, code, unit, learned)
        factors = self.ranges.get(place)
        low, high = (None, None) if factors is None else (table * one for one in factors)
        proposal = proposed_rate(learned, table, low, high, unit)
        return JobRate(what, code, unit, learned, table, proposal)

    def _table(self, what: str, code: str, unit: str) -> float | None:
        if what == PACE:
            return self.hours.get(code)
        return table_of_use(self.estimate, what, code, unit) if what in (WASTE, LIFE) else None

    def _price(self, code: str, unit: str, learned: Learned) -> JobRate:
        row = self.rates[code]
        low, high = (None if one is None else float(one) for one in (row.low, row.high))
        proposal = proposed_rate(learned, float(row.rate), low, high, unit)
        return JobRate(PRICE, code, unit, learned, float(row.rate), proposal, row)


def _learn_prices(books: Books, estimate: PrintedEstimate, record: Record) -> None:
    bought: dict[tuple[str, str, str], set[str]] = defaultdict(set)
    for line in estimate.lines:
        if line.is_paid:
            bought[line.item, line.kind, line.unit].add(line.resource)
    known = {one.code for one in estimate.rates}
    for cost in recurring(books.costs):
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
    for cost in recurring(books.costs):
        worked = [hours[row] for row in cost.payroll.hours] if cost.payroll else []
        total = sum((one.hours for one in worked), Decimal(0))
        names = {one.trade for one in worked}
        if total > 0 and cost.cents >= 0 and len(names) == 1 and names <= trades:
            seen = Observation(cost.happened, float(total), cost.cents / 100, f"row {cost.row}")
            record[PRICE, names.pop(), "$/hr"].append(seen)


def _learn_pace(
    measured: Iterable[Progress], hours: HoursByDay, estimate: PrintedEstimate, record: Record
) -> None:
    spans = placed_spans(measured)
    for item in estimate.items:
        by_day = hours.get(item.item, {})
        for since, until, placed in spans.get(item.item, ()):
            worked = [own for day, own in by_day.items() if since < day <= until]
            if worked and (amount := sum(worked, Decimal(0))) >= 0:
                seen = Observation(until, placed, float(amount), f"to {until}")
                record[PACE, item.item, f"hr/{item.unit}"].append(seen)


def _learn_turnaround(books: Books, record: Record) -> None:
    live = set(standing(books.tickets))
    for one in books.tickets:
        minutes = one.minutes - (one.waited_minutes or 0)
        if one.row in live and minutes > 0:
            seen = Observation(one.happened, 1.0, float(minutes), f"row {one.row}")
            record[TURNAROUND, one.vendor, "min/load"].append(seen)


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
