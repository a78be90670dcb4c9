"""The next two weeks: by day who works where, what comes, who is called, and the cautions."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from estimator.money import exact_arithmetic, from_fixed_point
from estimator.pricing.cost_line import CostLine
from estimator.pricing.estimate import CautionNote, Estimate
from estimator.production.working_calendar import (
    WEEKDAYS,
    WorkingCalendar,
    days_net_of_weather,
    is_working_day,
    working_days_between,
)
from estimator.quantity.units import counted
from estimator.scheduling.job_bars import assumed_calendar
from estimator.scheduling.job_dates import Dated, JobSchedule
from estimator.scheduling.noted_days import INSPECTION, QUOTE, START, JobDay, job_days
from estimator.scope.calendar_reader import MONTHS
from estimator.scope.job_crew import hands_text, members_at_work
from estimator.scope.scope import Item
from estimator.scope.work_order import is_whole

DAYS = 14
_ONE_DAY = timedelta(days=1)
_MATERIAL = "material"


@dataclass(frozen=True)
class AheadWork:
    """A piece of work on a day.

    Parameters
    ----------
    code, name : str
        As in the scope.
    hands : str
        Who does it: `2 mason, 1 mason-tender`, the firm of a quote, or nothing.
    begins, ends : bool
        Whether this is its first day, and its last.
    is_named : bool
        Whether an earlier day of the two weeks says its name.
    """

    code: str
    name: str
    hands: str
    begins: bool = False
    ends: bool = False
    is_named: bool = False

    @property
    def words(self) -> str:
        """The work in a line: `50.010 Beam pockets: 1 mason; begins`, later `50.010 goes on`."""
        what = self.name
        if self.is_named:
            what = "ends" if self.ends else "goes on"
        edges = (("begins", self.begins), ("ends", self.ends and not self.is_named))
        marks = " and ".join(word for word, holds in edges if holds)
        hands = f": {self.hands}" if self.hands else ""
        return f"{self.code} {what}{hands}" + (f"; {marks}" if marks else "")


@dataclass(frozen=True)
class AheadDay:
    """A day of the two weeks.

    Parameters
    ----------
    day : date
        Its date.
    is_worked : bool
        By the calendar.
    work : tuple of AheadWork
        What is worked on.
    materials : tuple of str
        What must be there for each work that begins: `30.020: 182 ton Crushed stone, delivered`.
    notes : tuple of JobDay
        Inspections, notices, rent, quotes.
    """

    day: date
    is_worked: bool
    work: tuple[AheadWork, ...]
    materials: tuple[str, ...]
    notes: tuple[JobDay, ...]

    @property
    def is_empty(self) -> bool:
        """Whether there is nothing to say of it."""
        return not (self.work or self.notes)

    @property
    def heading(self) -> str:
        """The day in words: `Mon 2026-07-13`, and whether it is not worked."""
        free = "" if self.is_worked else ", not worked"
        return f"{WEEKDAYS[self.day.weekday()]} {self.day}{free}"

    @property
    def beside_work(self) -> tuple[str, ...]:
        """What comes, goes, is called or looked at, and what must be there, in a line each."""
        here = (f"To be here for {one}" for one in self.materials)
        return (*map(_note_words, self.notes), *here)


@dataclass(frozen=True)
class LookAhead:
    """Two weeks of a job.

    Parameters
    ----------
    project : str
        Its name.
    first, last : date
        The fourteen days.
    days : tuple of AheadDay
        Each of them.
    beside : tuple of AheadWork
        What runs along other work, or is dated with its phase: on any of these days.
    weather : tuple of str
        A sentence for each month in which weather is expected to take days.
    cautions : tuple of CautionNote
        Of the work of these days, each with its items of these days.
    assumed : str
        See `assumed_calendar`.
    """

    project: str
    first: date
    last: date
    days: tuple[AheadDay, ...]
    beside: tuple[AheadWork, ...]
    weather: tuple[str, ...]
    cautions: tuple[CautionNote, ...]
    assumed: str = ""

    @property
    def filled_days(self) -> tuple[AheadDay, ...]:
        """The days of which there is something to say."""
        return tuple(one for one in self.days if not one.is_empty)

    @property
    def is_idle(self) -> bool:
        """Whether there is no work on any of the days."""
        return not self.beside and not any(one.work for one in self.days)

    @property
    def caution_words(self) -> tuple[str, ...]:
        """Each caution with the work that it belongs to, and who decides."""
        return tuple(
            f"{', '.join(one.items)}: {one.caution.caution} ({one.caution.defer_to})"
            for one in self.cautions
        )


@exact_arithmetic
def look_ahead(estimate: Estimate, schedule: JobSchedule, first: date | None = None) -> LookAhead:
    """Return two weeks of a job.

    Parameters
    ----------
    estimate : Estimate
        That was scheduled.
    schedule : JobSchedule
        From `job_schedule`.
    first : date or None
        The first of the fourteen days; None for the first day of the job.

    Raises
    ------
    CalendarFaulty
        If one of the days is not of 1900 to 2199.
    """
    first = first or schedule.start
    is_working_day(schedule.calendar, first)  # a day that no calendar has is refused here
    return _TwoWeeks(estimate, schedule, first).shown()


class _TwoWeeks:
    def __init__(self, estimate: Estimate, schedule: JobSchedule, first: date) -> None:
        self.estimate, self.schedule = estimate, schedule
        self.first, self.last = first, first + (DAYS - 1) * _ONE_DAY
        self.items = {item.code: item for item in estimate.scope.items}
        self.notes = [one for one in job_days(estimate, schedule) if one.sort != START]
        whole = {phase.code for phase in estimate.scope.phases if is_whole(phase)}
        here = [one for one in schedule.items if self.meets(one)]
        is_loose = [one.along or one.code.partition(".")[0] in whole for one in here]
        both = [*zip(here, is_loose, strict=True)]
        self.loose = [one for one, loose in both if loose]
        self.dated = [one for one, loose in both if one.work_days and not loose]
        self.bought: dict[str, list[CostLine]] = {}
        for line in estimate.cost_lines:
            if line.kind == _MATERIAL and line.ordered:
                self.bought.setdefault(line.item, []).append(line)

    def meets(self, one: Dated) -> bool:
        """Whether any day of a piece of work is one of the fourteen."""
        return one.start <= self.last and one.finish >= self.first

    def shown(self) -> LookAhead:
        days = (self.first + number * _ONE_DAY for number in range(DAYS))
        return LookAhead(
            self.estimate.scope.project,
            self.first,
            self.last,
            tuple(map(self.day, days)),
            tuple(self.work(one) for one in self.loose),
            tuple(weather_sentences(self.schedule.calendar, self.first, self.last)),
            tuple(self.cautions()),
            assumed_calendar(self.estimate, self.schedule),
        )

    def day(self, day: date) -> AheadDay:
        is_worked = is_working_day(self.schedule.calendar, day)
        now = [one for one in self.dated if one.start <= day <= one.finish] if is_worked else []
        begun = [one.code for one in self.dated if one.start == day]
        return AheadDay(
            day,
            is_worked,
            tuple(self.work(one, day) for one in now),
            tuple(filter(None, map(self.materials, begun))),
            tuple(one for one in self.notes if one.day == day),
        )

    def work(self, one: Dated, day: date | None = None) -> AheadWork:
        hands = self.hands(self.items[one.code])
        is_named = day is not None and day > max(one.start, self.first)
        return AheadWork(one.code, one.name, hands, one.start == day, one.finish == day, is_named)

    def hands(self, item: Item) -> str:
        if item.stated is not None:
            return item.stated.firm
        return hands_text(members_at_work(item.method, self.estimate.tables))

    def materials(self, code: str) -> str:
        """Return what must be there for an item, nothing if it takes no material."""
        needed = ", ".join(_bought(line) for line in self.bought.get(code, ()))
        return f"{code}: {needed}" if needed else ""

    def cautions(self) -> Iterator[CautionNote]:
        here = {one.code for one in (*self.dated, *self.loose)}
        for note in self.estimate.cautions:
            items = tuple(code for code in note.items if code in here)
            if items:
                yield CautionNote(note.caution, items)


def _note_words(note: JobDay) -> str:
    return f"{note.title}. {note.text}" if note.sort in (INSPECTION, QUOTE) else note.title


def weather_sentences(calendar: WorkingCalendar, first: date, last: date) -> Iterator[str]:
    """Yield for each month what weather is expected to take of its working days in a span.

    Parameters
    ----------
    calendar : WorkingCalendar
        With its days lost to weather.
    first, last : date
        Both counted.
    """
    begin = first
    while begin <= last:
        end = min(last, _last_of_month(begin))
        worked = working_days_between(calendar, begin, end)
        lost = calendar.weather_days[begin.month - 1]
        if lost and worked:
            taken = worked - days_net_of_weather(calendar, begin, end)
            yield (
                f"Of the working days of {MONTHS[begin.month - 1]}, weather is expected to take "
                f"{lost:g}: {taken:.1f} of the {worked} here. On which days, nobody knows."
            )
        begin = end + _ONE_DAY


def _last_of_month(day: date) -> date:
    return (day.replace(day=28) + 4 * _ONE_DAY).replace(day=1) - _ONE_DAY


def _bought(line: CostLine) -> str:
    ordered = from_fixed_point(line.ordered, line.decimals).normalize()
    return f"{counted(f'{ordered:,f}', line.unit)} {line.name}"
