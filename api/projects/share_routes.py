"""`/v1/projects/{id}/shares`: which lenders and crews see a project."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from flask import Response
from sqlalchemy import select

from api.access.rows import row_json
from api.access.sign_in import current_caller, cursor_key
from api.contract.answers import json_answer
from api.contract.blueprint import Blueprint
from api.contract.errors import FieldsFaulty
from api.contract.lists import PageQuery, page_of
from api.contract.places import pointer
from api.contract.services import services
from api.contract.submissions import create_row, creation
from api.projects.heads import expect_named
from api.projects.project_routes import ONE
from api.projects.rows import Project
from api.projects.share_shapes import EXAMPLE_SHARE, NewShare, ShareAnswer, SharePage
from api.store.models import ProjectShare, Token
from api.store.models.access import CREW, LENDER
from api.store.submissions import StoredAnswer
from api.store.writing_session import WritingSession
from estimator.errors import fault

AT = f"{ONE}/shares"

shares = Blueprint("shares", __name__, description="Which lenders and crews see a project.")


@shares.post(AT)
@shares.takes(NewShare, example=EXAMPLE_SHARE)
@shares.answers(ShareAnswer, 201)
@shares.creates
def share_project(body: NewShare, project_id: UUID) -> Response:
    """Share a project with a lender or a crew, by the id of their token."""

    def create(work: WritingSession) -> StoredAnswer:
        project = work.existing(Project, project_id)
        token = _shareable_token(work, body.token_id)
        row = ProjectShare(project_id=project.id, token_id=token.id, created_at=work.at)
        work.add(row)
        return creation(f"/v1/projects/{project.id}/shares/{row.id}", _share_json(row, token))

    return create_row(services(), current_caller(), create)


@shares.get(AT)
@shares.asks(PageQuery)
@shares.answers(SharePage)
def list_shares(query: PageQuery, project_id: UUID) -> Response:
    """List the shares of a project, oldest first."""
    statement = select(ProjectShare).where(ProjectShare.project_id == project_id)
    order = (ProjectShare.created_at, ProjectShare.id)
    with services().store.reading(current_caller()) as session:
        session.existing(Project, project_id)
        page = page_of(session, statement, order, query, cursor_key())
        named = select(Token).where(Token.id.in_([row.token_id for row in page.rows]))
        tokens = {token.id: token for token in session.scalars(named)}
    entries = [_share_json(row, tokens[row.token_id]) for row in page.rows]
    return json_answer({"shares": entries, "next": page.next})


@shares.get(f"{AT}/<uuid:share_id>")
@shares.answers(ShareAnswer)
def show_share(project_id: UUID, share_id: UUID) -> Response:
    """Show a share."""
    with services().store.reading(current_caller()) as session:
        row = session.existing(ProjectShare, share_id, project_id=project_id)
        token = session.existing(Token, row.token_id)
    return json_answer(_share_json(row, token))


@shares.delete(f"{AT}/<uuid:share_id>")
@shares.answers(None, 204)
def end_share(project_id: UUID, share_id: UUID) -> Response:
    """End a share: its holder no longer sees the project."""

    def change(work: WritingSession) -> None:
        work.delete(work.existing(ProjectShare, share_id, project_id=project_id))

    services().store.carry_out(current_caller(), services().now, change)
    return Response(status=204)


def _shareable_token(work: WritingSession, token_id: UUID) -> Token:
    """Return a token that a project can be shared with."""
    token: Token = expect_named(work, Token, token_id, "token_id")
    if token.role not in (CREW, LENDER):
        what, remedy = (
            f"the role of the token is {token.role}",
            "a project is shared with lenders and crews",
        )
    elif token.revoked_at is not None or token.expires_at <= work.at:
        what, remedy = "the token opens nothing any more", "issue another"
    else:
        return token
    raise fault(FieldsFaulty, what, remedy, pointer("token_id"))


def _share_json(row: ProjectShare, token: Token) -> dict[str, Any]:
    return row_json(ShareAnswer, row) | {"holder": token.holder}
