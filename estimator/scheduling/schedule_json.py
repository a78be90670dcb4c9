"""The dates of a job as JSON."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from estimator.scheduling.job_dates import Dated, JobSchedule, OneMore


def schedule_fields(schedule: JobSchedule, ways: Sequence[OneMore] = ()) -> dict[str, Any]:
    """Return the dates of a job, and what one more of each scarce crew is worth.

    Parameters
    ----------
    schedule : JobSchedule
        From `job_schedule`.
    ways : sequence of OneMore
        From `one_more`; none where nothing is scarce.
    """
    return {
        "start": schedule.start.isoformat(),
        "finish": schedule.finish.isoformat(),
        "days": _days(schedule.days),
        "at_least_days": _days(schedule.at_least_days),
        "there": dict(schedule.there),
        "phases": [_dated(one) for one in schedule.phases],
        "items": [_dated(one) for one in schedule.items],
        "one_more": [
            {
                "resource": one.resource,
                "days": _days(one.days),
                "worth": f"{one.worth:.2f}",
                "is_proven": one.is_proven,
            }
            for one in ways
        ],
    }


def _dated(one: Dated) -> dict[str, Any]:
    return {
        "code": one.code,
        "name": one.name,
        "start": one.start.isoformat(),
        "finish": one.finish.isoformat(),
        "days": _days(one.days),
        "float_days": _days(one.float_days),
        "waits_for": list(one.waits_for),
    }


def _days(days: float) -> str:
    """Return working days as text; they are whole hundredths."""
    return f"{days:.2f}"
