"""`/v1/account` and `/v1/tokens`: who asks, and the keys that the owner of an account gives out."""

from __future__ import annotations

import json
from datetime import timedelta
from uuid import UUID

from flask import Response
from sqlalchemy import select

from api.access.rows import change_one, list_page, row_json, show_one
from api.access.sign_in import current_caller
from api.access.token_shapes import (
    EXAMPLE_ISSUE,
    EXAMPLE_RENAME,
    AccountAnswer,
    IssuedToken,
    NewToken,
    TokenAnswer,
    TokenChange,
    TokenPage,
    TokenQuery,
)
from api.contract.answers import json_answer, json_bytes
from api.contract.blueprint import TAG_HEADER, Blueprint
from api.contract.services import services
from api.contract.submissions import created_answer, creation, submit
from api.store.accounts import issue_token
from api.store.models import Account, Token
from api.store.submissions import StoredAnswer
from api.store.writing_session import WritingSession

tokens = Blueprint(
    "access", __name__, description="Account tokens: shown once; they expire and can be revoked."
)


@tokens.get("/v1/account")
@tokens.answers(AccountAnswer)
def show_account() -> Response:
    """Show the account and role of this token."""
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
@tokens.takes(NewToken, example=EXAMPLE_ISSUE)
@tokens.answers(IssuedToken, 201, headers=TAG_HEADER)
@tokens.creates
def issue(body: NewToken) -> Response:
    """Create a token; its text is shown only once."""
    parts, texts = services(), [""]
    expires_at = parts.now + timedelta(days=body.expires_in_days)

    def create(work: WritingSession) -> StoredAnswer:
        token, texts[0] = issue_token(work, body.holder, body.role, expires_at)
        return creation(f"/v1/tokens/{token.id}", row_json(TokenAnswer, token), token.version)

    answer, is_replayed = submit(parts, current_caller(), create)
    response = created_answer(answer, is_replayed=is_replayed)
    if not is_replayed:  # the stored answer holds no secret
        response.set_data(json_bytes({**json.loads(answer.body), "token": texts[0]}))
    return response


@tokens.get("/v1/tokens")
@tokens.asks(TokenQuery)
@tokens.answers(TokenPage)
def list_tokens(query: TokenQuery) -> Response:
    """List the tokens of the account, including expired and revoked ones."""
    statement = select(Token)
    if query.role is not None:
        statement = statement.where(Token.role == query.role)
    order = (Token.created_at, Token.id)
    return list_page("tokens", TokenAnswer, statement, order, query)


@tokens.get("/v1/tokens/<uuid:token_id>")
@tokens.answers(TokenAnswer, headers=TAG_HEADER)
def show_token(token_id: UUID) -> Response:
    """Show a token, without its text."""
    return show_one(TokenAnswer, Token, token_id)


@tokens.patch("/v1/tokens/<uuid:token_id>")
@tokens.takes(TokenChange, example=EXAMPLE_RENAME)
@tokens.answers(TokenAnswer, headers=TAG_HEADER)
@tokens.changes
def rename(body: TokenChange, token_id: UUID) -> Response:
    """Rename a token."""

    def change(_: WritingSession, token: Token) -> None:
        token.holder = body.holder

    return change_one(TokenAnswer, Token, token_id, change)


@tokens.post("/v1/tokens/<uuid:token_id>/revocation")
@tokens.answers(TokenAnswer, headers=TAG_HEADER)
@tokens.changes
def revoke(token_id: UUID) -> Response:
    """Revoke a token, starting with the next request."""

    def change(work: WritingSession, token: Token) -> None:
        token.revoked_at = token.revoked_at or work.at

    return change_one(TokenAnswer, Token, token_id, change)
