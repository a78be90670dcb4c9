"""`/v1/projects/{id}/scope`: the whole scope at once, in and out: JSON, YAML, workbook."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from tempfile import TemporaryDirectory
from uuid import UUID, uuid4

from flask import Response

from api.access.rows import row_json
from api.access.sign_in import current_caller
from api.calculations.scopes import WORKBOOK_TYPE, YAML_TYPE
from api.contract.answers import attachment, json_answer
from api.contract.blueprint import FILE_SCHEMA, TAG_HEADER, Blueprint
from api.contract.bodies import takes_upload
from api.contract.preconditions import conditional, expect_tag, expected_tags
from api.contract.services import services
from api.contract.submissions import create_row, creation
from api.projects.heads import price_with, tables_for
from api.projects.project_routes import AT as PROJECTS
from api.projects.project_routes import ONE as PROJECT
from api.projects.project_shapes import ProjectAnswer
from api.projects.rows import Project
from api.projects.scope_shapes import (
    EXAMPLE_FROM_SCOPE,
    EXAMPLE_UPLOAD,
    NewScope,
    ProjectOfScope,
    ScopeAnswer,
)
from api.projects.uploads import (
    ReadyScope,
    Upload,
    project_of_upload,
    read_upload,
    replace_scope,
    upload_of_body,
    upload_of_file,
)
from api.projects.written_scope import scope_tag, section_of, written_scope
from api.store.submissions import StoredAnswer
from api.store.writing_session import WritingSession

AT = f"{PROJECT}/scope"
_YAML = {"description": "A scope file, as docs/scope-file.md describes it."}

scopes = Blueprint("scopes", __name__, description="The whole scope of a project, in one piece.")


@scopes.post(f"{PROJECTS}/from-scope")
@scopes.takes(ProjectOfScope, example=EXAMPLE_FROM_SCOPE)
@scopes.answers(ProjectAnswer, 201, headers=TAG_HEADER)
@scopes.creates
@takes_upload
def open_project_from_scope(body: ProjectOfScope) -> Response:
    """Create a project from a scope."""
    parts, caller, rate_set_id = services(), current_caller(), body.rate_set_id
    upload, ready = upload_of_body(body), list[ReadyScope]()

    def prepare() -> None:
        with parts.store.reading(caller) as session:
            price_with(session, project := Project(id=uuid4()), rate_set_id)
            ready[:] = [read_upload(session, project, upload)]

    def create(work: WritingSession) -> StoredAnswer:
        project = project_of_upload(work, ready[0], rate_set_id)
        project_json = row_json(ProjectAnswer, project)
        return creation(f"{PROJECTS}/{project.id}", project_json, project.version)

    return create_row(parts, caller, create, prepare)


@scopes.put(AT)
@scopes.takes(NewScope, example=EXAMPLE_UPLOAD)
@scopes.answers(ProjectAnswer, headers=TAG_HEADER)
@scopes.changes_whole
@takes_upload
def send_scope(body: NewScope, project_id: UUID) -> Response:
    """Replace all of a project with a scope, in the form that reading it returns.

    Phases and items are matched by code: what keeps its code keeps its id. Send the tag of the
    scope as you read it, so that nothing somebody else added since is dropped.
    """
    return _replaced(project_id, lambda: upload_of_body(body))


@scopes.put(f"{AT}-file")
@scopes.takes_file([YAML_TYPE])
@scopes.answers(ProjectAnswer, headers=TAG_HEADER)
@scopes.changes_whole
@takes_upload
def send_scope_file(project_id: UUID) -> Response:
    """Replace all of a project with the scope of a YAML file."""
    return _replaced(project_id, lambda: upload_of_file(YAML_TYPE))


@scopes.put(f"{AT}-workbook")
@scopes.takes_file([WORKBOOK_TYPE])
@scopes.answers(ProjectAnswer, headers=TAG_HEADER)
@scopes.changes_whole
@takes_upload
def send_scope_workbook(project_id: UUID) -> Response:
    """Replace all of a project with the scope of a workbook."""
    return _replaced(project_id, lambda: upload_of_file(WORKBOOK_TYPE))


@scopes.get(AT)
@scopes.answers(ScopeAnswer, headers=TAG_HEADER)
def show_scope(project_id: UUID) -> Response:
    """Show the whole scope, with the keys of a scope file; empty phases are left out."""
    with services().store.reading(current_caller()) as session:
        project = session.existing(Project, project_id)
        written, tag = written_scope(session, project), scope_tag(session, project)
    return _tagged(json_answer({"scope": written}), tag)


@scopes.get(f"{AT}-file")
@scopes.answers(_YAML, content_type=YAML_TYPE, headers=TAG_HEADER)
def show_scope_file(project_id: UUID) -> Response:
    """Download the scope as a YAML file for `groundsill price`."""
    from estimator.scope.scope_text import scope_text

    with services().store.reading(current_caller()) as session:
        project = session.existing(Project, project_id)
        written, tag = written_scope(session, project), scope_tag(session, project)
    answer = _file(scope_text(written).encode(), YAML_TYPE, project.name, ".yaml")
    return _tagged(answer, tag)


@scopes.get(f"{AT}-workbook")
@scopes.answers(FILE_SCHEMA, content_type=WORKBOOK_TYPE, headers=TAG_HEADER)
def show_scope_workbook(project_id: UUID) -> Response:
    """Download the scope as a workbook; methods and ranges are on its sheet Details."""
    from estimator.workbook.scope.scope_template import write_scope

    with services().store.reading(current_caller()) as session:
        project = session.existing(Project, project_id)
        written, tables = written_scope(session, project), tables_for(session, project)
        tag = scope_tag(session, project)
    with TemporaryDirectory() as folder:
        path = Path(folder) / "scope.xlsx"
        write_scope(section_of(written), tables, path)
        content = path.read_bytes()
    return _tagged(_file(content, WORKBOOK_TYPE, project.name, ".xlsx"), tag)


def _replaced(project_id: UUID, read: Callable[[], Upload]) -> Response:
    """Answer with the project after a scope took the place of its own.

    What was sent is read once there is a project to put it in.
    """
    parts, caller, tags = services(), current_caller(), expected_tags()
    with parts.store.reading(caller) as session:
        session.existing(Project, project_id)
    upload, ready = read(), list[ReadyScope]()

    def prepare() -> None:
        with parts.store.reading(caller) as session:
            project = session.existing(Project, project_id)
            expect_tag(scope_tag(session, project), tags, "the scope")
            ready[:] = [read_upload(session, project, upload)]

    def change(work: WritingSession) -> tuple[Project, str]:
        project = work.existing(Project, project_id)
        expect_tag(scope_tag(work, project), tags, "the scope")
        replace_scope(work, project, ready[0])
        work.flush()
        return project, scope_tag(work, project)

    project, tag = parts.store.carry_out(caller, parts.now, change, prepare)
    return _tagged(json_answer(row_json(ProjectAnswer, project)), tag)


def _tagged(answer: Response, tag: str) -> Response:
    answer.headers["ETag"] = tag
    return conditional(answer)


def _file(content: bytes, kind: str, name: str, ending: str) -> Response:
    headers = {"Content-Disposition": attachment(name, ending)}
    return Response(content, content_type=kind, headers=headers)
