"""Reading the audit trail of an account, for people and for machines."""

from __future__ import annotations

import json
from typing import Any
from uuid import UUID

from sqlalchemy import Select, select

from api.store.models.trail import AuditRow
from api.store.trail import plain


def changes_of(subject: str | None, subject_id: UUID | None) -> Select[AuditRow]:
    """Return the statement for the changes of a kind of row, of one row, or of all."""
    statement = select(AuditRow)
    if subject is not None:
        statement = statement.where(AuditRow.subject == subject)
    if subject_id is not None:
        statement = statement.where(AuditRow.subject_id == subject_id)
    return statement


def change_json(row: AuditRow) -> dict[str, Any]:
    """Return a change as JSON has it, with the row before and after it as objects."""
    shown = {
        name: plain(getattr(row, name))
        for name in ("number", "at", "actor", "action", "subject", "subject_id", "digest")
    }
    states = {
        name: text and json.loads(text)
        for name, text in (("before", row.before), ("after", row.after))
    }
    return shown | states
