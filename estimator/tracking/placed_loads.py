"""Loads that are in place once they are delivered: by conveyor truck, pump or chute."""

from __future__ import annotations

from bisect import bisect_left
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from decimal import Decimal

from estimator.tracking.progress import Progress
from estimator.tracking.tickets import Ticket

REASON = "loads that were placed as they came"


def with_placed(measured: Iterable[Progress], tickets: Iterable[Ticket]) -> list[Progress]:
    """Return what was measured, and after it what loads added that delivery placed.

    Parameters
    ----------
    measured, tickets : iterables of Progress and of Ticket
        As known: see `as_known`.

    Notes
    -----
    A day's loads are added to what was in place before that day, by our own last measurement; what
    is taken back comes off on the day of its reversal. A measurement of that day or a later one
    holds in their place. A percent says nothing of tons, so no loads are added to one. What was
    added before is a measurement like any other: twice adds no more than once.

    Examples
    --------
    See the tests: 40 tons measured on Monday, and two loads on Tuesday.
    """
    rows = list(measured)
    loads: dict[str, list[Ticket]] = defaultdict(list)
    for one in tickets:
        if one.is_placed:
            loads[one.code].append(one)
    if not loads:
        return rows
    ours: dict[str, list[Progress]] = defaultdict(list)
    for row in sorted((one for one in rows if not one.is_inspector), key=_order):
        ours[row.code].append(row)
    for code, own in loads.items():
        rows += _added(ours[code], sorted(own, key=_order))
    return rows


def _order(one: Progress | Ticket) -> tuple[date, int]:
    return one.happened, one.row


def _added(measured: Sequence[Progress], loads: Sequence[Ticket]) -> Iterator[Progress]:
    """Yield what is in place at the end of each day with loads and without a measurement."""
    came = {one.row: one.happened for one in loads}
    days = [one.happened for one in measured]
    last: Progress | None = None
    base = date.min
    for day, own in _by_day(loads).items():
        place = bisect_left(days, day)
        if place and days[place - 1] > base:
            last, base = measured[place - 1], days[place - 1]
        if day in days[place : place + 1] or (last is not None and last.is_percent):
            continue
        counted = [one for one in own if came.get(one.reverses or 0, day) > base]
        if counted:
            last = _with_loads(last, counted)
            yield last


def _by_day(loads: Sequence[Ticket]) -> dict[date, list[Ticket]]:
    by_day: dict[date, list[Ticket]] = defaultdict(list)
    for one in loads:
        by_day[one.happened].append(one)
    return by_day


def _with_loads(before: Progress | None, loads: Sequence[Ticket]) -> Progress:
    entered = [one.entered for one in loads] + ([before.entered] if before else [])
    return Progress(
        row=loads[-1].row,
        happened=loads[-1].happened,
        entered=max(entered),
        code=loads[-1].code,
        in_place=sum((one.quantity for one in loads), before.in_place if before else Decimal(0)),
        unit=loads[-1].unit,
        reason=REASON,
    )
