"""`/v1/projects/{id}/books/bank-imports`: exports of a bank or card, previewed and then posted."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Annotated, Any
from uuid import UUID

import marshmallow as ma
from flask import Response, request

from api.access.sign_in import current_caller
from api.contract.answers import json_answer
from api.contract.blueprint import Blueprint
from api.contract.bodies import check_media_type, takes_upload
from api.contract.fields import Choice, Words
from api.contract.schemas import Answer
from api.contract.services import services
from api.contract.submissions import create_row, creation
from api.ledger.entry_fields import Name
from api.ledger.entry_json import entry_json
from api.ledger.entry_routes import AT, EntryAnswer
from api.ledger.import_routes import FaultyCell
from api.projects.rows import Project
from api.store.models.base import NOTE_LENGTH
from api.store.submissions import StoredAnswer
from api.store.writing_session import WritingSession
from estimator.errors import LedgerFaulty

if TYPE_CHECKING:
    from api.ledger.bank_imports import StatementImported

STATEMENT_TYPE = "application/octet-stream"  # CSV or OFX: its content says which
_NAME = "statement"

bank_imports = Blueprint("bank_imports", __name__, description="Bank and card exports.")


@dataclass(frozen=True, kw_only=True)
class StatementQuery:
    """Whose export it is, and what becomes of its lines."""

    bank: Name
    accept: Annotated[
        str, Choice("yes", "no"), "yes posts what is proposed too; otherwise only what you decided."
    ] = "no"
    lines: Annotated[
        str,
        Words(NOTE_LENGTH),
        "Separated by semicolons: 4=13 pays row 13; 7=30.020:material; 9=receipt; 3=skip.",
    ] = ""


class OpenBillAnswer(Answer):
    """A bill that a line may pay."""

    number = ma.fields.Integer(required=True)
    vendor = ma.fields.String(required=True)
    document = ma.fields.String(required=True)
    happened = ma.fields.String(required=True)
    open = ma.fields.String(required=True)


class BankLineAnswer(Answer):
    """A line of a statement, and what it is proposed to become."""

    line = ma.fields.Integer(required=True)
    day = ma.fields.String(required=True)
    amount = ma.fields.String(required=True)
    description = ma.fields.String(required=True)
    reference = ma.fields.String(required=True)
    proposed = ma.fields.String(required=True)
    why = ma.fields.String(required=True)
    bills = ma.fields.List(ma.fields.Nested(OpenBillAnswer), required=True)
    entries = ma.fields.List(ma.fields.Integer(), required=True)


class StatementPreview(Answer):
    """What would come of an export."""

    lines = ma.fields.List(ma.fields.Nested(BankLineAnswer), required=True)
    faulty = ma.fields.List(ma.fields.Nested(FaultyCell), required=True)


class StatementAnswer(Answer):
    """What came of an export."""

    lines = ma.fields.List(ma.fields.Nested(BankLineAnswer), required=True)
    entries = ma.fields.List(ma.fields.Nested(EntryAnswer), required=True)


@bank_imports.post(f"{AT}/bank-previews")
@bank_imports.asks(StatementQuery)
@bank_imports.takes_file([STATEMENT_TYPE])
@bank_imports.answers(StatementPreview)
@takes_upload
def preview_statement(query: StatementQuery, project_id: UUID) -> Response:
    """Show what would be posted for the lines of a bank's export; post nothing."""
    check_media_type([STATEMENT_TYPE])
    parts = services()
    with parts.store.unit_of_work(current_caller(), parts.now) as work:
        work.existing(Project, project_id)
        imported = _imported(work, project_id, query)
    faulty = [
        {"where": one.where, "what": one.what, "remedy": str(one.remedy)}
        for one in imported.faults.entries
    ]
    return json_answer({"lines": _lines(imported), "faulty": faulty})


@bank_imports.post(f"{AT}/bank-imports")
@bank_imports.asks(StatementQuery)
@bank_imports.takes_file([STATEMENT_TYPE])
@bank_imports.answers(StatementAnswer, 201)
@bank_imports.creates
@takes_upload
def post_statement(query: StatementQuery, project_id: UUID) -> Response:
    """Post what was decided or accepted for the lines of a bank's export: all of it, or none."""

    def create(work: WritingSession) -> StoredAnswer:
        imported = _imported(work, project_id, query)
        imported.faults.raise_if_any(LedgerFaulty)
        entries = [
            entry_json(one, work.caller) for listed in imported.posted.values() for one in listed
        ]
        where = f"/v1/projects/{project_id}/books/entries"
        return creation(where, {"lines": _lines(imported), "entries": entries})

    check_media_type([STATEMENT_TYPE])
    return create_row(services(), current_caller(), create)


def _imported(work: WritingSession, project_id: UUID, query: StatementQuery) -> StatementImported:
    from api.ledger.bank_decisions import decisions
    from api.ledger.bank_imports import Statement, import_statement

    decided = decisions(filter(None, query.lines.split(";")))
    statement = Statement(request.get_data(), _NAME, query.bank)
    return import_statement(work, project_id, statement, decided, is_accepted=query.accept == "yes")


def _lines(imported: StatementImported) -> list[dict[str, Any]]:
    from estimator.money import cents_text

    return [
        {
            "line": one.line.number,
            "day": one.line.day.isoformat(),
            "amount": cents_text(one.line.cents),
            "description": one.line.description,
            "reference": one.line.reference,
            "proposed": one.what,
            "why": one.why,
            "bills": [
                {
                    "number": bill.row, "vendor": bill.vendor, "document": bill.document,
                    "happened": bill.happened.isoformat(), "open": cents_text(bill.cents),
                }
                for bill in one.bills
            ],
            "entries": [entry.number for entry in imported.posted.get(one.line.number, ())],
        }
        for one in imported.proposals
    ]  # fmt: skip
