"""Adding documents to a project: checked, numbered, and their bytes kept once."""

from __future__ import annotations

import hashlib
from collections.abc import Collection
from dataclasses import dataclass
from functools import cached_property
from uuid import UUID

from sqlalchemy import func, select

from api.estimates.rows import AcceptedEstimate
from api.ledger.desk import Desk, party_key
from api.ledger.documents.content_types import Content, day_taken, read_content, refuse_other_type
from api.ledger.documents.document_shapes import NewDocument
from api.ledger.documents.rows import DocumentContent, StoredDocument
from api.ledger.entry_kinds import MONEY_OF_SITE_KINDS
from api.ledger.rows import BookEntry
from api.projects.rows import Project, ProjectItem, ProjectPhase
from api.store.models import table_of
from api.store.sessions import AccountSession
from api.store.writing_session import WritingSession
from estimator.errors import Faults, InputFaulty, LedgerFaulty, fault
from estimator.tracking.entry_checks import check_code

_UNFIT_LETTERS = frozenset("/\\\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")
_SCRIPT_NOTE = "the PDF names a script or a program to start; nothing here runs it, a viewer might"


@dataclass(frozen=True)
class ReadDocument:
    """A document that was read before the turn to write.

    Parameters
    ----------
    query : NewDocument
        Its name, and what it belongs to.
    content : bytes
        All of the file.
    is_a : Content
        What the bytes are.
    """

    query: NewDocument
    content: bytes
    is_a: Content

    @cached_property
    def digest(self) -> str:
        """SHA-256 of the bytes."""
        return hashlib.sha256(self.content).hexdigest()


def read_document(query: NewDocument, content: bytes, stated: str | None = None) -> ReadDocument:
    """Return a document whose name and stated type say what its content is.

    Parameters
    ----------
    query : NewDocument
        Its name, and what it belongs to.
    content : bytes
        All of the file.
    stated : str, optional
        The media type that came with it.

    Raises
    ------
    LedgerFaulty
        If they do not, or the content is nothing that is taken.
    """
    if not _UNFIT_LETTERS.isdisjoint(query.name):
        what = "the name holds a slash, or turns the direction of writing round"
        raise fault(LedgerFaulty, what, "give only the file's name", "name")
    is_a = read_content(content)
    refuse_other_type(is_a, query.name, stated)
    return ReadDocument(query, content, is_a)


def add_document(
    work: WritingSession, project_id: UUID, read: ReadDocument, most_bytes: int
) -> StoredDocument:
    """Return a new document of a project; the same bytes are kept once.

    Parameters
    ----------
    work, project_id : WritingSession, UUID
    read : ReadDocument
        As `read_document` returns it.
    most_bytes : int
        What all documents of the account may take.

    Raises
    ------
    LedgerFaulty
        If there is no such row or code, the day is to come, the same document is there already, or
        there is no room for more.
    """
    work.existing(Project, project_id)
    _check_query(work, project_id, read.query)
    like = _like(work, project_id, read)
    if not like:
        _keep_content(work, project_id, read, most_bytes)
    number = select(func.max(StoredDocument.number)).where(StoredDocument.project_id == project_id)
    document = _document(work, project_id, read, (work.scalar(number) or 0) + 1)
    document.notes += [f"the same file is document {like[0].number} too"] if like else []
    work.add(document)
    return document


def _document(
    work: WritingSession, project_id: UUID, read: ReadDocument, number: int
) -> StoredDocument:
    query, today = read.query, work.at.date()
    camera_day, note = day_taken(read.is_a, today)
    notes = [note] if note else []
    if query.taken and camera_day and query.taken != camera_day:
        notes.append(f"the camera says {camera_day}; the stated day counts")
    if read.is_a.has_script:
        notes.append(_SCRIPT_NOTE)
    taken_on = query.taken or camera_day
    return StoredDocument(
        project_id=project_id,
        number=number,
        digest=read.digest,
        media_type=read.is_a.media_type,
        size=len(read.content),
        name=query.name,
        spot=" ".join(query.spot.split()),
        spot_key=party_key(query.spot),
        code=query.code,
        entry=query.entry,
        taken_on=taken_on,
        dated=taken_on or today,
        note=query.note,
        entered_at=work.at,
        entered_by=work.caller.actor,
        notes=notes,
    )


def _check_query(work: WritingSession, project_id: UUID, query: NewDocument) -> None:
    """Refuse a row or a code that is not there, and a day to come; all of them together."""
    faults, today = Faults(), work.at.date()
    if query.entry is not None and not _sees_entry(work, project_id, query.entry):
        faults.add("entry", f"there is no row {query.entry}", "look at the list of entries")
    if query.taken is not None and query.taken > today:
        faults.add("taken", f"{query.taken} is in the future", f"today is {today}")
    if query.code:
        try:
            check_code(query.code, _codes(work, project_id))
        except InputFaulty as error:
            faults.take("", error)
    faults.raise_if_any(LedgerFaulty)


def _sees_entry(session: AccountSession, project_id: UUID, number: int) -> bool:
    """Tell whether there is an entry, of a kind that the caller sees."""
    kind = session.scalar(
        select(BookEntry.kind).where(BookEntry.project_id == project_id, BookEntry.number == number)
    )
    return kind is not None and (not session.caller.is_crew or kind in MONEY_OF_SITE_KINDS)


def _codes(work: WritingSession, project_id: UUID) -> Collection[str]:
    """Return the codes of the budget or, before the books are open, of the scope."""
    accepted = select(AcceptedEstimate.id).where(AcceptedEstimate.project_id == project_id)
    if work.scalar(accepted.limit(1)) is not None:
        return Desk(work, project_id, work.at).budget
    items = select(ProjectPhase.code, ProjectItem.code).join(
        ProjectItem, ProjectItem.phase_id == ProjectPhase.id
    )
    of_project = ProjectPhase.project_id == project_id
    return [f"{phase}.{item}" for phase, item in work.execute(items.where(of_project))]


def _like(work: WritingSession, project_id: UUID, read: ReadDocument) -> list[StoredDocument]:
    """Return the documents of the same bytes, or refuse one that says the same as well."""
    same = StoredDocument.project_id == project_id, StoredDocument.digest == read.digest
    like = list(work.scalars(select(StoredDocument).where(*same).order_by(StoredDocument.number)))
    query = read.query
    for one in like:
        if (one.entry, one.code, one.spot_key) == (query.entry, query.code, party_key(query.spot)):
            what = f"the same file is document {one.number} already"
            raise fault(LedgerFaulty, what, "name another row, code or spot that it belongs to")
    return like


def _keep_content(
    work: WritingSession, project_id: UUID, read: ReadDocument, most_bytes: int
) -> None:
    table, account_id, size = table_of(DocumentContent), work.caller.account_id, len(read.content)
    total = select(func.sum(table.c.size)).where(table.c.account_id == account_id)
    taken = int(work.connection().scalar(total) or 0)  # a crew's session sees shared projects only
    if taken + size > most_bytes:
        what = f"the documents of the account would take more than {most_bytes:,} bytes"
        remedy = "send a smaller file, or raise GROUNDSILL_MOST_DOCUMENT_BYTES"
        raise fault(LedgerFaulty, what, remedy)
    row = {"account_id": account_id, "project_id": project_id, "digest": read.digest}
    work.add_parts(DocumentContent, [row | {"size": size, "content": read.content}])
