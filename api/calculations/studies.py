"""Studies within the limits of a request: the methods of an item compared, a cost range drawn."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from api.calculations.scope_shapes import (
    DatesToShow,
    DatesToWorkOut,
    MethodsToCompare,
    RangesToDraw,
    ScopeToShow,
)
from api.calculations.size_limits import (
    MOST_EFFORT,
    check_comparison_size,
    check_ranges_size,
    check_schedule_size,
)

if TYPE_CHECKING:
    from estimator.assemblies.tables import Tables
    from estimator.pricing.estimate import Estimate
    from estimator.scheduling.job_dates import JobSchedule
    from estimator.scope.scope import Scope
    from estimator.studies.risk.job_risk import JobRisk

ANY_FILE = "application/octet-stream"


def comparison_text(scope: Scope, tables: Tables, on: date, body: MethodsToCompare) -> str:
    """Return the comparison of the methods of an item, as `groundsill compare --json` prints it.

    Raises
    ------
    BodyTooLarge, ScopeFaulty
        If it would take too long, or there is nothing to compare.
    """
    from estimator.studies.comparison.changing_course import course_so_far
    from estimator.studies.comparison.comparison import compare
    from estimator.studies.comparison.comparison_json import comparison_json
    from estimator.studies.comparison.findings import Variation, findings_of

    check_comparison_size(scope, body.item)
    varied = tuple(Variation(one.name, one.low, one.high) for one in body.vary)
    compared = compare(scope, tables, on, body.item, body.day_worth)
    placed = body.placed
    course = course_so_far(compared, placed.quantity, placed.by, placed.switch) if placed else None
    return comparison_json(compared, findings_of(compared, varied, course))


def schedule_text(estimate: Estimate, body: DatesToWorkOut) -> str:
    """Return the dates of a job, as `groundsill schedule --json` prints them.

    Raises
    ------
    BodyTooLarge, PhaseOrderFaulty
        If it would take too long, or an item needs more than there is.
    """
    from estimator.pricing.indented_json import indented_json
    from estimator.scheduling.schedule_json import schedule_fields
    from estimator.scheduling.worth_of_one_more import one_more

    dates, effort = _dates(estimate, body)
    ways = one_more(estimate, dates, effort)
    return indented_json(schedule_fields(estimate, dates, ways))


def schedule_shown(estimate: Estimate, body: ScopeToShow | DatesToShow) -> bytes:
    """Return a file that shows the dates of a job, as `groundsill schedule` writes it.

    Raises
    ------
    BodyTooLarge, PhaseOrderFaulty
        As of `schedule_text`.
    CalendarFaulty
        If the two weeks are on no calendar.
    """
    from api.calculations.schedule_files import schedule_file

    dates, _ = _dates(estimate, body)
    return schedule_file(estimate, dates, f".{body.form}", body.first)


def _dates(estimate: Estimate, body: DatesToWorkOut) -> tuple[JobSchedule, float]:
    """Return the dates of a job, and the effort that each search for an order may take."""
    from estimator.scheduling.job_dates import job_schedule

    there = {**estimate.scope.crew, **(body.crew or {})}
    check_schedule_size(estimate.scope, there)
    effort = MOST_EFFORT / (1 + len(there))
    return job_schedule(estimate, start=body.start, there=there, effort=effort), effort


def drawn_risk(estimate: Estimate, body: RangesToDraw) -> JobRisk:
    """Return how sure an estimate is.

    Raises
    ------
    BodyTooLarge
        If it would take too long.
    """
    from estimator.money import to_cents
    from estimator.studies.risk.job_risk import job_risk

    check_ranges_size(estimate.scope, body.iterations)
    budget = None if body.budget is None else to_cents(body.budget)
    return job_risk(
        estimate, float(body.confidence), body.seed, body.iterations, budget_cents=budget
    )
