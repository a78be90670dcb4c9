"""The entries of the books: each happened on a day, was entered at a time, and never changes."""

from __future__ import annotations

from datetime import date, datetime
from typing import Any
from uuid import UUID

from sqlalchemy import ForeignKeyConstraint, Index, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from api.store.columns import IntRange, Json, ShortText, UtcTime
from api.store.models.base import (
    CODE_LENGTH,
    HIGHEST_POSITION,
    NAME_LENGTH,
    Base,
    Private,
    WithId,
)


class BookEntry(WithId, Private, Base):
    """One row of the books; a lender sees what a draw shows of them, and nothing else.

    `fields` is the library's row as JSON; what lists and checks look for stands in columns too.
    `notes` say what was accepted although it is unusual.
    """

    __tablename__ = "book_entries"
    is_final = True

    project_id: Mapped[UUID] = mapped_column(sort_order=-2)
    number: Mapped[int] = mapped_column(IntRange(1, HIGHEST_POSITION))
    kind: Mapped[str] = mapped_column(ShortText(CODE_LENGTH))
    happened: Mapped[date] = mapped_column()
    entered_at: Mapped[datetime] = mapped_column(UtcTime())
    entered_by: Mapped[str] = mapped_column(ShortText(NAME_LENGTH))
    party: Mapped[str] = mapped_column(ShortText(NAME_LENGTH, least=0))
    document: Mapped[str] = mapped_column(ShortText(NAME_LENGTH, least=0))
    reverses: Mapped[int | None] = mapped_column(IntRange(1, HIGHEST_POSITION))
    cents: Mapped[int | None] = mapped_column(IntRange())
    notes: Mapped[list[str]] = mapped_column(Json())
    fields: Mapped[dict[str, Any]] = mapped_column(Json())

    __table_args__ = (
        UniqueConstraint("project_id", "number"),
        ForeignKeyConstraint(["account_id", "project_id"], ["projects.account_id", "projects.id"]),
        Index(None, "project_id", "kind", "party", "number"),
    )
