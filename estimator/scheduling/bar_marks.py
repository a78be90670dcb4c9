"""Bars as letters: what each column of days holds, for a terminal and for the cells of a sheet."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from math import ceil

from estimator.scheduling.hands_at_work import CrewLoad
from estimator.scheduling.job_bars import BarRow, JobBars
from estimator.scheduling.rent_by_dates import RentSpan
from estimator.scope.calendar_reader import MONTHS

CRITICAL, FLOATING, ALONG, WAITS, RENTED, SOME_DAYS, NONE = "#=-~=:."
MARKS_IN_WORDS = {
    CRITICAL: "critical: the finish date depends on it",
    FLOATING: "has float",
    ALONG: "runs along other work",
    WAITS: "stated wait",
}
_MOST_IN_A_DIGIT = 9
_MONTH_LETTERS = 3


@dataclass(frozen=True)
class DayColumns:
    """The days of a job in columns of so many days each.

    Parameters
    ----------
    first : date
        The first day of the first column.
    days : int
        Of each column.
    count : int
        How many columns.
    """

    first: date
    days: int
    count: int

    def of(self, first: date, last: date) -> range:
        """Return the columns that hold any day from one to another."""
        return range(self._column(first), self._column(last) + 1)

    def begin(self, column: int) -> date:
        """Return the first day of a column."""
        return self.first + timedelta(days=column * self.days)

    def _column(self, day: date) -> int:
        return min(max((day - self.first).days // self.days, 0), self.count - 1)


def day_columns(bars: JobBars, most: int, days: int = 1) -> DayColumns:
    """Return the columns of a job: at most so many, each of so many days or a multiple.

    Parameters
    ----------
    bars : JobBars
        From `bars_of`.
    most : int
        Columns that there is room for.
    days : int
        [day] The least of a column, of which others are multiples; columns of 7 begin on Mondays.
    """
    first, last = bars.schedule.start, bars.schedule.finish
    if days % 7 == 0:
        first -= timedelta(days=first.weekday())
    whole = (last - first).days + 1
    days *= ceil(whole / (days * most))
    return DayColumns(first, days, ceil(whole / days))


def bar_letters(row: BarRow, columns: DayColumns) -> str:
    """Return the bar of a phase or item, one letter a column; see `MARKS_IN_WORDS`."""
    letters = [NONE] * columns.count
    for wait in row.waits:
        _set(letters, columns.of(wait.first, wait.last), WAITS)
    work = row.work
    if work.days:
        letter = CRITICAL if work.is_critical else FLOATING
        _set(letters, columns.of(work.start, work.finish), ALONG if work.along else letter)
    return "".join(letters)


def load_letters(load: CrewLoad, columns: DayColumns) -> str:
    """Return how many of a crew are at work, at the most of the days of each column.

    A digit, rounded up; `+` for ten and more.
    """
    most = [0] * columns.count
    for day, number in load.by_day.items():
        for column in columns.of(day, day):
            most[column] = max(most[column], ceil(number))
    return "".join(map(_digit, most))


def rent_letters(rents: Iterable[RentSpan], columns: DayColumns) -> str:
    """Return when a machine is rented: `=` on the days of its work, `:` on some of the days."""
    letters = [NONE] * columns.count
    for one in sorted(rents, key=lambda span: span.is_dated):
        _set(letters, columns.of(one.first, one.last), RENTED if one.is_dated else SOME_DAYS)
    return "".join(letters)


def month_letters(columns: DayColumns) -> str:
    """Return the names of the months over the columns in which they begin, as far as they fit."""
    letters = [" "] * columns.count
    free, month = 0, 0
    for column in range(columns.count):
        begin = columns.begin(column)
        if begin.month != month and column >= free and column + _MONTH_LETTERS <= columns.count:
            letters[column : column + _MONTH_LETTERS] = MONTHS[begin.month - 1]
            free = column + _MONTH_LETTERS + 1
        month = begin.month
    return "".join(letters)


def _set(letters: list[str], columns: range, letter: str) -> None:
    for column in columns:
        letters[column] = letter


def _digit(number: int) -> str:
    if not number:
        return NONE
    return str(number) if number <= _MOST_IN_A_DIGIT else "+"
