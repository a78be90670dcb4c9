"""Machines in the estimate, each at what it costs for the span that it stands."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from estimator.money import (
    RATE_DECIMALS,
    apportion,
    exact_arithmetic,
    from_fixed_point,
    rounded,
)
from estimator.pricing.estimate import Estimate
from estimator.pricing.priced_lines import PricedLines, with_rates
from estimator.production.working_calendar import working_days_between
from estimator.rates.kinds import EQUIPMENT
from estimator.rates.rents import Rent
from estimator.rates.resources import ResourceRate
from estimator.scheduling.job_dates import JobSchedule
from estimator.scheduling.rented_spans import MachineUse, RentedSpan, cheapest_spans
from estimator.scope.job_calendar import NO_CALENDAR

_DAY = "day"


@dataclass(frozen=True)
class _Bought:
    """The lines for which a machine is bought together, and its use: of an item or a phase."""

    positions: tuple[int, ...]
    use: MachineUse


@dataclass(frozen=True)
class MachineSpan:
    """A machine that is rented by its dates: its span, and the items that it stands for."""

    resource: str
    span: RentedSpan
    items: tuple[str, ...]


def has_rents(estimate: Estimate) -> bool:
    """Whether a calendar says when, and the tables at what price, some machine is rented."""
    return estimate.scope.calendar != NO_CALENDAR and bool(_rented_lines(estimate))


def is_by_the_day(rate: ResourceRate) -> bool:
    """Whether a resource is a machine that is paid by the day."""
    return rate.kind == EQUIPMENT and rate.unit.name == _DAY


@exact_arithmetic
def machine_spans(estimate: Estimate, schedule: JobSchedule) -> tuple[MachineSpan, ...]:
    """Return the spans of the machines that are rented by their dates, at the price of the tables.

    Parameters
    ----------
    estimate : Estimate
        Machines by the day, or by their dates; none are where its scope has no calendar.
    schedule : JobSchedule
        Of it, as it is, or with another start or other crews.
    """
    if not has_rents(estimate):
        return ()
    return tuple(
        MachineSpan(
            resource,
            span,
            tuple(dict.fromkeys(schedule.items[place].code for place in places)),
        )
        for resource, positions in _rented_lines(estimate).items()
        for span, places in _item_places(estimate, schedule, resource, positions)
    )


def _item_places(
    estimate: Estimate, schedule: JobSchedule, resource: str, positions: Sequence[int]
) -> Iterator[tuple[RentedSpan, list[int]]]:
    """Yield each span of a machine with the places of its items."""
    rent = estimate.tables.rents.rent_on(resource, estimate.on)
    assert rent is not None
    day_rate = estimate.tables.rates.rate_on(resource, estimate.on).rate
    for span, of_span in _spans(estimate, schedule, rent, day_rate, positions):
        yield span, [int(estimate.priced.lines.item[position]) for position in of_span]


@exact_arithmetic
def lines_by_dates(estimate: Estimate, schedule: JobSchedule) -> PricedLines:
    """Return the lines of an estimate, machines at what they cost for the span that they stand.

    Parameters
    ----------
    estimate : Estimate
        Machines by the day.
    schedule : JobSchedule
        Of it.
    """
    lines = estimate.priced.lines
    rates: dict[int, ResourceRate] = {}
    for resource, positions in _rented_lines(estimate).items():
        day = lines.rates[lines.kind_of_line[positions[0]]]
        rent = estimate.tables.rents.rent_on(resource, estimate.on)
        assert rent is not None
        for span, of_span in _spans(estimate, schedule, rent, day.rate, positions):
            rates |= dict(_average_days(lines, of_span, span, day, rent))
    return with_rates(lines, rates)


@exact_arithmetic
def rent_with(
    estimate: Estimate,
    schedule: JobSchedule,
    resource: str,
    uses: Sequence[MachineUse],
    place: int,
) -> int:
    """Return what a machine costs in the whole job where an item uses it otherwise [cents].

    Parameters
    ----------
    estimate : Estimate
        Machines by the day.
    schedule : JobSchedule
        Of it: the dates of the other items.
    resource : str
        The machine, of which the tables have a rent.
    uses : sequence of MachineUse
        By the item, in place of those that it has.
    place : int
        Of the item in the scope.
    """
    rent = estimate.tables.rents.rent_on(resource, estimate.on)
    assert rent is not None
    lines, day_rate = estimate.priced.lines, estimate.tables.rates.rate_on(resource, estimate.on)
    others = [
        position
        for position in _rented_lines(estimate).get(resource, ())
        if lines.item[position] != place
    ]
    together = [*uses, *(one.use for one in _bought(estimate, schedule, rent, others))]
    shift = Decimal(str(estimate.scope.shift.base_value))
    ordered = sorted(together, key=lambda use: (use.start, use.finish))
    return sum(one.cents for one in cheapest_spans(ordered, rent, day_rate.rate, shift))


def _rented_lines(estimate: Estimate) -> dict[str, list[int]]:
    """Return the positions of the lines of each machine that has a rent by more than the day."""
    lines, rents = estimate.priced.lines, estimate.tables.rents
    has_rent = [
        is_by_the_day(rate) and rents.rent_on(rate.code, estimate.on) is not None
        for rate in lines.rates
    ]
    positions: dict[str, list[int]] = {}
    for position, kind in enumerate(lines.kind_of_line.tolist()):
        if has_rent[kind] and lines.ordered[position] > 0:
            positions.setdefault(lines.rates[kind].code, []).append(position)
    return positions


def _spans(
    estimate: Estimate,
    schedule: JobSchedule,
    rent: Rent,
    day_rate: Decimal,
    positions: Iterable[int],
) -> Iterator[tuple[RentedSpan, list[int]]]:
    """Yield the cheapest spans of a machine, each with the positions of its lines."""
    bought = _bought(estimate, schedule, rent, positions)
    shift = Decimal(str(estimate.scope.shift.base_value))
    yield from _with_lines(
        cheapest_spans([one.use for one in bought], rent, day_rate, shift), bought
    )


def _bought(
    estimate: Estimate, schedule: JobSchedule, rent: Rent, positions: Iterable[int]
) -> list[_Bought]:
    """Return what is bought for an item, or for a phase together, by its dates."""
    lines, groups = estimate.priced.lines, dict[str, list[int]]()
    bring = _items_that_bring(estimate, rent)
    for position in positions:
        item = schedule.items[lines.item[position]].code
        _, line = lines.assembly_lines[lines.kind_of_line[position]]
        whole = item.partition(".")[0] if line.ordered_per == "phase" else item
        groups.setdefault(whole, []).append(position)
    bought = [
        _Bought(
            tuple(of),
            replace(
                _use(lines, schedule, of),
                is_brought=not bring.isdisjoint(lines.item[of].tolist()),
            ),
        )
        for of in groups.values()
    ]
    return sorted(bought, key=lambda one: (one.use.start, one.use.finish, one.positions))


def _items_that_bring(estimate: Estimate, rent: Rent) -> set[int]:
    """Return the places of the items that pay the way of their machines by a line of their own."""
    lines, items = estimate.priced.lines, estimate.scope.items
    ways = {kind for kind, rate in enumerate(lines.rates) if rate.code == rent.brought_by}
    by_lines = {
        place
        for place, kind in zip(lines.item.tolist(), lines.kind_of_line.tolist(), strict=True)
        if kind in ways
    }
    return by_lines | {place for place, item in enumerate(items) if item.method.mobilization}


def _use(lines: PricedLines, schedule: JobSchedule, positions: Sequence[int]) -> MachineUse:
    """Return the use of a machine in some lines; as many are there as its days take at once."""
    items = [schedule.items[lines.item[position]] for position in positions]
    start, finish = min(one.start for one in items), max(one.finish for one in items)
    days = sum(
        (from_fixed_point(int(lines.ordered[one]), int(lines.decimals[one])) for one in positions),
        Decimal(0),
    )
    worked = max(1, working_days_between(schedule.calendar, start, finish))
    return MachineUse(start, finish, max(1, -int(-days // worked)), days)


def _with_lines(
    spans: Sequence[RentedSpan], bought: Sequence[_Bought]
) -> Iterator[tuple[RentedSpan, list[int]]]:
    """Yield each span with the positions of its lines."""
    left = iter(bought)
    for span in spans:
        yield span, [position for _ in span.uses for position in next(left).positions]


def _average_days(
    lines: PricedLines,
    positions: Sequence[int],
    span: RentedSpan,
    day: ResourceRate,
    rent: Rent,
) -> Iterator[tuple[int, ResourceRate]]:
    """Yield the lines whose day costs another sum than a single day, each with its average day.

    The sum is split by days, by largest remainder; up to a hundred days in a line, days x average
    is that part to the cent.
    """
    if span.cents == int(lines.cents[list(positions)].sum()):
        return
    weights = [int(lines.ordered[position]) for position in positions]
    for position, cents in zip(positions, apportion(span.cents, weights), strict=True):
        days = from_fixed_point(int(lines.ordered[position]), int(lines.decimals[position]))
        average = rounded(Decimal(cents) / 100 / days, RATE_DECIMALS)
        yield position, _average_day(day, average, span, rent)


def _average_day(day: ResourceRate, average: Decimal, span: RentedSpan, rent: Rent) -> ResourceRate:
    """Return the rate of an average day of a rental; its range is as wide as that of a day."""

    def as_wide(end: Decimal | None) -> Decimal | None:
        return (
            end if end is None or not day.rate else rounded(end * average / day.rate, RATE_DECIMALS)
        )

    return replace(
        day,
        rate=average,
        low=as_wide(day.low),
        high=as_wide(day.high),
        set_on=rent.set_on,
        valid_until=rent.valid_until,
        source=f"{rent.source}; rented for {span.words}",
        origin=rent.origin,
    )
