"""The days of a job as an iCalendar file, for any calendar program."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import UTC, date, datetime, time, timedelta
from typing import TYPE_CHECKING
from uuid import UUID, uuid5

from estimator.own_mark import marked_ics
from estimator.pricing.estimate import Estimate
from estimator.scheduling.job_dates import JobSchedule
from estimator.scheduling.noted_days import JobDay, job_days

if TYPE_CHECKING:
    from icalendar import Event

_PROGRAM = "-//Groundsill//Schedule//EN"
_NAMES = UUID("6f1c7a52-0f0e-5d0b-9a55-1906a0c0ffee")


def calendar_file(estimate: Estimate, schedule: JobSchedule, more: Iterable[JobDay] = ()) -> bytes:
    """Return the days of a job as an iCalendar file; the same dates give the same bytes.

    Parameters
    ----------
    estimate : Estimate
        That was scheduled; its pricing date is the stamp of every entry.
    schedule : JobSchedule
        From `job_schedule`.
    more : iterable of JobDay
        What else falls on a day: hold points of the books.

    Notes
    -----
    Every entry lasts all day and keeps nobody busy. Its identifier is of the project, its sort and
    the work or machine, not of its day: a calendar program that reads a later file moves the entry
    that it has.

    References
    ----------
    RFC 5545, Internet Calendaring and Scheduling Core Object Specification (2009), sections 3.1
    (lines of at most 75 octets), 3.6.1 and 3.8.4.7 (identifiers).
    """
    from icalendar import Calendar

    calendar = Calendar()
    calendar.add("prodid", _PROGRAM)
    calendar.add("version", "2.0")
    calendar.add("x-wr-calname", estimate.scope.project)
    for one in sorted((*job_days(estimate, schedule), *more), key=lambda one: one.day):
        calendar.add_component(_event(one, estimate.scope.project, estimate.on))
    return marked_ics(bytes(calendar.to_ical(sorted=False)))


def _event(one: JobDay, project: str, on: date) -> Event:
    from icalendar import Event

    event = Event()
    event.add("uid", str(uuid5(_NAMES, "\n".join((project, one.sort, one.key)))))
    event.add("dtstamp", datetime.combine(on, time(), UTC))
    event.add("dtstart", one.day)
    event.add("dtend", one.day + timedelta(days=1))
    event.add("summary", one.title)
    if one.text:
        event.add("description", one.text)
    event.add("categories", [one.sort])
    event.add("transp", "TRANSPARENT")
    return event
