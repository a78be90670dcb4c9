"""`/v1/account` and `/v1/tokens`: who asks, and the keys that the owner of an account gives out."""

from __future__ import annotations

import json
from datetime import datetime, timedelta
from typing import Any
from uuid import UUID

from flask import Response, request
from sqlalchemy import and_, or_, select

from api.access.sign_in import current_caller, cursor_key
from api.access.token_shapes import (
    EXAMPLE_ISSUE,
    EXAMPLE_RENAME,
    AccountAnswer,
    IssuedToken,
    TokenAnswer,
    TokenIssue,
    TokenPage,
    TokenQuery,
    TokenRename,
)
from api.contract.answers import json_answer, json_bytes
from api.contract.blueprint import TAG_HEADER, Blueprint
from api.contract.cursors import cursor_to, place_of
from api.contract.preconditions import expect_match, expected_versions, version_tag, with_tag
from api.contract.services import services
from api.contract.submissions import created, submit
from api.store.accounts import issue_token
from api.store.columns import utc_text
from api.store.models import Account, Token
from api.store.sessions import WritingSession
from api.store.submissions import Answer

tokens = Blueprint(
    "access", __name__, description="Tokens of an account: shown once, expiring, revocable."
)


@tokens.get("/v1/account")
@tokens.answers(AccountAnswer)
def show_account() -> Response:
    """Tell which account and role the token is for."""
    caller = current_caller()
    with services().store.reading(caller) as session:
        name = session.existing(Account, caller.account_id).name
    return json_answer(
        {
            "id": str(caller.account_id),
            "name": name,
            "role": caller.role,
            "token_id": str(caller.token_id),
        }
    )


@tokens.post("/v1/tokens")
@tokens.takes(TokenIssue, example=EXAMPLE_ISSUE)
@tokens.answers(IssuedToken, 201, headers=TAG_HEADER)
@tokens.creates
def issue(asked: dict[str, Any]) -> Response:
    """Give out a new token; its text is told once."""
    parts, texts = services(), [""]
    expires_at = parts.now + timedelta(days=asked["expires_in_days"])

    def create(work: WritingSession) -> Answer:
        token, texts[0] = issue_token(work, asked["holder"], asked["role"], expires_at)
        headers = {
            "Location": f"/v1/tokens/{token.id}",
            "ETag": version_tag(token.version),
            "Content-Type": "application/json",
        }
        return Answer(201, headers, json_bytes(_told(token)))

    answer, is_replayed = submit(parts, current_caller(), create)
    response = created(answer, is_replayed=is_replayed)
    if not is_replayed:  # what is kept of the answer holds no secret
        response.set_data(json_bytes({**json.loads(answer.body), "token": texts[0]}))
    return response


@tokens.get("/v1/tokens")
@tokens.asks(TokenQuery)
@tokens.answers(TokenPage)
def list_tokens(asked: dict[str, Any]) -> Response:
    """List the tokens of the account, those that have run out and were revoked too."""
    filters = {"role": asked.get("role")}
    found = select(Token).order_by(Token.created_at, Token.id).limit(asked["limit"] + 1)
    if "role" in asked:
        found = found.where(Token.role == asked["role"])
    if "cursor" in asked:
        at, token_id = place_of(asked["cursor"], request.path, filters, cursor_key())
        found = found.where(_follows(datetime.fromisoformat(at), UUID(token_id)))
    with services().store.reading(current_caller()) as session:
        rows = session.scalars(found).all()
    shown, more = rows[: asked["limit"]], rows[asked["limit"] :]
    cursor = None
    if more:
        place = [utc_text(shown[-1].created_at), str(shown[-1].id)]
        cursor = cursor_to(place, request.path, filters, cursor_key())
    return json_answer({"tokens": [_told(row) for row in shown], "next": cursor})


@tokens.get("/v1/tokens/<uuid:token_id>")
@tokens.answers(TokenAnswer, headers=TAG_HEADER)
def show_token(token_id: UUID) -> Response:
    """Show a token, without its text."""
    with services().store.reading(current_caller()) as session:
        row = session.existing(Token, token_id)
    return with_tag(json_answer(_told(row)), row.version)


@tokens.patch("/v1/tokens/<uuid:token_id>")
@tokens.takes(TokenRename, example=EXAMPLE_RENAME)
@tokens.answers(TokenAnswer, headers=TAG_HEADER)
@tokens.changes
def rename(asked: dict[str, Any], token_id: UUID) -> Response:
    """Change who holds a token."""
    return _changed(token_id, holder=asked["holder"])


@tokens.post("/v1/tokens/<uuid:token_id>/revocation")
@tokens.answers(TokenAnswer, headers=TAG_HEADER)
@tokens.changes
def revoke(token_id: UUID) -> Response:
    """Revoke a token: from the next request on it opens nothing."""
    return _changed(token_id, revoked_at=services().now)


def _changed(token_id: UUID, **values: Any) -> Response:
    parts, versions = services(), expected_versions()

    def change(work: WritingSession) -> Token:
        row = work.existing(Token, token_id)
        expect_match(work, row, versions)
        for name, value in values.items():
            if name != "revoked_at" or row.revoked_at is None:
                setattr(row, name, value)
        return row

    row = parts.store.carry_out(current_caller(), parts.now, change)
    return with_tag(json_answer(_told(row)), row.version)


def _follows(at: datetime, token_id: UUID) -> Any:
    return or_(Token.created_at > at, and_(Token.created_at == at, Token.id > token_id))


def _told(row: Token) -> dict[str, Any]:
    told: dict[str, Any] = TokenAnswer().dump(row)
    return told
