"""What falls on which day: starts, inspections and their notice, rent, quotes that run out."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from math import ceil

from estimator.pricing.estimate import Estimate
from estimator.production.working_calendar import (
    WorkingCalendar,
    is_working_day,
    next_working_day,
)
from estimator.quantity.units import counted
from estimator.scheduling.job_bars import BarRow, JobBars, bars_of
from estimator.scheduling.job_dates import Dated, JobSchedule
from estimator.scheduling.rent_by_dates import RentSpan
from estimator.scope.inspection import Inspection
from estimator.scope.scope import Scope
from estimator.scope.work_order import begin_of, end_of, ordered_work
from estimator.scope.work_plan import Wait

START, NOTICE, INSPECTION = "start", "notice", "inspection"
RENT, CALL_OFF, QUOTE = "rent", "call-off", "quote"
_ONE_DAY = timedelta(days=1)


@dataclass(frozen=True)
class JobDay:
    """Something that falls on a day.

    Parameters
    ----------
    day : date
        On which it falls.
    sort : str
        One of `start`, `notice`, `inspection`, `rent`, `call-off`, `quote`.
    key : str
        Tells it from others of its sort, whatever its day and its words.
    title, text : str
        What it is in a line, and what there is to say of it; the text may be empty.
    """

    day: date
    sort: str
    key: str
    title: str
    text: str = ""


def job_days(estimate: Estimate, schedule: JobSchedule) -> tuple[JobDay, ...]:
    """Return what falls on which day, the earliest first.

    Parameters
    ----------
    estimate : Estimate
        That was scheduled.
    schedule : JobSchedule
        From `job_schedule`.

    Notes
    -----
    An inspection before work is on the working day before that work begins, one after it on the
    next working day once it is done; the notice is so long before. A rented machine is called off
    on the last day of its span. Quotes are those that the estimate is priced with.
    """
    bars = bars_of(estimate, schedule)
    noted = [
        *(_start(row, bars) for row in bars.rows if row.work.days or row.is_phase),
        *_inspections(estimate, schedule),
        *_rents(bars),
        *_quotes(estimate, schedule),
    ]
    return tuple(sorted(noted, key=lambda one: (one.day, _SORTS.index(one.sort), one.key)))


_SORTS = (NOTICE, INSPECTION, START, RENT, CALL_OFF, QUOTE)


def _start(row: BarRow, bars: JobBars) -> JobDay:
    work = row.work
    text = f"Until {work.finish}, {row.words}."
    if not bars.schedule.is_shortest:
        text += " The best order found."
    return JobDay(work.start, START, work.code, f"Begins: {work.code} {work.name}", text)


def _inspections(estimate: Estimate, schedule: JobSchedule) -> Iterator[JobDay]:
    dated = {one.code: one for one in (*schedule.phases, *schedule.items)}
    before = _finished_before(estimate.scope)
    for one in estimate.scope.calendar.inspections:
        work = dated.get(one.code)
        if work is not None:  # an alternate may have taken it out
            earlier = [dated[code] for code in before.get(one.code, ()) if one.is_before]
            yield from _inspection(one, work, earlier, schedule.calendar)


def _finished_before(scope: Scope) -> dict[str, set[str]]:
    """Return what must be finished before each phase and item, as far as the scope says."""
    plain = {f(one.code): one.code for one in scope.phases for f in (begin_of, end_of)}
    before: dict[str, set[str]] = {}
    for work in ordered_work(scope):
        own = before.setdefault(plain.get(work.code, work.code), set())
        own |= {plain.get(one.code, one.code) for one in work.after if not one.from_start}
    for phase in scope.phases:
        before[phase.code] -= {phase.code, *(item.code for item in phase.items)}
        for item in phase.items:
            if phase.code in before.get(item.code, ()):
                before[item.code] = before[item.code] - {phase.code} | before[phase.code]
    return before


def _inspection(
    one: Inspection, work: Dated, earlier: Sequence[Dated], calendar: WorkingCalendar
) -> Iterator[JobDay]:
    if one.is_before:
        day, words = _working_days_before(calendar, work.start, 1), "before"
    else:
        day, words = next_working_day(calendar, work.finish + _ONE_DAY), "after"
    key, by = f"{one.code} {one.name}", f" ({one.by})" if one.by else ""
    text = f"It is {words} {work.code} {work.name}."
    late = sorted(other.code for other in earlier if other.finish > day)
    if late:
        text += f" {', '.join(late)} will not be done by then: let {work.code} wait a day."
    yield JobDay(day, INSPECTION, key, f"Inspection: {one.name}{by}", text)
    if one.notice.days:
        called = _notice_day(calendar, day, one.notice)
        whom = one.by or "the inspector"
        yield JobDay(called, NOTICE, key, f"Call {whom}: {one.name}, on {day}", text)


def _notice_day(calendar: WorkingCalendar, day: date, notice: Wait) -> date:
    days = ceil(notice.days)
    if notice.by_calendar:
        return day - days * _ONE_DAY
    return _working_days_before(calendar, day, days)


def _working_days_before(calendar: WorkingCalendar, day: date, days: int) -> date:
    while days:
        day -= _ONE_DAY
        days -= is_working_day(calendar, day)
    return day


def _rents(bars: JobBars) -> Iterator[JobDay]:
    for spans in bars.rents_by_machine:
        times = Counter[str]()
        for one in spans:
            times[one.items[0]] += 1  # an item may need the same machine for two things
            yield from _rent(one, f"{one.resource} {one.items[0]} {times[one.items[0]]}")


def _rent(one: RentSpan, key: str) -> Iterator[JobDay]:
    work, ordered = ", ".join(one.items), counted(f"{one.quantity.normalize():f}", one.unit)
    if one.is_dated:
        text = f"For {work}, until {one.last}: {ordered}."
        yield JobDay(one.first, RENT, key, f"On rent: {one.name}", text)
        text = f"Its last day of work, for {work}."
        yield JobDay(one.last, CALL_OFF, key, f"Call off: {one.name}", text)
    else:
        text = f"For {work}, {ordered} from {one.first} on; nobody has stated which days."
        yield JobDay(one.first, RENT, key, f"Rent without dates: {one.name}", text)


def _quotes(estimate: Estimate, schedule: JobSchedule) -> Iterator[JobDay]:
    """Yield the last day of each quote, with the first work that it prices."""
    lines, items = estimate.priced.lines, schedule.items
    first: dict[tuple[str, date], tuple[date, str, str]] = {}
    for place, kind in zip(lines.item.tolist(), lines.kind_of_line.tolist(), strict=True):
        rate, item = lines.rates[kind], items[place]
        if rate.valid_until is not None:
            key, of = (rate.code, rate.valid_until), (item.start, item.code, rate.name)
            first[key] = min(of, first.get(key, of))
    for (code, until), (begin, item, name) in first.items():
        late = f"Its first work, {item}, begins on {begin}"
        text = f"{late}, after that: ask for it to hold longer." if begin > until else f"{late}."
        yield JobDay(until, QUOTE, f"{code} {until}", f"Last day of the quote: {name}", text)
