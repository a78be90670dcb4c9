"""`/v1/projects/{id}/phases`: the stages of a project, and their order."""

from __future__ import annotations

from uuid import UUID

from flask import Response
from sqlalchemy import select

from api.access.rows import change_one, create_one, list_page, remove_one, show_one
from api.access.sign_in import current_caller
from api.contract.answers import json_answer
from api.contract.blueprint import TAG_HEADER, Blueprint
from api.contract.lists import PageQuery
from api.contract.services import services
from api.projects.phase_shapes import (
    EXAMPLE_CHANGE,
    EXAMPLE_ORDER,
    EXAMPLE_PHASE,
    NewPhase,
    PhaseAnswer,
    PhaseChange,
    PhaseOrder,
    PhasePage,
    PhasesAnswer,
)
from api.projects.phases import add_phase, change_phase, delete_phase
from api.projects.project_routes import ONE as PROJECT
from api.projects.rows import Project, ProjectPhase
from api.projects.sequence import put_in_order
from api.projects.written_scope import phases_in_order
from api.store.writing_session import WritingSession

AT = f"{PROJECT}/phases"
ONE = f"{AT}/<uuid:phase_id>"

phases = Blueprint("phases", __name__, description="Stages of a project, in order.")


@phases.post(AT)
@phases.takes(NewPhase, example=EXAMPLE_PHASE)
@phases.answers(PhaseAnswer, 201, headers=TAG_HEADER)
@phases.creates
def open_phase(body: NewPhase, project_id: UUID) -> Response:
    """Add a phase at the end."""
    return create_one(
        PhaseAnswer, lambda work: add_phase(work, work.existing(Project, project_id), body)
    )


@phases.get(AT)
@phases.asks(PageQuery)
@phases.answers(PhasePage)
def list_phases(query: PageQuery, project_id: UUID) -> Response:
    """List the phases of a project in their order."""
    statement = select(ProjectPhase).where(ProjectPhase.project_id == project_id)
    order = (ProjectPhase.position, ProjectPhase.id)
    return list_page(
        "phases", PhaseAnswer, statement, order, query,
        within=lambda session: session.existing(Project, project_id),
    )  # fmt: skip


@phases.put(f"{AT}/order")
@phases.takes(PhaseOrder, example=EXAMPLE_ORDER)
@phases.answers(PhasesAnswer)
def order_phases(body: PhaseOrder, project_id: UUID) -> Response:
    """Reorder the phases of a project; name each with its version."""

    def change(work: WritingSession) -> list[ProjectPhase]:
        rows = list(phases_in_order(work, work.existing(Project, project_id)))
        return put_in_order(work, rows, body.phases, "phases")

    rows = services().store.carry_out(current_caller(), services().now, change)
    return json_answer({"phases": PhaseAnswer(many=True).dump(rows)})


@phases.get(ONE)
@phases.answers(PhaseAnswer, headers=TAG_HEADER)
def show_phase(project_id: UUID, phase_id: UUID) -> Response:
    """Show a phase."""
    return show_one(PhaseAnswer, ProjectPhase, phase_id, project_id=project_id)


@phases.patch(ONE)
@phases.takes(PhaseChange, example=EXAMPLE_CHANGE)
@phases.answers(PhaseAnswer, headers=TAG_HEADER)
@phases.changes
def alter_phase(body: PhaseChange, project_id: UUID, phase_id: UUID) -> Response:
    """Change a phase; fields left out stay as they are."""

    def change(work: WritingSession, phase: ProjectPhase) -> None:
        change_phase(work, phase, body)

    return change_one(PhaseAnswer, ProjectPhase, phase_id, change, project_id=project_id)


@phases.delete(ONE)
@phases.answers(None, 204)
@phases.changes
def remove_phase(project_id: UUID, phase_id: UUID) -> Response:
    """Delete a phase with its items, unless an accepted estimate has one of them."""
    return remove_one(ProjectPhase, phase_id, delete_phase, project_id=project_id)
