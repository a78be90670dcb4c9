"""`/v1/audit-trail`: who changed what when on an account, for its owner to read."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated
from uuid import UUID

import marshmallow as ma
from flask import Response

from api.access.sign_in import current_caller, cursor_key
from api.contract.answers import json_answer
from api.contract.blueprint import Blueprint
from api.contract.fields import Choice, Id, Moment, Whole, Words
from api.contract.lists import Page, PageQuery, page_of
from api.contract.schemas import Answer
from api.contract.services import services
from api.store.models.trail import CHANGED, CREATED, DELETED, LONGEST_TRAIL, AuditRow
from api.store.read_trail import change_json, changes_of

_SUBJECT = "A kind of row, such as `projects`."

audit_trail = Blueprint(
    "audit-trail", __name__, description="Every change on the account: who, when, before, after."
)


@dataclass(frozen=True, kw_only=True)
class AuditQuery(PageQuery):
    """Which changes are listed."""

    subject: Annotated[str | None, Words(63), _SUBJECT] = None
    subject_id: Annotated[UUID | None, Id(), "Id of one row."] = None


class AuditAnswer(Answer):
    """One change of one row. Amounts are whole cents; a secret stands there by its SHA-256."""

    number = Whole(1, LONGEST_TRAIL, required=True)
    at = Moment(required=True)
    actor = ma.fields.String(required=True)
    action = Choice(CREATED, CHANGED, DELETED, required=True)
    subject = ma.fields.String(required=True)
    subject_id = ma.fields.UUID(required=True)
    before = ma.fields.Dict(required=True, allow_none=True)
    after = ma.fields.Dict(required=True, allow_none=True)
    digest = ma.fields.String(required=True)


class AuditPage(Page):
    """Some changes, the latest first."""

    changes = ma.fields.List(ma.fields.Nested(AuditAnswer), required=True)


@audit_trail.get("/v1/audit-trail")
@audit_trail.asks(AuditQuery)
@audit_trail.answers(AuditPage)
def list_changes(query: AuditQuery) -> Response:
    """List the changes on the account, newest first."""
    rows = changes_of(query.subject, query.subject_id)
    with services().store.reading(current_caller()) as session:
        page = page_of(
            session, rows, (AuditRow.number,), query, cursor_key(), is_newest_first=True
        )  # fmt: skip
    return json_answer({"changes": [change_json(row) for row in page.rows], "next": page.next})
