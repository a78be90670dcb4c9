"""`/v1/projects/{id}/draws`: opened from the books, submitted, decided, funded.

What works on the library is imported when it is first used: a service at rest stays small.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import fields
from typing import TYPE_CHECKING, Any, TypeVar
from uuid import UUID

from flask import Response
from sqlalchemy import select

from api.access.sign_in import current_caller, cursor_key
from api.contract.answers import json_answer
from api.contract.blueprint import Blueprint
from api.contract.fields import moment_text
from api.contract.lists import PageQuery, page_of
from api.contract.places import ROOT, faults_at
from api.contract.preconditions import expect_match, expected_versions, with_tag
from api.contract.services import services
from api.contract.submissions import create_row, creation
from api.draws.draw_shapes import (
    EXAMPLE_DECISION,
    EXAMPLE_DRAFT,
    EXAMPLE_FUNDING,
    DraftAnswer,
    DrawAnswer,
    DrawPage,
    DrawTraceAnswer,
    NewDecision,
    NewDrawing,
    NewFunding,
)
from api.draws.rows import DrawDraft, DrawStep, StoredDraw
from api.projects.project_routes import ONE as PROJECT
from api.projects.rows import Project
from api.store.submissions import StoredAnswer
from api.store.writing_session import WritingSession

if TYPE_CHECKING:
    from estimator.funding.draw_requests import DrawRequest

OPEN = f"{PROJECT}/draw-draft"
AT = f"{PROJECT}/draws"
ONE = f"{AT}/<uuid:draw_id>"
_Step = TypeVar("_Step", NewDecision, NewFunding)

draws = Blueprint("draws", __name__, description="Draws: frozen, decided, funded; never changed.")


@draws.post(OPEN)
@draws.takes(NewDrawing, example=EXAMPLE_DRAFT)
@draws.answers(DraftAnswer, 201)
@draws.creates
def open_draw(body: NewDrawing, project_id: UUID) -> Response:
    """Open the next draw: its figures come from the books until it is submitted."""

    def create(work: WritingSession) -> StoredAnswer:
        from api.draws.drafts import open_draft

        with faults_at(ROOT, [one.name for one in fields(NewDrawing)]):
            draft, request = open_draft(work, project_id, body)
        draft_fields = _draft_json(draft, request)
        return creation(f"/v1/projects/{project_id}/draw-draft", draft_fields, draft.version)

    return create_row(services(), current_caller(), create)


@draws.get(OPEN)
@draws.answers(DraftAnswer)
def show_open_draw(project_id: UUID) -> Response:
    """Show the open draw with its current figures, and what keeps it from being submitted."""
    from api.draws.drafts import draft_of, drafted

    with services().store.reading(current_caller()) as session:
        draft = draft_of(session, project_id)
        request = drafted(session, draft, services().now)
        draft_fields, version = _draft_json(draft, request), draft.version
    return with_tag(json_answer(draft_fields), version)


@draws.delete(OPEN)
@draws.answers(None, 204)
@draws.changes
def close_open_draw(project_id: UUID) -> Response:
    """Close the open draw without submitting it."""
    versions = expected_versions()

    def change(work: WritingSession) -> None:
        from api.draws.drafts import draft_of

        draft = draft_of(work, project_id)
        expect_match(work, draft, versions)
        work.delete(draft)

    services().store.carry_out(current_caller(), services().now, change)
    return Response(status=204)


@draws.post(AT)
@draws.answers(DrawAnswer, 201)
@draws.creates
def submit_draw(project_id: UUID) -> Response:
    """Submit the open draw: it is frozen, and its receipts count as drawn, to the cent."""

    def create(work: WritingSession) -> StoredAnswer:
        from api.draws.drafts import draft_of, drafted
        from api.draws.stored_draws import submit_draft

        draft = draft_of(work, project_id)
        return _creation(work, submit_draft(work, draft, drafted(work, draft, work.at)))

    return create_row(services(), current_caller(), create)


@draws.get(AT)
@draws.asks(PageQuery)
@draws.answers(DrawPage)
def list_draws(query: PageQuery, project_id: UUID) -> Response:
    """List submitted draws with their states, in their order."""
    from api.draws.shown_draws import head_json
    from api.draws.stored_draws import steps_of

    statement = select(StoredDraw).where(StoredDraw.project_id == project_id)
    order = (StoredDraw.number, StoredDraw.issue, StoredDraw.id)
    with services().store.reading(current_caller()) as session:
        session.existing(Project, project_id)
        page = page_of(session, statement, order, query, cursor_key())
        steps = steps_of(session, StoredDraw.id.in_([one.id for one in page.rows]))
    rows = [head_json(one, steps[one.id]) for one in page.rows]
    return json_answer({"draws": rows, "next": page.next})


@draws.get(ONE)
@draws.answers(DrawAnswer)
def show_draw(project_id: UUID, draw_id: UUID) -> Response:
    """Show a draw as it was submitted, what was granted, and what came of it."""
    from api.draws.shown_draws import draw_json

    with services().store.reading(current_caller()) as session:
        draw = session.existing(StoredDraw, draw_id, project_id=project_id)
        return json_answer(draw_json(session, draw))


@draws.get(f"{ONE}/trace")
@draws.answers(DrawTraceAnswer)
def trace_draw(project_id: UUID, draw_id: UUID) -> Response:
    """Show each dollar of a draw with the receipts behind it."""
    from api.draws.shown_draws import checked_request, draw_trace_json

    with services().store.reading(current_caller()) as session:
        request = checked_request(session.existing(StoredDraw, draw_id, project_id=project_id))
    return json_answer(draw_trace_json(request))


@draws.post(f"{ONE}/decision")
@draws.takes(NewDecision, example=EXAMPLE_DECISION)
@draws.answers(DrawAnswer, 201)
@draws.creates
def decide_draw(body: NewDecision, project_id: UUID, draw_id: UUID) -> Response:
    """Decide a draw line by line: granted, cut with a reason, or all of it returned."""
    from api.draws.stored_draws import decide

    return _step_taken(project_id, draw_id, body, decide)


@draws.post(f"{ONE}/funding")
@draws.takes(NewFunding, example=EXAMPLE_FUNDING)
@draws.answers(DrawAnswer, 201)
@draws.creates
def fund_draw(body: NewFunding, project_id: UUID, draw_id: UUID) -> Response:
    """Post what the lender paid on a granted draw: in full, short, or less fees."""
    from api.draws.stored_draws import fund

    return _step_taken(project_id, draw_id, body, fund)


def _step_taken(
    project_id: UUID,
    draw_id: UUID,
    body: _Step,
    step: Callable[[WritingSession, StoredDraw, _Step], DrawStep],
) -> Response:
    def create(work: WritingSession) -> StoredAnswer:
        draw = work.existing(StoredDraw, draw_id, project_id=project_id)
        with faults_at(ROOT, [one.name for one in fields(body)]):
            step(work, draw, body)
        return _creation(work, draw)

    return create_row(services(), current_caller(), create)


def _draft_json(draft: DrawDraft, request: DrawRequest) -> dict[str, Any]:
    from api.draws.shown_draws import draft_json

    return draft_json(request, moment_text(draft.opened_at))


def _creation(work: WritingSession, draw: StoredDraw) -> StoredAnswer:
    from api.draws.shown_draws import draw_json

    where = f"/v1/projects/{draw.project_id}/draws/{draw.id}"
    return creation(where, draw_json(work, draw))
