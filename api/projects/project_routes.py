"""`/v1/projects`: a building's job, the head of its scope."""

from __future__ import annotations

from uuid import UUID

from flask import Response
from sqlalchemy import select

from api.access.rows import change_one, create_one, list_page, remove_one, show_one
from api.access.sign_in import current_caller
from api.contract.blueprint import TAG_HEADER, Blueprint
from api.contract.lists import PageQuery
from api.projects.heads import change_head, create_project, delete_project
from api.projects.project_shapes import (
    EXAMPLE_CHANGE,
    EXAMPLE_PROJECT,
    NewProject,
    ProjectAnswer,
    ProjectChange,
    ProjectOfCrew,
    ProjectPage,
)
from api.projects.rows import Project

AT = "/v1/projects"
ONE = f"{AT}/<uuid:project_id>"

projects = Blueprint("projects", __name__, description="Projects: name, dates and settings.")


@projects.post(AT)
@projects.takes(NewProject, example=EXAMPLE_PROJECT)
@projects.answers(ProjectAnswer, 201, headers=TAG_HEADER)
@projects.creates
def open_project(body: NewProject) -> Response:
    """Create an empty project."""
    return create_one(ProjectAnswer, lambda work: create_project(work, body))


@projects.get(AT)
@projects.asks(PageQuery)
@projects.answers(ProjectPage)
def list_projects(query: PageQuery) -> Response:
    """List projects, newest first."""
    order = (Project.created_at, Project.id)
    return list_page("projects", _shape(), select(Project), order, query, is_newest_first=True)


@projects.get(ONE)
@projects.answers(ProjectAnswer, headers=TAG_HEADER)
def show_project(project_id: UUID) -> Response:
    """Show a project."""
    return show_one(_shape(), Project, project_id)


def _shape() -> type[ProjectAnswer]:
    return ProjectOfCrew if current_caller().is_crew else ProjectAnswer


@projects.patch(ONE)
@projects.takes(ProjectChange, example=EXAMPLE_CHANGE)
@projects.answers(ProjectAnswer, headers=TAG_HEADER)
@projects.changes
def change_project(body: ProjectChange, project_id: UUID) -> Response:
    """Change the settings of a project; fields left out stay as they are."""
    return change_one(
        ProjectAnswer, Project, project_id, lambda work, project: change_head(work, project, body)
    )


@projects.delete(ONE)
@projects.answers(None, 204)
@projects.changes
def remove_project(project_id: UUID) -> Response:
    """Delete a project and everything in it, as long as it has no stored estimate."""
    return remove_one(Project, project_id, delete_project)
