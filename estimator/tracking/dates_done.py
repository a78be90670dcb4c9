"""When the rest of each code is done at the pace that the job's own record shows."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from itertools import pairwise
from math import ceil, isfinite

from estimator.production.placed_so_far import (
    ObservedPace,
    days_range,
    observed_pace,
    pace_of_sum,
)
from estimator.production.working_calendar import WorkingCalendar, finish, next_working_day
from estimator.quantity.units import counted
from estimator.tracking.books import Books
from estimator.tracking.books_by_day import DailyBooks
from estimator.tracking.job_track import Track
from estimator.tracking.status import NOT_MEASURED, WHEN_DRAWN, WITH_THE_WORK, CodeStatus
from estimator.tracking.tickets import standing

_MOST_DAYS = 2_500
_HAIR = 1e-6


@dataclass(frozen=True)
class FinishDate:
    """When the rest of a code is done.

    Parameters
    ----------
    code : str
        Cost code.
    left : Decimal
        [unit] Still to be placed.
    pace : ObservedPace or None
        Of the days on which it was worked; None where no pace is known.
    work_days : float or None
        [day] Of work that the rest takes at that pace.
    done_by : date or None
        Last day, if every working day from the next one on is worked; None where unknown.
    between : tuple of 2 dates or None
        Days that hold it four times in five; None where too few days were seen.
    planned : date or None
        Last day as planned.
    sentence : str
        What a builder reads; it says so where the day is unknown.
    """

    code: str
    left: Decimal
    pace: ObservedPace | None
    work_days: float | None
    done_by: date | None
    between: tuple[date, date] | None
    planned: date | None
    sentence: str


def finish_dates(
    books: DailyBooks,
    report: Track,
    calendar: WorkingCalendar | None = None,
) -> tuple[FinishDate, ...]:
    """Return when each code is done of which something is left.

    Parameters
    ----------
    books : DailyBooks
        See `daily_books`, of the day of the report.
    report : Track
        What they say: see `track`; its window holds for the pace too.
    calendar : WorkingCalendar or None
        None for weekdays without public holidays of the United States.

    Notes
    -----
    A code was worked on a day for which it has hours, a delivery or hours of a machine. Its pace is
    what was placed between two measurements over the days worked between them: that of the crew and
    machines which did it, whatever the estimate supposed.
    """
    known, working, days = books.rows, calendar or WorkingCalendar(), _days_worked(books)
    return tuple(
        _finish(code, _pace(known, code, days.get(code.code, set()), report.since),
                report.as_of, working)
        for code in report.status.codes
        if _is_left(code)
    )  # fmt: skip


def _is_left(code: CodeStatus) -> bool:
    if code.how_earned in (WITH_THE_WORK, WHEN_DRAWN):
        return False
    return code.how_earned == NOT_MEASURED or code.quantity < code.expected


def _days_worked(books: DailyBooks) -> dict[str, set[date]]:
    days = {code: {day for day, own in by.items() if own} for code, by in books.hours.items()}
    for rows in (books.rows.tickets, books.rows.machine_hours):
        live = set(standing(rows))
        for one in rows:
            if one.row in live:
                days.setdefault(one.code, set()).add(one.happened)
    return days


def _pace(
    known: Books, code: CodeStatus, days: set[date], since: date | None
) -> ObservedPace | None:  # fmt: skip
    """Return the pace of the days on which a code was worked; None where no day is known."""
    spans = list(_spans(known, code, days, since))
    worked, placed = sum(days for days, _ in spans), sum(own for _, own in spans)
    if not worked or placed <= 0:
        return None
    if all(days == 1 for days, _ in spans):
        return observed_pace([own for _, own in spans])
    return pace_of_sum(placed, worked)


def _spans(
    known: Books, code: CodeStatus, days: set[date], since: date | None
) -> Iterator[tuple[int, float]]:
    """Yield days worked and what they placed, between two measurements of a code."""
    own = [one for one in known.progress if one.code == code.code and not one.is_inspector]
    ordered = sorted(own, key=lambda one: (one.happened, one.row))
    in_place = {one.happened: one.in_place for one in ordered}
    measured = [(date.min, Decimal(0)), *in_place.items()]
    for (first, before), (last, after) in pairwise(measured):
        worked = sum(first < day <= last for day in days)
        if worked and (since is None or last >= since):
            yield worked, float(max(after - before, Decimal(0)))


def _finish(
    code: CodeStatus,
    pace: ObservedPace | None,
    as_of: date,
    calendar: WorkingCalendar,
) -> FinishDate:
    left = code.expected - code.quantity
    if pace is None:
        return FinishDate(code.code, left, None, None, None, None, code.finish, _unknown(code))
    work_days = float(left) / pace.per_day
    done_by = _last_day(calendar, as_of, work_days)
    ends = days_range(pace, float(left))
    between = None
    if ends is not None and isfinite(ends[1]):
        days = [_last_day(calendar, as_of, one) for one in ends]
        between = (days[0], days[1]) if days[0] and days[1] else None
    words = _known(code, pace, work_days, done_by, as_of, calendar)
    return FinishDate(code.code, left, pace, work_days, done_by, between, code.finish, words)


def _last_day(calendar: WorkingCalendar, as_of: date, work_days: float) -> date | None:
    """Return the last day of work that begins on the next working day; None of absurdly many."""
    if work_days > _MOST_DAYS:
        return None
    return finish(calendar, as_of + timedelta(1), work_days).last_day


def _unknown(code: CodeStatus) -> str:
    title = f"{code.code} {code.name}"
    if code.how_earned == NOT_MEASURED or not code.quantity:
        return f"{title}: no finish date yet: nothing of it is measured"
    return (
        f"{title}: no finish date yet: no hours, loads or machine show on which days it was worked"
    )


def _known(
    code: CodeStatus,
    pace: ObservedPace,
    work_days: float,
    done_by: date | None,
    as_of: date,
    calendar: WorkingCalendar,
) -> str:
    left = counted(f"{code.expected - code.quantity:,f}", code.unit)
    tenths = ceil(work_days * 10 - _HAIR) / 10  # never down: the printed days end on that day too
    seen = "the one day" if pace.days == 1 else f"the {pace.days} days"
    start = next_working_day(calendar, as_of + timedelta(1))
    ends = f"it is done on {done_by}" if done_by else "no day within ten years ends it"
    return (
        f"{code.code} {code.name}: {left} left at {pace.per_day:,.4g} a day, that of {seen} it "
        f"was worked: {tenths:,.1f} days of work; worked every working day from {start}, {ends}"
    )


def all_done(finishes: tuple[FinishDate, ...], names: Mapping[str, str]) -> str:
    """Return when the job is done, in a sentence that says what of it is unknown.

    Parameters
    ----------
    finishes : tuple of FinishDate
        See `finish_dates`.
    names : mapping of str to str
        Of the codes.
    """
    known = [one for one in finishes if one.done_by is not None]
    without_pace = [one for one in finishes if one.done_by is None]
    if not finishes:
        return "Everything is in place."
    if not known:
        nothing = "The job has no finish date yet: no code has a pace of its own."
        return nothing + _as_planned(without_pace)
    last = max(known, key=lambda one: one.done_by or date.min)
    title = f"{last.code} {names[last.code]}"
    if not without_pace:
        return (
            f"The job is done on {last.done_by}, when {title} is, at the pace of each code so far."
        )
    what = "1 code has" if len(without_pace) == 1 else f"{len(without_pace)} codes have"
    paced = f"Of the {len(known)} that have one, {title} is the last to be done,"
    if len(known) == 1:
        paced = f"{title} has one, and is done"
    return (
        f"The job has no finish date yet: {what} no pace. {paced} on {last.done_by}."
        + _as_planned(without_pace)
    )


def _as_planned(finishes: Sequence[FinishDate]) -> str:
    """Return what the plan says of codes without a pace; nothing where it dates none of them."""
    days = [one.planned for one in finishes if one.planned is not None]
    if not days:
        return ""
    return f" The plan dates {len(days)} of the {len(finishes)}, the last on {max(days)}."
