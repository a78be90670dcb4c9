"""`.../estimates/.../comparisons` and `.../ranges`: studies of an estimate, stored."""

from __future__ import annotations

from typing import TYPE_CHECKING
from uuid import UUID

from flask import Response
from sqlalchemy import select

from api.access.sign_in import current_caller, cursor_key
from api.calculations.scope_shapes import (
    DatesToShow,
    DatesToWorkOut,
    MethodsToCompare,
    RangesToDraw,
    ScheduleAnswer,
)
from api.calculations.scopes import stated_times
from api.calculations.studies import ANY_FILE, schedule_shown, schedule_text
from api.contract.answers import attachment, json_answer
from api.contract.blueprint import Blueprint
from api.contract.lists import PageQuery, page_of
from api.contract.services import services
from api.estimates.estimate_routes import ONE
from api.estimates.made_again import estimate_again
from api.estimates.rows import COMPARISON, RANGES, EstimateStudy, StoredEstimate
from api.estimates.shown import check_states
from api.estimates.studies import study, study_json
from api.estimates.study_shapes import (
    EXAMPLE_COMPARISON,
    EXAMPLE_RANGES,
    EXAMPLE_SCHEDULE,
    EXAMPLE_SCHEDULE_FILE,
    StudyAnswer,
    StudyPage,
)

if TYPE_CHECKING:
    from estimator.pricing.estimate import Estimate

studies = Blueprint(
    "studies",
    __name__,
    description="Method comparisons and cost ranges of a stored estimate.",
)


@studies.post(f"{ONE}/comparisons")
@studies.takes(MethodsToCompare, example=EXAMPLE_COMPARISON)
@studies.answers(StudyAnswer, 201)
@studies.creates
def compare_methods_of_estimate(
    body: MethodsToCompare, project_id: UUID, estimate_id: UUID
) -> Response:
    """Compare the methods of an item, and store the comparison."""
    return study(services(), current_caller(), project_id, estimate_id, body)


@studies.get(f"{ONE}/comparisons")
@studies.asks(PageQuery)
@studies.answers(StudyPage)
def list_comparisons(query: PageQuery, project_id: UUID, estimate_id: UUID) -> Response:
    """List the comparisons of an estimate, newest first."""
    return _page(query, project_id, estimate_id, COMPARISON)


@studies.get(f"{ONE}/comparisons/<uuid:study_id>")
@studies.answers(StudyAnswer)
def show_comparison(project_id: UUID, estimate_id: UUID, study_id: UUID) -> Response:
    """Show a stored comparison."""
    return _one(project_id, estimate_id, study_id, COMPARISON)


@studies.post(f"{ONE}/ranges")
@studies.takes(RangesToDraw, example=EXAMPLE_RANGES)
@studies.answers(StudyAnswer, 201)
@studies.creates
def draw_ranges_of_estimate(body: RangesToDraw, project_id: UUID, estimate_id: UUID) -> Response:
    """Work out cost range, contingency and dates, and store them."""
    return study(services(), current_caller(), project_id, estimate_id, body)


@studies.get(f"{ONE}/ranges")
@studies.asks(PageQuery)
@studies.answers(StudyPage)
def list_ranges(query: PageQuery, project_id: UUID, estimate_id: UUID) -> Response:
    """List the stored cost ranges of an estimate, newest first."""
    return _page(query, project_id, estimate_id, RANGES)


@studies.get(f"{ONE}/ranges/<uuid:study_id>")
@studies.answers(StudyAnswer)
def show_ranges(project_id: UUID, estimate_id: UUID, study_id: UUID) -> Response:
    """Show a stored cost range."""
    return _one(project_id, estimate_id, study_id, RANGES)


@studies.post(f"{ONE}/schedule")
@studies.takes(DatesToWorkOut, example=EXAMPLE_SCHEDULE)
@studies.answers(ScheduleAnswer)
def schedule_estimate(body: DatesToWorkOut, project_id: UUID, estimate_id: UUID) -> Response:
    """Work out the dates of a stored estimate, from its own scope and rates; nothing is stored."""
    estimate = _at_times(project_id, estimate_id, body)
    return Response(schedule_text(estimate, body).encode(), content_type="application/json")


@studies.post(f"{ONE}/schedule-file")
@studies.takes(DatesToShow, example=EXAMPLE_SCHEDULE_FILE)
@studies.answers({"type": "string", "format": "binary"}, content_type=ANY_FILE)
def show_schedule_of_estimate(body: DatesToShow, project_id: UUID, estimate_id: UUID) -> Response:
    """Work out the dates of an estimate and return a file that shows them."""
    estimate = _at_times(project_id, estimate_id, body)
    headers = {"Content-Disposition": attachment(estimate.scope.project, f".{body.form}")}
    return Response(schedule_shown(estimate, body), content_type=ANY_FILE, headers=headers)


def _at_times(project_id: UUID, estimate_id: UUID, body: DatesToWorkOut) -> Estimate:
    """Return an estimate as it was made, or priced with what a body puts before its times."""
    times = stated_times(body)
    return estimate_again(services(), current_caller(), project_id, estimate_id, times)


def _page(query: PageQuery, project_id: UUID, estimate_id: UUID, kind: str) -> Response:
    statement = select(EstimateStudy).where(
        EstimateStudy.estimate_id == estimate_id, EstimateStudy.kind == kind
    )
    with services().store.reading(current_caller()) as session:
        session.existing(StoredEstimate, estimate_id, project_id=project_id)
        page = page_of(
            session, statement, (EstimateStudy.number,), query, cursor_key(), is_newest_first=True
        )
        check_states(session, page.rows)
    studies = [study_json(row, is_whole=False) for row in page.rows]
    return json_answer({"studies": studies, "next": page.next})


def _one(project_id: UUID, estimate_id: UUID, study_id: UUID, kind: str) -> Response:
    with services().store.reading(current_caller()) as session:
        row = session.existing(
            EstimateStudy, study_id, project_id=project_id, estimate_id=estimate_id, kind=kind
        )
        check_states(session, [row])
    return json_answer(study_json(row))
