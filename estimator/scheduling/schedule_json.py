"""The dates of a job as JSON."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from estimator.pricing.estimate import Estimate
from estimator.production.working_calendar import WEEKDAYS, WorkingCalendar
from estimator.scheduling.days_on_site import OnSite, on_site
from estimator.scheduling.job_dates import Dated, JobSchedule
from estimator.scheduling.worth_of_one_more import OneMore


def schedule_fields(
    estimate: Estimate, schedule: JobSchedule, ways: Sequence[OneMore] = ()
) -> dict[str, Any]:
    """Return the dates of a job, and what one more of each scarce crew is worth.

    Parameters
    ----------
    estimate : Estimate
        That was scheduled.
    schedule : JobSchedule
        From `job_schedule`.
    ways : sequence of OneMore
        From `one_more`; none where nothing is scarce.
    """
    return {
        "project": estimate.scope.project,
        "start": schedule.start.isoformat(),
        "finish": schedule.finish.isoformat(),
        "days": _days(schedule.days),
        "at_least_days": _days(schedule.at_least_days),
        "path_days": _days(schedule.path_days),
        "is_proven": schedule.is_shortest,
        "gap": f"{schedule.gap:.4f}",
        "calendar": _calendar(schedule.calendar),
        "crew": dict(schedule.there),
        "chain": list(schedule.chain),
        "phases": [_dated(one) for one in schedule.phases],
        "items": [_dated(one) for one in schedule.items],
        "on_site": [_on_site(one) for one in on_site(estimate, schedule)],
        "one_more": [_one_more(one) for one in ways],
    }


def _calendar(calendar: WorkingCalendar) -> dict[str, Any]:
    return {
        "weekdays": [day for day in WEEKDAYS if day in calendar.weekdays],
        "holidays": calendar.subdivision or calendar.country or "none",
        "days_off": [day.isoformat() for day in sorted(calendar.days_off)],
        "days_worked": [day.isoformat() for day in sorted(calendar.days_worked)],
        "weather_days": [f"{days:g}" for days in calendar.weather_days],
    }


def _dated(one: Dated) -> dict[str, Any]:
    return {
        "code": one.code,
        "name": one.name,
        "start": one.start.isoformat(),
        "finish": one.finish.isoformat(),
        "days": _days(one.days),
        "work_days": _days(one.work_days),
        "float_days": _days(one.float_days),
        "path_float_days": _days(one.path_float_days),
        "is_critical": one.is_critical,
        "waits_for": list(one.waits_for),
        "along": list(one.along),
    }


def _on_site(one: OnSite) -> dict[str, Any]:
    return {
        "resource": one.resource,
        "name": one.name,
        "kind": one.kind,
        "unit": one.unit,
        "start": one.start.isoformat(),
        "finish": one.finish.isoformat(),
        "calendar_days": one.calendar_days,
        "stays": [
            {
                "item": stay.item,
                "start": stay.start.isoformat(),
                "finish": stay.finish.isoformat(),
                "quantity": f"{stay.quantity:f}",
            }
            for stay in one.stays
        ],
    }


def _one_more(one: OneMore) -> dict[str, Any]:
    return {
        "resource": one.resource,
        "days": _days(one.days),
        "finish": one.finish.isoformat(),
        "worth": f"{one.worth:.2f}",
        "is_proven": one.is_proven,
    }


def _days(days: float) -> str:
    """Return working days as text, to the hundredth."""
    return f"{days:.2f}"
