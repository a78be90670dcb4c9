"""When rented machines come and when they may go, by the dates of the work that needs them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from decimal import Decimal

from estimator.money import exact_arithmetic
from estimator.pricing.estimate import Estimate
from estimator.production.working_calendar import WorkingCalendar, next_working_day
from estimator.quantity.units import counted
from estimator.scheduling.dated_rents import MachineSpan, machine_spans
from estimator.scheduling.dated_times import days_until
from estimator.scheduling.days_on_site import OnSite, Stay, on_site
from estimator.scheduling.job_dates import Dated, JobSchedule
from estimator.scheduling.rented_spans import last_day
from estimator.scope.work_order import is_whole

EQUIPMENT, BY_THE_DAY = "equipment", "day"
RENTED_BY = (BY_THE_DAY, "week", "month")
_HAIR = 1e-6


@dataclass(frozen=True)
class RentSpan:
    """A rented machine on the site without a break.

    Parameters
    ----------
    resource, name, unit : str
        As in the tables; it is rented by the day, week or month.
    first, last : date
        The first day on which work needs it, and the last.
    items : tuple of str
        Cost codes of that work.
    quantity : Decimal
        [unit] As it is ordered for that work.
    is_dated : bool
        Whether its days are known: those of the work, or as long as it stands along other work or
        until that is done. False for what is rented by the week or month for a stated time, or for
        fewer days than the work takes, and for work that runs along other work or is dated with its
        phase: nobody has stated on which of the days from `first` to `last` it is there.
    """

    resource: str
    name: str
    unit: str
    first: date
    last: date
    items: tuple[str, ...]
    quantity: Decimal
    is_dated: bool = True


@exact_arithmetic
def rent_spans(estimate: Estimate, schedule: JobSchedule) -> tuple[RentSpan, ...]:
    """Return the rented machines with the days on which the work needs them, the earliest first.

    Parameters
    ----------
    estimate : Estimate
        That was scheduled. A machine that the scope's crew names is there all along, and no rent.
    schedule : JobSchedule
        From `job_schedule`.

    Notes
    -----
    A machine that the price rents by its dates has the spans of the price: between two pieces of
    work it stays where that costs less than to bring it again. Of all others, work that goes on the
    same or the next working day keeps the machine; otherwise it is needed again later. What is
    rented by the week or month for a time along other work, or until it is done, stays that long.
    """
    dated = _items_with_days(estimate, schedule)
    until = days_until(estimate.scope, schedule)
    priced: dict[str, list[MachineSpan]] = {}
    for one in machine_spans(estimate, schedule):
        priced.setdefault(one.resource, []).append(one)
    rented = (
        one
        for one in on_site(estimate, schedule)
        if one.kind == EQUIPMENT and one.unit in RENTED_BY and one.resource not in schedule.there
    )
    spans = [
        span
        for one in rented
        for span in (
            _of_standing(one, until)
            if one.unit != BY_THE_DAY
            else _of_machine(one, dated, priced.get(one.resource, ()), schedule.calendar)
        )
    ]
    return tuple(sorted(spans, key=lambda one: (one.first, one.resource, one.last)))


def ordered_quantities(spans: Sequence[RentSpan]) -> str:
    """Return what is ordered of one machine for each of its spans: `3 + 5 + 7 days`."""
    *earlier, last = [f"{one.quantity.normalize():f}" for one in spans]
    units = counted("2" if earlier else last, spans[0].unit).partition(" ")[2]
    return f"{' + '.join((*earlier, last))} {units}"


def _items_with_days(estimate: Estimate, schedule: JobSchedule) -> dict[str, Dated]:
    """Return the items that are worked on from the first to the last of their days."""
    whole = {item.code for one in estimate.scope.phases if is_whole(one) for item in one.items}
    items = (one for one in schedule.items if not one.along)
    return {one.code: one for one in items if one.code not in whole}


def _of_standing(one: OnSite, until: Mapping[str, date]) -> Iterator[RentSpan]:
    """Yield the spans of what is rented by the week or month, one for each item."""
    for stay in one.stays:
        yield RentSpan(
            one.resource,
            one.name,
            one.unit,
            stay.start,
            until.get(stay.item, stay.finish),
            (stay.item,),
            stay.quantity,
            is_dated=stay.item in until,
        )


def _of_machine(
    one: OnSite,
    dated: Mapping[str, Dated],
    priced: Sequence[MachineSpan],
    calendar: WorkingCalendar,
) -> Iterator[RentSpan]:
    """Yield the spans of a machine: those of the price, and of what it rents by single days."""
    on_rent = [of for of in priced if not of.span.is_by_days]
    for of in on_rent:
        uses = of.span.uses
        quantity = sum((use.days for use in uses), Decimal(0))
        yield RentSpan(
            one.resource, one.name, one.unit, uses[0].start, last_day(uses), of.items, quantity
        )
    of_spans = {item for of in on_rent for item in of.items}
    others = tuple(stay for stay in one.stays if stay.item not in of_spans)
    yield from _spans(replace(one, stays=others), dated, calendar)


def _spans(
    one: OnSite, dated: Mapping[str, Dated], calendar: WorkingCalendar
) -> Iterator[RentSpan]:
    spans = [_span(one, stay, dated.get(stay.item)) for stay in one.stays]
    yield from (span for span in spans if not span.is_dated)
    yield from _joined((span for span in spans if span.is_dated), calendar)


def _span(one: OnSite, stay: Stay, item: Dated | None) -> RentSpan:
    is_whole_time = item is not None and float(stay.quantity) >= item.days - _HAIR
    return RentSpan(
        one.resource, one.name, one.unit, stay.start, stay.finish, (stay.item,), stay.quantity,
        is_whole_time,
    )  # fmt: skip


def _joined(spans: Iterable[RentSpan], calendar: WorkingCalendar) -> list[RentSpan]:
    """Return spans, by their first days, with those as one between which no day is worked."""
    joined: list[RentSpan] = []
    for one in spans:
        before = joined[-1] if joined else None
        if before is None or one.first > _next_day(calendar, before.last):
            joined.append(one)
        else:
            joined[-1] = replace(
                before,
                last=max(before.last, one.last),
                items=tuple(dict.fromkeys((*before.items, *one.items))),
                quantity=before.quantity + one.quantity,
            )
    return joined


def _next_day(calendar: WorkingCalendar, day: date) -> date:
    return next_working_day(calendar, day + timedelta(days=1))
