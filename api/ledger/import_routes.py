"""`/v1/projects/{id}/books/imports`: sheets that were filled in, previewed and then posted."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Annotated, Any
from uuid import UUID

import marshmallow as ma
from flask import Response, request

from api.access.sign_in import current_caller
from api.calculations.scopes import WORKBOOK_TYPE
from api.contract.answers import json_answer
from api.contract.blueprint import Blueprint
from api.contract.bodies import check_media_type, takes_upload
from api.contract.fields import Words
from api.contract.schemas import Answer
from api.contract.services import services
from api.contract.submissions import create_row, creation
from api.ledger.entry_json import entry_json
from api.ledger.entry_routes import AT, EntryAnswer
from api.projects.rows import Project
from api.store.models.base import NOTE_LENGTH
from api.store.submissions import StoredAnswer
from api.store.writing_session import WritingSession
from estimator.errors import LedgerFaulty

if TYPE_CHECKING:
    from api.ledger.changed_ledger import LedgerChanges
    from api.ledger.imports import Changed, Imported
    from estimator.workbook.entries.entry_reader import TypedEntries

_NAME = "workbook"

imports = Blueprint("imports", __name__, description="Entries filled in on a spreadsheet.")


@dataclass(frozen=True, kw_only=True)
class ImportQuery:
    """What becomes of entries that the books have otherwise."""

    replace: Annotated[
        str,
        Words(NOTE_LENGTH),
        "Rows to replace with the file's, such as 13,15, or all; none if left out.",
    ] = ""


class LikeRow(Answer):
    """Where something stands in the file, and the row of the books that is like it."""

    where = ma.fields.String(required=True)
    number = ma.fields.Integer(required=True)


class ChangedRow(LikeRow):
    """Where something stands, the row of the books that says otherwise, and in what."""

    differences = ma.fields.String(required=True)


class FaultyCell(Answer):
    """What is wrong, and where it stands."""

    where = ma.fields.String(required=True)
    what = ma.fields.String(required=True)
    remedy = ma.fields.String(required=True)


class PreviewAnswer(Answer):
    """What would come of a file: new, known, changed and faulty entries."""

    new = ma.fields.Integer(required=True)
    known = ma.fields.List(ma.fields.Nested(LikeRow), required=True)
    changed = ma.fields.List(ma.fields.Nested(ChangedRow), required=True)
    replaced = ma.fields.List(ma.fields.Nested(ChangedRow), required=True)
    faulty = ma.fields.List(ma.fields.Nested(FaultyCell), required=True)
    notes = ma.fields.List(ma.fields.String(), required=True)


class ImportAnswer(Answer):
    """What came of a file."""

    entries = ma.fields.List(ma.fields.Nested(EntryAnswer), required=True)
    known = ma.fields.List(ma.fields.Nested(LikeRow), required=True)
    changed = ma.fields.List(ma.fields.Nested(ChangedRow), required=True)
    replaced = ma.fields.List(ma.fields.Nested(ChangedRow), required=True)
    notes = ma.fields.List(ma.fields.String(), required=True)


@imports.post(f"{AT}/import-previews")
@imports.asks(ImportQuery)
@imports.takes_file([WORKBOOK_TYPE])
@imports.answers(PreviewAnswer)
@takes_upload
def preview_import(query: ImportQuery, project_id: UUID) -> Response:
    """Show what would be posted from a filled-in workbook; post nothing."""
    from api.ledger.imports import import_entries, replacing_of

    typed, ledger = _typed(project_id)
    parts = services()
    with parts.store.unit_of_work(current_caller(), parts.now) as work:
        imported = import_entries(work, project_id, typed.entries, replacing_of(query.replace))
    faulty = [
        {"where": one.where, "what": one.what, "remedy": str(one.remedy)}
        for one in imported.faults.entries
    ]
    like = _like(imported, typed, ledger)
    like["notes"] += imported.notes
    return json_answer({"new": len(imported.new), **like, "faulty": faulty})


@imports.post(f"{AT}/imports")
@imports.asks(ImportQuery)
@imports.takes_file([WORKBOOK_TYPE])
@imports.answers(ImportAnswer, 201)
@imports.creates
@takes_upload
def import_workbook(query: ImportQuery, project_id: UUID) -> Response:
    """Post what is new in a filled-in workbook: all of it, or none."""
    read: list[tuple[TypedEntries, LedgerChanges]] = []

    def prepare() -> None:
        read[:] = [_typed(project_id)]

    def create(work: WritingSession) -> StoredAnswer:
        from api.ledger.imports import import_entries, replacing_of

        ((typed, ledger),) = read
        imported = import_entries(work, project_id, typed.entries, replacing_of(query.replace))
        imported.faults.raise_if_any(LedgerFaulty)
        new = [*imported.new, *imported.replaced]
        entries = [entry_json(entry, work.caller) for _, entry in new]
        where = f"/v1/projects/{project_id}/books/entries"
        return creation(where, {"entries": entries, **_like(imported, typed, ledger)})

    return create_row(services(), current_caller(), create, prepare)


def _typed(project_id: UUID) -> tuple[TypedEntries, LedgerChanges]:
    """Return the entries of the file, and what its ledger shows otherwise than the books."""
    from api.ledger.changed_ledger import ledger_changes
    from estimator.workbook.entries.entry_reader import read_entries

    check_media_type([WORKBOOK_TYPE])
    with services().store.reading(current_caller()) as session:  # before the file is looked at
        session.existing(Project, project_id)
    content = request.get_data()
    typed = read_entries(content, _NAME)
    with services().store.reading(current_caller()) as session:
        return typed, ledger_changes(session, project_id, content, _NAME)


def _changed(one: Changed) -> dict[str, Any]:
    return {"where": one.where, "number": one.row, "differences": one.differences}


def _like(imported: Imported, typed: TypedEntries, ledger: LedgerChanges) -> dict[str, Any]:
    return {
        "known": [{"where": where, "number": number} for where, number in imported.known],
        "changed": [_changed(one) for one in (*imported.changed, *ledger.changed)],
        "replaced": [_changed(one) for one, _ in imported.replaced],
        "notes": [*typed.notes, *ledger.notes],
    }
