"""The job's own weeks: what each kind of cost came to, and how much was placed meanwhile."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta

from estimator.tracking.books import Books
from estimator.tracking.books_by_day import DailyBooks
from estimator.tracking.machines_on_rent import (
    EQUIPMENT,
    billed_through,
    running_rents,
    unbilled_rent_cents,
)
from estimator.tracking.own_stock import unused_steps


@dataclass(frozen=True)
class WeekOfWork:
    """What was placed of a code in a week, and what it took.

    Parameters
    ----------
    until : date
        The day of the last measurement in it.
    quantity : float
        [unit of the code] Placed; above zero.
    cents_by_kind : mapping of str to int
        [0.01 $] What recurs of the costs since the measurement before.
    """

    until: date
    quantity: float
    cents_by_kind: Mapping[str, int]


def weeks_of_work(
    books: DailyBooks, as_of: date, since: date | None = None
) -> Mapping[str, tuple[WeekOfWork, ...]]:
    """Return the weeks of each code in which some of it was placed.

    Parameters
    ----------
    books : DailyBooks
        See `daily_books`.
    as_of : date
        The last day that counts.
    since : date or None
        First day of the window; None for all of the record.

    Notes
    -----
    A week ends with its Sunday. Costs of a week without a measurement count in the next week that
    has one, and costs after the last measurement in the last: together they are the costs of the
    forecast by what is left, without those that do not recur and without material that is not used
    yet.
    """
    spent: dict[str, list[tuple[date, str, int]]] = defaultdict(list)
    for code, kind, day, cents in _recurring(books, as_of):
        if since is None or day >= since:
            spent[code].append((day, kind, cents))
    return {
        code: tuple(_weeks(placed, spent.get(code, [])))
        for code, placed in _placed_by_week(books.rows, since).items()
    }


def _recurring(books: DailyBooks, as_of: date) -> Iterator[tuple[str, str, date, int]]:
    """Yield code, kind, day and cents of what recurs, with its accruals."""
    known = books.rows
    for code, by_day in books.recurring_cents.items():
        for (kind, day), cents in by_day.items():
            yield code, kind, day, cents
    for step in unused_steps(known.stock):
        yield step.code, step.kind, step.happened, -(step.cents or 0)
    for rent in running_rents(known.rents, known.called_off):
        through, before = billed_through(rent, known.costs), 0
        day = rent.happened
        while day <= as_of:
            so_far = unbilled_rent_cents(rent, through, day)
            yield rent.code, EQUIPMENT, day, so_far - before
            before, day = so_far, day + timedelta(1)


def _placed_by_week(known: Books, since: date | None) -> dict[str, list[tuple[date, float]]]:
    """Return the day of the last measurement of each week, and what was placed since the last."""
    measured: dict[str, dict[date, float]] = defaultdict(dict)
    for one in sorted(known.progress, key=lambda row: (row.happened, row.row)):
        if not one.is_inspector:
            measured[one.code][one.happened] = float(one.in_place)
    weeks = {}
    for code, days in measured.items():
        earlier = [own for day, own in days.items() if since and day < since]
        last_of_week = {_sunday(day): day for day in days if since is None or day >= since}
        before, placed = earlier[-1] if earlier else 0.0, []
        for day in last_of_week.values():
            if days[day] > before:
                placed.append((day, days[day] - before))
            before = days[day]
        weeks[code] = placed
    return weeks


def _sunday(day: date) -> date:
    return day + timedelta(6 - day.weekday())


def _weeks(
    placed: list[tuple[date, float]], spent: list[tuple[date, str, int]]
) -> Iterator[WeekOfWork]:
    first = date.min
    for place, (until, quantity) in enumerate(placed, start=1):
        end = _sunday(until) if place < len(placed) else date.max
        cents: dict[str, int] = defaultdict(int)
        for day, kind, own in spent:
            if first < day <= end:
                cents[kind] += own
        yield WeekOfWork(until, quantity, cents)
        first = end
