"""The course of a job: what was planned, earned and incurred by the end of each week."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from estimator.tracking.books import Books
from estimator.tracking.budget import Budget, current_budget
from estimator.tracking.machine_log import rent_stands
from estimator.tracking.machines_on_rent import running_rents
from estimator.tracking.planned_dates import with_planned_dates
from estimator.tracking.progress import in_place
from estimator.tracking.status import job_status

MOST_WEEKS = 260
_SUNDAY = 6


@dataclass(frozen=True)
class WeekPoint:
    """Where the job stood, or is planned to stand, at the end of a week.

    Parameters
    ----------
    day : date
        A Sunday; of the running week, the day of the report.
    planned_cents : int
        [0.01 $]
    earned_cents, incurred_cents : int or None
        [0.01 $] None of weeks to come.
    """

    day: date
    planned_cents: int
    earned_cents: int | None = None
    incurred_cents: int | None = None


def course_by_week(
    known: Books,
    incurred: Mapping[date, int],
    baseline: Budget,
    as_of: date,
    known_on: datetime,
) -> tuple[WeekPoint, ...]:
    """Return the course from the first entry or planned day to the last, 260 weeks at most.

    Parameters
    ----------
    known : Books
        What is known, see `Books.known`; of the costs only those that charge a rent.
    incurred : mapping of date to int
        [0.01 $] By how much billed and accrued together moved on each day: see
        `incurred_by_day`.
    baseline : mapping of str to BudgetCode
        The accepted estimate.
    as_of, known_on : date, datetime
        Happened by; entered by [UTC]. Each week is shown as it stands in what was known then.
    """
    days = [one.happened for rows in vars(known).values() for one in rows]
    planned = with_planned_dates(baseline, known.plans).values()
    first = min([*days, *incurred, *(one.start for one in planned if one.start), as_of])
    last = max([as_of, *(one.finish for one in planned if one.finish)])
    ends = list(_week_ends(first, last, as_of))[:MOST_WEEKS]
    rows = Books(
        progress=known.progress, plans=known.plans, changes=known.changes, rents=known.rents,
        called_off=known.called_off, costs=[one for one in known.costs if one.rents],
    )  # fmt: skip
    return tuple(_point(rows, incurred, baseline, end, as_of, known_on) for end in ends)


def _week_ends(first: date, last: date, as_of: date) -> Iterator[date]:
    end = first + timedelta(_SUNDAY - first.weekday())
    while end < last + timedelta(7):
        if end - timedelta(7) < as_of < end:
            yield as_of
        yield end
        end += timedelta(7)


def _point(
    known: Books,
    incurred: Mapping[date, int],
    baseline: Budget,
    day: date,
    as_of: date,
    known_on: datetime,
) -> WeekPoint:
    then = known.known(day, known_on)
    dated = with_planned_dates(baseline, then.plans)
    budget = current_budget(dated, then.changes, day, known_on)
    stands = in_place(then.progress, day, known_on)
    work = job_status(dated, budget, {}, {}, stands, day).whole().performance
    if day > as_of:
        return WeekPoint(day, work.planned_cents)
    rents = rent_stands(running_rents(then.rents, then.called_off), then.costs, day)
    so_far = sum(cents for moved, cents in incurred.items() if moved <= day)
    running = sum(one.accrued_cents for one in rents)
    return WeekPoint(day, work.planned_cents, work.earned_cents, so_far + running)
