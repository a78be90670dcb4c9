"""Finding documents again: by spot, code or row of the books, and the bytes of one."""

from __future__ import annotations

from collections.abc import Collection
from datetime import date, datetime
from pathlib import PurePath
from typing import Any
from uuid import UUID

from sqlalchemy import Select, or_, select

from api.ledger.desk import party_key
from api.ledger.documents.content_types import ENDINGS, JPEG, PNG
from api.ledger.documents.document_shapes import DocumentQuery
from api.ledger.documents.rows import DocumentContent, StoredDocument
from api.ledger.entry_kinds import MONEY_OF_SITE_KINDS
from api.ledger.rows import BookEntry
from api.store.caller import Caller
from api.store.sessions import AccountSession
from estimator.errors import LedgerFaulty, fault

# Documents come in the order of their days, so that a spot is strung together.
ORDER = (StoredDocument.dated, StoredDocument.number, StoredDocument.id)


def documents_seen(caller: Caller, project_id: UUID) -> Select[StoredDocument]:
    """Return the statement for the documents of a project that a caller sees.

    A crew sees none that belongs to a row of money, such as a picture of a bill.
    """
    statement = select(StoredDocument).where(StoredDocument.project_id == project_id)
    if not caller.is_crew:
        return statement
    of_site = select(BookEntry.number).where(
        BookEntry.project_id == project_id, BookEntry.kind.in_(MONEY_OF_SITE_KINDS)
    )
    return statement.where(or_(StoredDocument.entry.is_(None), StoredDocument.entry.in_(of_site)))


def documents_matching(
    caller: Caller, project_id: UUID, query: DocumentQuery
) -> Select[StoredDocument]:
    """Return the statement for those of the documents seen that a query names."""
    statement = documents_seen(caller, project_id)
    if query.spot is not None:
        statement = statement.where(StoredDocument.spot_key == party_key(query.spot))
    if query.code is not None:
        statement = statement.where(StoredDocument.code == query.code)
    if query.entry is not None:
        statement = statement.where(StoredDocument.entry == query.entry)
    return statement


def pictures_before(
    session: AccountSession, project_id: UUID, day: date, *, code: str = "", spot: str = ""
) -> list[StoredDocument]:
    """Return the last picture of each spot that is dated before a day, in the order of their days.

    Parameters
    ----------
    session, project_id : AccountSession, UUID
    day : date
        That day and later ones do not count.
    code, spot : str
        Of that cost code, of that spot; empty for any.
    """
    query = DocumentQuery(code=code or None, spot=spot or None)
    statement = documents_matching(session.caller, project_id, query).where(
        StoredDocument.media_type.in_((JPEG, PNG)), StoredDocument.dated < day
    )
    by_spot = {one.spot_key: one for one in session.scalars(statement.order_by(*ORDER))}
    return sorted(by_spot.values(), key=lambda one: (one.dated, one.number))


def documents_of_code(
    session: AccountSession,
    project_id: UUID,
    code: str,
    rows: Collection[int],
    as_of: date,
    known_on: datetime,
) -> list[StoredDocument]:
    """Return the documents of a cost code, and those that belong to rows of the books.

    Parameters
    ----------
    session, project_id, code : AccountSession, UUID, str
    rows : collection of int
        Numbers of rows, whenever their documents are dated.
    as_of, known_on : date, datetime
        Those of the code are dated by that day; all were entered by that time [UTC].
    """
    statement = documents_seen(session.caller, project_id).where(
        StoredDocument.entered_at <= known_on,
        or_(StoredDocument.code == code, StoredDocument.entry.is_not(None)),
    )
    return [
        one
        for one in session.scalars(statement.order_by(*ORDER))
        if one.entry in rows or (one.code == code and one.dated <= as_of)
    ]


def document_numbered(session: AccountSession, project_id: UUID, number: int) -> StoredDocument:
    """Return the document of a number.

    Raises
    ------
    LedgerFaulty
        If the caller sees none.
    """
    statement = documents_seen(session.caller, project_id)
    document = session.scalar(statement.where(StoredDocument.number == number))
    if document is None:
        raise fault(LedgerFaulty, f"there is no document {number}", "look at the list of documents")
    return document


def content_of(session: AccountSession, document: StoredDocument) -> bytes:
    """Return the bytes of a document."""
    content: Any = session.scalar(
        select(DocumentContent.content).where(
            DocumentContent.project_id == document.project_id,
            DocumentContent.digest == document.digest,
        )
    )
    return bytes(content)


def name_to_keep(document: StoredDocument) -> tuple[str, str]:
    """Return the name and the ending under which a document is handed out.

    The number comes first: no two are called the same, and none is called what a system reserves.
    """
    return f"{document.number} {PurePath(document.name).stem}", ENDINGS[document.media_type][0]
