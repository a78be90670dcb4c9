"""What is known of the books, with hours and what recurs added up by the day."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal

from estimator.tracking.books import Books
from estimator.tracking.ledger_lines import lines_of
from estimator.tracking.payroll_week import HoursRow

HoursByDay = Mapping[str, Mapping[date, Decimal]]
"""Hours of each code on each day, paid or not [hr]."""

CentsByDay = Mapping[str, Mapping[tuple[str, date], int]]
"""What was incurred of each code and recurs, by kind and day [0.01 $]; without running rents."""


@dataclass(frozen=True)
class DailyBooks:
    """What is known of the books on a day, with hours and what recurs added up by the day.

    Parameters
    ----------
    rows : Books
        What is known: see `Books.known`. Of the costs only those that charge a rent are looked at,
        and no payments and no hours.
    hours : mapping of str to mapping
        [hr] By cost code and day, paid or not.
    recurring_cents : mapping of str to mapping
        [0.01 $] What was billed or is accrued and recurs, by cost code, then kind and day of the
        row; without what accrues on rents.
    """

    rows: Books
    hours: HoursByDay
    recurring_cents: CentsByDay


def daily_books(books: Books, as_of: date, known_on: datetime) -> DailyBooks:
    """Return what is known of the books on a day, added up by the day.

    Parameters
    ----------
    books : Books
        All rows of the project.
    as_of, known_on : date, datetime
        Happened by; entered by [UTC].
    """
    known = books.known(as_of, known_on)
    cents: dict[str, dict[tuple[str, date], int]] = defaultdict(lambda: defaultdict(int))
    for line in lines_of(known.money):
        if not line.is_once and line.unpaid_cents is None and line.spent.incurred_cents:
            code, kind = line.place
            cents[code][kind, line.happened] += line.spent.incurred_cents
    return DailyBooks(known, hours_by_day(known.hours), cents)


def hours_by_day(rows: Iterable[HoursRow]) -> HoursByDay:
    """Return the hours of each code on each day, paid or not [hr].

    Parameters
    ----------
    rows : iterable of HoursRow
        Hours that were taken back are among them, twice.
    """
    hours: dict[str, dict[date, Decimal]] = defaultdict(lambda: defaultdict(Decimal))
    for one in rows:
        hours[one.code][one.happened] += one.hours
    return hours
