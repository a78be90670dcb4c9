"""Reading the calendar of a job: week, holidays, days off, shut-downs, weather, first day."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date, timedelta
from typing import Any

from estimator.errors import Faults, did_you_mean, how_many, quoted
from estimator.production.state_codes import state_code
from estimator.production.working_calendar import (
    NO_WEATHER,
    WEEKDAYS,
    WorkingCalendar,
    days_net_of_weather,
)
from estimator.quantity.measures import read_measure
from estimator.quantity.units import unit
from estimator.rates.labor.work_week import FEDERAL, OVERTIME_RULES
from estimator.rates.rows import EARLIEST, LATEST, day_remedy
from estimator.scope.escalation import ESCALATION, read_escalation
from estimator.scope.input_value import InputValue
from estimator.scope.inspection import INSPECTIONS, read_inspections
from estimator.scope.job_calendar import NO_CALENDAR, JobCalendar
from estimator.scope.located import Section, Text
from estimator.scope.located_reader import LocatedReader

CALENDAR = "calendar"
CALENDAR_KEYS = (
    "start", "week", "weekdays", "holidays", "days_off", "days_worked", "shut_downs", "weather",
    INSPECTIONS, "overtime", ESCALATION,
)  # fmt: skip
MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
USUAL_DAYS = 5
FEDERAL_HOLIDAYS, NO_HOLIDAYS = "US", "none"
LONGEST_SHUT_DOWN, MOST_DAYS_LISTED = 366, 2_000

_WEEK = re.compile(r"([1-7]) days? of (.+)", re.ASCII)
_SHUT_DOWN = re.compile(r"(\S+) to (\S+)", re.ASCII)
_ANY_DAY = date(2026, 1, 1)


def read_calendar(section: Section, faults: Faults) -> JobCalendar:
    """Return what a scope's key `calendar` states, noting all faults.

    Parameters
    ----------
    section : Section
        The whole scope.
    faults : Faults
        Where faults are noted, among them a year without a day to work on.
    """
    if CALENDAR not in section.entries:
        return NO_CALENDAR
    reader = _CalendarReader(faults)
    return reader.calendar(reader.section(section.entries[CALENDAR], CALENDAR, CALENDAR_KEYS))


class _CalendarReader(LocatedReader):
    def calendar(self, section: Section) -> JobCalendar:
        before = self.faults.count
        start = self.day(section, "start", "a day")
        count, shift = self.week(section)
        country, subdivision = self.holidays(section)
        off, worked = (frozenset(self.days(section, key)) for key in ("days_off", "days_worked"))
        for day in sorted(off & worked):
            what = f"{day} is a day off and a day worked"
            self.faults.add(section.entries["days_worked"].where, what, "take one of them out")
        stated: dict[str, Any] = {
            "weekdays": self.weekdays(section, count),
            "country": country,
            "subdivision": subdivision,
            "days_off": off.union(self.shut_downs(section)),
            "days_worked": worked,
            "weather_days": self.weather(section),
        }
        working = None
        if self.faults.count == before:
            working = self.tried(section.where, CALENDAR, _calendar, stated)
        if working is not None:
            self.check_year(section, working, start)
        inspections = read_inspections(section, self.faults)
        escalation = read_escalation(section, self.faults)
        return JobCalendar(start, working, shift, inspections, self.overtime(section), escalation)

    def week(self, section: Section) -> tuple[int, InputValue | None]:
        """Return how many days of the week are worked, 0 if nothing is said, and their hours."""
        text = self.text(section, "week", required=False)
        if not text:
            return 0, None
        where, match = section.entries["week"].where, _WEEK.fullmatch(text)
        if match is None:
            self.faults.add(
                where, f"week {quoted(text)} is not a working week", "write 5 days of 8 hr"
            )
            return 0, None
        hours = self.tried(where, "week", read_measure, match[2], unit("hr"))
        if hours is None:
            return int(match[1]), None
        value = hours.in_unit(unit("hr"))
        if not 1 <= value <= 24:
            self.faults.add(where, f"week {quoted(text)}: a day has 1 to 24 hours", "write 8 hr")
        return int(match[1]), InputValue(value, f"{match[2]}/day")

    def overtime(self, section: Section) -> str:
        """Return the rule by which hours bear a premium; the federal one if nothing is said."""
        text = self.text(section, "overtime", required=False)
        if not text:
            return FEDERAL
        if text not in OVERTIME_RULES:
            what = f"{quoted(text)} is not an overtime rule"
            where = section.entries["overtime"].where
            self.faults.add(where, what, did_you_mean(text, OVERTIME_RULES))
            return FEDERAL
        return text

    def weekdays(self, section: Section, count: int) -> frozenset[str]:
        """Return the days of the week that are worked: from Monday on, unless they are named."""
        if "weekdays" not in section.entries:
            return frozenset(WEEKDAYS[: count or USUAL_DAYS])
        where = section.entries["weekdays"].where
        named = frozenset(self.texts(section, "weekdays"))
        for name in sorted(named - set(WEEKDAYS) - {""}):
            self.faults.add(where, f"unknown weekday {quoted(name)}", "write Mon, Tue, ... Sun")
        if count and named and len(named) != count:
            what = f"weekdays names {how_many(len(named), 'day')}, and week says {count}"
            self.faults.add(where, what, "say the same in both")
        return named

    def holidays(self, section: Section) -> tuple[str, str]:
        """Return the country and the state whose public holidays are kept."""
        text = self.text(section, "holidays", required=False)
        if text.lower() == NO_HOLIDAYS:
            return "", ""
        if not text or text == FEDERAL_HOLIDAYS:
            return FEDERAL_HOLIDAYS, ""
        state = self.tried(section.entries["holidays"].where, "holidays", state_code, text)
        return FEDERAL_HOLIDAYS, state or ""

    def days(self, section: Section, key: str) -> Iterator[date]:
        for number, part in enumerate(self.parts(section, key, required=False), start=1):
            name = f"{key} {number}"
            day = self.day(Section({name: part}, part.where), name, "a day")
            if day is not None:
                yield day

    def shut_downs(self, section: Section) -> Iterator[date]:
        """Yield the days on which the whole job stands still."""
        left = MOST_DAYS_LISTED
        for part in self.parts(section, "shut_downs", required=False):
            text = part.value if isinstance(part, Text) else ""
            days = self.span(text, part.where)
            left -= len(days)
            if left < 0:
                what = f"shut_downs have more than {MOST_DAYS_LISTED:,} days in all"
                self.faults.add(part.where, what, "list those of the job only")
                return
            yield from days

    def span(self, text: str, where: str) -> list[date]:
        """Return the days of a text such as `2026-12-21 to 2027-01-01`, both ends counted."""
        match = _SHUT_DOWN.fullmatch(" ".join(text.split()))
        if match is None:
            what = f"shut-down {quoted(text)} is not a span of days"
            self.faults.add(where, what, "write 2026-12-21 to 2027-01-01")
            return []
        first, last = (_day(one) for one in match.groups())
        if first is None or last is None:
            slip = match[1] if first is None else match[2]
            self.faults.add(where, f"shut-down {quoted(slip)} is not a day", day_remedy(slip))
            return []
        if not 0 <= (last - first).days < LONGEST_SHUT_DOWN:
            what = f"shut-down {quoted(text)} is not 1 to {LONGEST_SHUT_DOWN} days long"
            self.faults.add(where, what, "write its first day first")
            return []
        return [first + timedelta(days=count) for count in range((last - first).days + 1)]

    def weather(self, section: Section) -> tuple[float, ...]:
        """Return the working days that weather is expected to take of each month."""
        written = section.entries.get("weather")
        if written is None:
            return NO_WEATHER
        months = self.section(written, "weather", MONTHS)
        days = (self.measured(months, month, unit("day")) for month in MONTHS)
        return tuple(0.0 if one is None else float(one.in_unit(unit("day"))) for one in days)

    def check_year(self, section: Section, working: WorkingCalendar, start: date | None) -> None:
        first = start or _ANY_DAY
        year = (working, first, first + timedelta(days=365))
        days = self.tried(section.where, "start", days_net_of_weather, *year)
        if days is not None and days <= 0.0:
            what = f"no day is worked in the year from {first}"
            remedy = "check the weekdays, the shut-downs and the days lost to weather"
            self.faults.add(section.where, what, remedy)


def _calendar(stated: dict[str, Any]) -> WorkingCalendar:
    return WorkingCalendar(**stated)


def _day(text: str) -> date | None:
    try:
        day = date.fromisoformat(text)
    except ValueError:
        return None
    return day if EARLIEST <= day <= LATEST else None
