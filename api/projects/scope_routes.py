"""`/v1/projects/{id}/scope`: the whole scope at once, in and out: JSON, YAML, workbook."""

from __future__ import annotations

from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any
from uuid import UUID

from flask import Response

from api.access.sign_in import current_caller
from api.calculations.scopes import FILE_TYPES, WORKBOOK_TYPE, YAML_TYPE
from api.contract.answers import attachment, json_answer
from api.contract.blueprint import FILE_SCHEMA, TAG_HEADER, Blueprint
from api.contract.bodies import JSON_TYPE, takes_upload
from api.contract.preconditions import conditional, expect_tag, expected_tags
from api.contract.services import services
from api.contract.submissions import create_row
from api.projects.heads import tables_for
from api.projects.project_routes import AT as PROJECTS
from api.projects.project_routes import ONE as PROJECT
from api.projects.project_routes import created_project, told
from api.projects.project_shapes import ProjectAnswer
from api.projects.rows import Project
from api.projects.scope_shapes import (
    EXAMPLE_FROM_SCOPE,
    EXAMPLE_UPLOAD,
    ProjectFromScope,
    ScopeAnswer,
    ScopeUpload,
)
from api.projects.uploads import project_of_upload, replace_scope, upload_of_body
from api.projects.written_scope import scope_tag, section_of, written_scope
from api.store.sessions import WritingSession
from api.store.submissions import Answer

AT = f"{PROJECT}/scope"
_BODY = {
    JSON_TYPE: {"schema": ScopeUpload, "example": EXAMPLE_UPLOAD},
    **{one: {"schema": FILE_SCHEMA} for one in FILE_TYPES},
}

_YAML = {"description": "A scope file, as docs/scope-file.md describes it."}

scopes = Blueprint("scopes", __name__, description="The whole scope of a project, in and out.")


@scopes.post(f"{PROJECTS}/from-scope")
@scopes.takes(ProjectFromScope, example=EXAMPLE_FROM_SCOPE)
@scopes.answers(ProjectAnswer, 201, headers=TAG_HEADER)
@scopes.creates
@takes_upload
def open_project_from_scope(asked: dict[str, Any]) -> Response:
    """Begin a project with all that a scope says."""

    def create(work: WritingSession) -> Answer:
        return created_project(project_of_upload(work, asked))

    return create_row(services(), current_caller(), create)


@scopes.put(AT)
@scopes.takes_any(_BODY)
@scopes.answers(ProjectAnswer, headers=TAG_HEADER)
@scopes.changes_whole
@takes_upload
def send_scope(project_id: UUID) -> Response:
    """Put a scope in the place of all that a project says: JSON, YAML or a workbook.

    Phases and items are matched by their codes: what keeps its code keeps its id. The tag is that
    of the scope as it was read, so nothing that somebody added since is dropped.
    """
    parts, tags, upload = services(), expected_tags(), upload_of_body()

    def change(work: WritingSession) -> tuple[Project, str]:
        project = work.existing(Project, project_id)
        expect_tag(scope_tag(work, project), tags, "the scope")
        replace_scope(work, project, upload)
        work.flush()
        return project, scope_tag(work, project)

    project, tag = parts.store.carry_out(current_caller(), parts.now, change)
    return _tagged(json_answer(told(project)), tag)


@scopes.get(AT)
@scopes.answers(ScopeAnswer, headers=TAG_HEADER)
def show_scope(project_id: UUID) -> Response:
    """Show the whole scope, with the keys of a scope file; phases without items are left out."""
    with services().store.reading(current_caller()) as session:
        project = session.existing(Project, project_id)
        written, tag = written_scope(session, project), scope_tag(session, project)
    return _tagged(json_answer({"scope": written}), tag)


@scopes.get(f"{AT}-file")
@scopes.answers(_YAML, content_type=YAML_TYPE)
def show_scope_file(project_id: UUID) -> Response:
    """Send the whole scope as a YAML file, which `groundsill price` takes."""
    from estimator.scope.scope_text import scope_text

    with services().store.reading(current_caller()) as session:
        written = written_scope(session, session.existing(Project, project_id))
    return _file(scope_text(written).encode(), YAML_TYPE, written["project"], ".yaml")


@scopes.get(f"{AT}-workbook")
@scopes.answers(FILE_SCHEMA, content_type=WORKBOOK_TYPE)
def show_scope_workbook(project_id: UUID) -> Response:
    """Send the whole scope as a workbook; methods, risk and plans have no place in one."""
    from estimator.workbook.scope.scope_template import write_scope

    with services().store.reading(current_caller()) as session:
        project = session.existing(Project, project_id)
        written, tables = written_scope(session, project), tables_for(session, project)
    with TemporaryDirectory() as folder:
        path = Path(folder) / "scope.xlsx"
        write_scope(section_of(written), tables, path)
        content = path.read_bytes()
    return _file(content, WORKBOOK_TYPE, project.name, ".xlsx")


def _tagged(answer: Response, tag: str) -> Response:
    answer.headers["ETag"] = tag
    return conditional(answer)


def _file(content: bytes, kind: str, name: str, ending: str) -> Response:
    headers = {"Content-Disposition": attachment(name, ending)}
    return Response(content, content_type=kind, headers=headers)
