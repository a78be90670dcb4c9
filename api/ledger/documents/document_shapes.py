"""What is said of a document that is added, and how it is shown."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Annotated, Any

import marshmallow as ma

from api.contract.fields import Day, Moment, Whole, WholeInQuery, Words, moment_text
from api.contract.lists import Page, PageQuery
from api.contract.schemas import Answer
from api.ledger.documents.rows import StoredDocument
from api.ledger.entry_fields import CostCode, Note
from api.store.models.base import CODE_LENGTH, HIGHEST_POSITION, NAME_LENGTH

Spot = Annotated[str, Words(NAME_LENGTH), "Where the picture was taken, such as north wall, bay 3."]


@dataclass(frozen=True, kw_only=True)
class NewDocument:
    """A picture or a PDF: its name, what it belongs to, and where it was taken."""

    name: Annotated[str, Words(NAME_LENGTH), "File name, with an ending that fits its content."]
    entry: Annotated[
        int | None, WholeInQuery(1, HIGHEST_POSITION), "The row of the books that it belongs to."
    ] = None
    spot: Spot = ""
    code: CostCode = ""
    taken: Annotated[date | None, Day(), "Date taken, if the camera did not record it."] = None
    note: Note = ""


@dataclass(frozen=True, kw_only=True)
class DocumentQuery(PageQuery):
    """Which documents to list."""

    spot: Annotated[str | None, Words(NAME_LENGTH), "Only those of this spot."] = None
    code: Annotated[str | None, Words(2 * CODE_LENGTH + 1), "Only those of this cost code."] = None
    entry: Annotated[
        int | None, WholeInQuery(1, HIGHEST_POSITION), "Only those of this row of the books."
    ] = None


class DocumentAnswer(Answer):
    """A document; `dated` is the day it was taken or, if that is not known, entered."""

    id = ma.fields.UUID(required=True)
    number = Whole(1, HIGHEST_POSITION, required=True)
    name = ma.fields.String(required=True)
    media_type = ma.fields.String(required=True)
    size = ma.fields.Integer(required=True)
    digest = ma.fields.String(required=True, metadata={"description": "SHA-256 of the content."})
    entry = ma.fields.Integer(required=True, allow_none=True)
    spot = ma.fields.String(required=True)
    code = ma.fields.String(required=True)
    taken_on = Day(required=True, allow_none=True)
    dated = Day(required=True)
    note = ma.fields.String(required=True)
    notes = ma.fields.List(ma.fields.String(), required=True)
    entered_at = Moment(required=True)
    entered_by = ma.fields.String(required=True)


class DocumentPage(Page):
    """Some documents, in the order of their days."""

    documents = ma.fields.List(ma.fields.Nested(DocumentAnswer), required=True)


def document_json(document: StoredDocument) -> dict[str, Any]:
    """Return a document as the service and the command tell it."""
    taken = document.taken_on
    return {
        "id": str(document.id),
        "number": document.number,
        "name": document.name,
        "media_type": document.media_type,
        "size": document.size,
        "digest": document.digest,
        "entry": document.entry,
        "spot": document.spot,
        "code": document.code,
        "taken_on": None if taken is None else taken.isoformat(),
        "dated": document.dated.isoformat(),
        "note": document.note,
        "notes": document.notes,
        "entered_at": moment_text(document.entered_at),
        "entered_by": document.entered_by,
    }
