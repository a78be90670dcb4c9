"""The working calendar: from working days to dates, and back.

Weekdays, public holidays, own days off, and an allowance for weather: so many days of each month
are expected to be lost, which makes every working day of that month count for a little less. Which
day it rains, nobody knows.
"""

from __future__ import annotations

from calendar import monthrange
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from functools import lru_cache

from estimator.errors import CalendarFaulty, Faults, fault, how_many, quoted
from estimator.production.number_check import (
    Number,
    check_each,
    check_numbers,
    faults_under,
    number_inputs,
)

WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
MONDAY_TO_FRIDAY = frozenset(WEEKDAYS[:5])
NO_WEATHER = (0.0,) * 12
MOST_WORKING_DAYS = 10_000.0
FIRST_YEAR, LAST_YEAR = 1900, 2199

_LONGEST_YEARS = 60
_HAIR = 1e-9


@number_inputs(CalendarFaulty)
@dataclass(frozen=True)
class WorkingCalendar:
    """Days on which work is done.

    Parameters
    ----------
    weekdays : frozenset of str
        `Mon` to `Sun`.
    country, subdivision : str
        Whose public holidays are kept, by ISO 3166 codes: `US` and a state such as `OH`; an empty
        country keeps none.
    days_off : frozenset of date
        Further days without work.
    days_worked : frozenset of date
        Days worked although they are none: the Saturday of a pour. They win over all others.
    weather_days : tuple of 12 floats [day/month]
        Working days that weather is expected to take, January to December.

    Raises
    ------
    CalendarFaulty
        If no weekday is worked, a name is unknown, or the allowance is not twelve numbers of 0 to
        31.
    """

    weekdays: frozenset[str] = MONDAY_TO_FRIDAY
    country: str = "US"
    subdivision: str = ""
    days_off: frozenset[date] = frozenset()
    days_worked: frozenset[date] = frozenset()
    weather_days: tuple[Number, ...] = NO_WEATHER

    def __post_init__(self) -> None:
        faults = Faults()
        if not self.weekdays:
            faults.add("weekdays", "are missing", "name those on which you work, such as Mon")
        for name in sorted(self.weekdays - set(WEEKDAYS)):
            faults.add("weekdays", f"{quoted(name)} is not a weekday", "write Mon, Tue, ... Sun")
        if len(self.weather_days) != 12:
            what = f"has {how_many(len(self.weather_days), 'number')}"
            faults.add("weather_days", what, "give one for each month")
        with faults_under("", faults):
            check_each("weather_days of month", self.weather_days, CalendarFaulty, may_be_zero=True)
        for month, lost in enumerate(self.weather_days, 1):
            if isinstance(lost, (int, float)) and lost > 31.0:
                faults.add(f"weather_days of month {month}", "are more than the month has")
        for day in [*self.days_off, *self.days_worked]:
            with faults_under("", faults):
                _check_day(day)
        with faults_under("", faults):
            _public_holidays(self.country, self.subdivision, 2026)
        faults.raise_if_any(CalendarFaulty)


@dataclass(frozen=True)
class Finish:
    """When work that was started on a day is done.

    Parameters
    ----------
    first_day, last_day : date
        First and last day of work.
    days_on_site : int
        Working days from the first to the last, both counted, with those that weather takes.
    """

    first_day: date
    last_day: date
    days_on_site: int

    @property
    def calendar_days(self) -> int:
        """Days from the first to the last, both counted, as rentals run [day]."""
        return (self.last_day - self.first_day).days + 1


def is_working_day(calendar: WorkingCalendar, day: date) -> bool:
    """Return whether a day is worked, weather aside.

    Raises
    ------
    CalendarFaulty
        If it is not a date of 1900 to 2199.

    Examples
    --------
    >>> is_working_day(WorkingCalendar(), date(2026, 7, 3))  # the Fourth is a Saturday
    False
    """
    _check_day(day)
    if day in calendar.days_worked:
        return True
    if WEEKDAYS[day.weekday()] not in calendar.weekdays or day in calendar.days_off:
        return False
    return day not in _public_holidays(calendar.country, calendar.subdivision, day.year)


def next_working_day(calendar: WorkingCalendar, day: date) -> date:
    """Return the day itself if it is worked, else the next one that is.

    Raises
    ------
    CalendarFaulty
        If it is not a date of 1900 to 2199, or none is worked within 60 years.

    Examples
    --------
    >>> next_working_day(WorkingCalendar(), date(2026, 7, 3)).isoformat()
    '2026-07-06'
    """
    return next(_working_days_from(calendar, day))


