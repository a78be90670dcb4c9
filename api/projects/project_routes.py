"""`/v1/projects`: a building's job, the head of its scope."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from flask import Response
from sqlalchemy import select

from api.access.sign_in import current_caller, cursor_key
from api.contract.answers import json_answer
from api.contract.blueprint import TAG_HEADER, Blueprint
from api.contract.lists import PageQuery, page_of
from api.contract.preconditions import change_row, with_tag
from api.contract.services import services
from api.contract.submissions import create_row, creation
from api.projects.heads import change_head, create_project, delete_project
from api.projects.project_shapes import (
    EXAMPLE_CHANGE,
    EXAMPLE_PROJECT,
    NewProject,
    ProjectAnswer,
    ProjectChange,
    ProjectPage,
)
from api.projects.rows import Project
from api.store.sessions import WritingSession
from api.store.submissions import StoredAnswer

AT = "/v1/projects"
ONE = f"{AT}/<uuid:project_id>"

projects = Blueprint("projects", __name__, description="Projects: name, dates and settings.")


@projects.post(AT)
@projects.takes(NewProject, example=EXAMPLE_PROJECT)
@projects.answers(ProjectAnswer, 201, headers=TAG_HEADER)
@projects.creates
def open_project(body: NewProject) -> Response:
    """Create an empty project."""

    def create(work: WritingSession) -> StoredAnswer:
        return created_project(create_project(work, body))

    return create_row(services(), current_caller(), create)


@projects.get(AT)
@projects.asks(PageQuery)
@projects.answers(ProjectPage)
def list_projects(query: PageQuery) -> Response:
    """List projects, newest first."""
    order = (Project.created_at, Project.id)
    with services().store.reading(current_caller()) as session:
        page = page_of(
            session, select(Project), order, query, cursor_key(), is_newest_first=True
        )  # fmt: skip
    return json_answer({"projects": [project_json(row) for row in page.rows], "next": page.next})


@projects.get(ONE)
@projects.answers(ProjectAnswer, headers=TAG_HEADER)
def show_project(project_id: UUID) -> Response:
    """Show a project."""
    with services().store.reading(current_caller()) as session:
        row = session.existing(Project, project_id)
    return with_tag(json_answer(project_json(row)), row.version)


@projects.patch(ONE)
@projects.takes(ProjectChange, example=EXAMPLE_CHANGE)
@projects.answers(ProjectAnswer, headers=TAG_HEADER)
@projects.changes
def change_project(body: ProjectChange, project_id: UUID) -> Response:
    """Change the settings of a project; fields left out stay as they are."""

    def change(work: WritingSession, project: Project) -> None:
        change_head(work, project, body)

    row = change_row(services(), current_caller(), Project, project_id, change)
    return with_tag(json_answer(project_json(row)), row.version)


@projects.delete(ONE)
@projects.answers(None, 204)
@projects.changes
def remove_project(project_id: UUID) -> Response:
    """Delete a project and everything in it, as long as it has no stored estimate."""
    change_row(services(), current_caller(), Project, project_id, delete_project)
    return Response(status=204)


def project_json(row: Project) -> dict[str, Any]:
    """Return a project as JSON."""
    fields: dict[str, Any] = ProjectAnswer().dump(row)
    return fields


def created_project(row: Project) -> StoredAnswer:
    """Return the answer to a request that has created a project."""
    return creation(f"{AT}/{row.id}", project_json(row), row.version)
