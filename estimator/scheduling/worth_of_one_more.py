"""What one more of a crew or machine is worth, in days and dollars."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from estimator.pricing.estimate import Estimate
from estimator.scheduling.job_dates import JobSchedule, job_schedule
from estimator.scheduling.scarce_crews import USUAL_EFFORT
from estimator.scheduling.worked_days import UNITS_A_DAY


@dataclass(frozen=True)
class OneMore:
    """What one more of a crew or machine is worth.

    Parameters
    ----------
    resource : str
        One more of this.
    days : float
        [working day] By which the job ends sooner.
    finish : date
        The last day of work then.
    worth : float
        [$] At the worth of a day that the scope states; what the one more costs is not in it.
    is_proven : bool
        Whether no order ends sooner, with and without the one more; else both are the best found.
    """

    resource: str
    days: float
    finish: date
    worth: float
    is_proven: bool


def one_more(
    estimate: Estimate, schedule: JobSchedule, effort: float = USUAL_EFFORT
) -> list[OneMore]:
    """Return what one more of each scarce resource is worth, the most days first.

    Parameters
    ----------
    estimate : Estimate
        As for `job_schedule`.
    schedule : JobSchedule
        Of it, with the crews that there are.
    effort : float
        As of `shortest_order`, for each.
    """
    worth = estimate.scope.day_worth
    day_worth = worth.base_value if worth else 0.0
    ways = [_one_more(estimate, schedule, one, day_worth, effort) for one in schedule.there]
    return sorted(ways, key=lambda one: -one.days)


def _one_more(
    estimate: Estimate, now: JobSchedule, resource: str, day_worth: float, effort: float
) -> OneMore:
    if now.days <= now.path_days:  # no order ends sooner than the longest path
        return OneMore(resource, 0.0, now.finish, 0.0, is_proven=True)
    there = {**now.there, resource: now.there[resource] + 1}
    then = job_schedule(estimate, now.calendar, now.start, there, effort)
    if then.days >= now.days:  # what was found before can still be done
        return OneMore(resource, 0.0, now.finish, 0.0, now.is_shortest and then.is_shortest)
    days = round((now.days - then.days) * UNITS_A_DAY) / UNITS_A_DAY
    is_proven = now.is_shortest and then.is_shortest
    return OneMore(resource, days, then.finish, days * day_worth, is_proven)