@number_inputs(CalendarFaulty)
def finish(calendar: WorkingCalendar, start: date, working_days: Number) -> Finish:
    """Return when work of so many days is done.

    Parameters
    ----------
    calendar : WorkingCalendar
        The days that are worked.
    start : date
        If it is not worked, work starts on the next day that is.
    working_days : float [day]
        Net of weather; 2.5 ends at noon of the third day.

    Raises
    ------
    CalendarFaulty
        If the days are not above zero or more than 10,000, the start is no date of 1900 to 2199, or
        the work does not end within 60 years.

    Notes
    -----
    A working day of a month counts 1 - lost / working days of that month.

    Examples
    --------
    >>> work = finish(WorkingCalendar(), date(2026, 3, 5), 2.5)
    >>> work.last_day.isoformat(), work.days_on_site, work.calendar_days
    ('2026-03-09', 3, 5)
    """
    check_numbers(CalendarFaulty, working_days=working_days)
    if working_days > MOST_WORKING_DAYS:
        raise fault(CalendarFaulty, "is above 10,000", "divide the work", "working_days")
    first_day = next_working_day(calendar, start)
    for on_site, (day, done) in enumerate(work_done_by_day(calendar, first_day), 1):  # noqa: B007
        if done >= working_days - _HAIR:
            break
    return Finish(first_day, day, on_site)


def work_done_by_day(calendar: WorkingCalendar, start: date) -> Iterator[tuple[date, float]]:
    """Yield each working day from a start on, with the days of work that are done by its evening.

    Parameters
    ----------
    calendar : WorkingCalendar
        The days that are worked.
    start : date
        If it is not worked, the next day that is comes first.

    Raises
    ------
    CalendarFaulty
        If it is not a date of 1900 to 2199, and after 60 years.

    Examples
    --------
    >>> from itertools import islice
    >>> days = work_done_by_day(WorkingCalendar(), date(2026, 3, 6))
    >>> [(day.isoformat(), done) for day, done in islice(days, 2)]
    [('2026-03-06', 1.0), ('2026-03-09', 2.0)]
    """
    done = 0.0
    for day in _working_days_from(calendar, start):
        done += _day_counts(calendar, day.year, day.month)
        yield day, done


def working_days_between(calendar: WorkingCalendar, first: date, last: date) -> int:
    """Return how many days are worked from one date to another, both counted, weather aside.

    Raises
    ------
    CalendarFaulty
        If the last day lies before the first, or one is not a date of 1900 to 2199.

    Examples
    --------
    >>> working_days_between(WorkingCalendar(), date(2026, 3, 5), date(2026, 3, 9))
    3
    """
    return len(_working_days_within(calendar, first, last))


def days_net_of_weather(calendar: WorkingCalendar, first: date, last: date) -> float:
    """Return how many days of work are expected from one date to another, both counted [day].

    Raises
    ------
    CalendarFaulty
        If the last day lies before the first, or one is not a date of 1900 to 2199.

    Examples
    --------
    >>> rainy = WorkingCalendar(weather_days=(5.5,) * 12)
    >>> days_net_of_weather(rainy, date(2026, 3, 2), date(2026, 3, 31))
    16.5
    """
    days = _working_days_within(calendar, first, last)
    return float(sum(_day_counts(calendar, day.year, day.month) for day in days))


def _working_days_within(calendar: WorkingCalendar, first: date, last: date) -> list[date]:
    _check_day(first)
    _check_day(last)
    if last < first:
        raise fault(CalendarFaulty, f"{last} lies before {first}", "swap them", "dates")
    days = (first + timedelta(days=count) for count in range((last - first).days + 1))
    return [day for day in days if is_working_day(calendar, day)]


def _working_days_from(calendar: WorkingCalendar, start: date) -> Iterator[date]:
    """Yield the working days from a start on; a fault ends them after sixty years."""
    _check_day(start)
    for count in range(_LONGEST_YEARS * 366):
        day = start + timedelta(days=count)
        if is_working_day(calendar, day):
            yield day
    raise fault(
        CalendarFaulty,
        f"the work does not end within {_LONGEST_YEARS} years of {start}",
        "check the weekdays, the days off and the days lost to weather",
    )


@lru_cache(maxsize=4096)
def _day_counts(calendar: WorkingCalendar, year: int, month: int) -> float:
    """Return what a working day of a month is worth when its share of bad weather is taken off."""
    last = date(year, month, monthrange(year, month)[1])
    days = len(_working_days_within(calendar, date(year, month, 1), last))
    return max(0.0, 1.0 - calendar.weather_days[month - 1] / days)


@lru_cache(maxsize=1024)
def _public_holidays(country: str, subdivision: str, year: int) -> frozenset[date]:
    if not country:
        return frozenset()
    from holidays import country_holidays

    try:
        return frozenset(country_holidays(country, subdiv=subdivision or None, years=year))
    except NotImplementedError as error:
        raise fault(
            CalendarFaulty,
            f"no public holidays are known for {quoted(f'{country} {subdivision}'.strip())}",
            "write ISO 3166 codes such as US and OH, or leave both empty and list days_off",
            "country",
        ) from error


def _check_day(day: date) -> None:
    if type(day) is not date:
        raise fault(
            CalendarFaulty, f"{quoted(day)} is not a plain date", "write 2026-03-05", "date"
        )
    if not FIRST_YEAR <= day.year <= LAST_YEAR:
        raise fault(CalendarFaulty, f"{day} is out of range", "1900 to 2199", "date")
