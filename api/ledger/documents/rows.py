"""Documents of a project, and the bytes of each, kept once by their SHA-256."""

from __future__ import annotations

from datetime import date, datetime
from typing import Any
from uuid import UUID

from sqlalchemy import ForeignKeyConstraint, Index, LargeBinary, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from api.ledger.documents.content_types import JPEG, PDF, PNG
from api.store.columns import Digest, IntRange, Json, OneOf, ShortText, UtcTime
from api.store.models.base import (
    CODE_LENGTH,
    HIGHEST_POSITION,
    NAME_LENGTH,
    NOTE_LENGTH,
    Base,
    OfSite,
    WithId,
)

LARGEST_BYTES = 10**9
_PROJECT = ["account_id", "project_id"], ["projects.account_id", "projects.id"]


class StoredDocument(WithId, OfSite, Base):
    """A picture or a PDF: where its content is, and what it is of.

    `entry` is the number of the row of the books that it belongs to. `dated` is the day it was
    taken, or the day it was entered where that is not known. `spot_key` is what a spot is looked up
    by. `notes` say what was accepted although it is unusual.
    """

    __tablename__ = "documents"
    is_final = True

    number: Mapped[int] = mapped_column(IntRange(1, HIGHEST_POSITION))
    digest: Mapped[str] = mapped_column(Digest())
    media_type: Mapped[str] = mapped_column(OneOf(JPEG, PNG, PDF))
    size: Mapped[int] = mapped_column(IntRange(1, LARGEST_BYTES))
    name: Mapped[str] = mapped_column(ShortText(NAME_LENGTH))
    spot: Mapped[str] = mapped_column(ShortText(NAME_LENGTH, least=0))
    spot_key: Mapped[str] = mapped_column(ShortText(2 * NAME_LENGTH, least=0))
    code: Mapped[str] = mapped_column(ShortText(2 * CODE_LENGTH + 1, least=0))
    entry: Mapped[int | None] = mapped_column(IntRange(1, HIGHEST_POSITION))
    taken_on: Mapped[date | None] = mapped_column()
    dated: Mapped[date] = mapped_column()
    note: Mapped[str] = mapped_column(ShortText(NOTE_LENGTH, least=0))
    entered_at: Mapped[datetime] = mapped_column(UtcTime())
    entered_by: Mapped[str] = mapped_column(ShortText(NAME_LENGTH))
    notes: Mapped[list[str]] = mapped_column(Json())

    __table_args__ = (
        UniqueConstraint("project_id", "number"),
        ForeignKeyConstraint(*_PROJECT),
        ForeignKeyConstraint(
            ["project_id", "digest"], ["document_contents.project_id", "document_contents.digest"]
        ),
        ForeignKeyConstraint(
            ["project_id", "entry"], ["book_entries.project_id", "book_entries.number"]
        ),
        Index(None, "project_id", "digest"),
        Index(None, "project_id", "spot_key", "dated"),
        Index(None, "project_id", "entry"),
    )


class DocumentContent(OfSite, Base):
    """The bytes of documents of a project, kept once; the trail has their digest in each."""

    __tablename__ = "document_contents"
    is_part = True
    is_audited = False
    is_final = True

    project_id: Mapped[UUID] = mapped_column(primary_key=True, sort_order=-2)
    digest: Mapped[str] = mapped_column(Digest(), primary_key=True)
    size: Mapped[int] = mapped_column(IntRange(1, LARGEST_BYTES))
    content: Mapped[bytes] = mapped_column(LargeBinary())

    __table_args__: Any = (ForeignKeyConstraint(*_PROJECT), {"info": {"at_once": 4}})
