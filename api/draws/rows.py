"""Rows of a loan and its draws: what was frozen never changes; what follows is added to it."""

from __future__ import annotations

from datetime import date, datetime
from typing import Any
from uuid import UUID

from sqlalchemy import CheckConstraint, ForeignKey, ForeignKeyConstraint, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from api.store.columns import Digest, Document, IntRange, Json, OneOf, ShortText, UtcTime
from api.store.models.base import (
    CODE_LENGTH,
    HIGHEST_POSITION,
    NAME_LENGTH,
    NOTE_LENGTH,
    Base,
    Editable,
    OfProject,
    Private,
    WithId,
)

GRANTED, RETURNED, FUNDED = "granted", "returned", "funded"
DECISION, FUNDING = 1, 2
DRAWN, CUT, BACK = "drawn", "cut", "returned"
_BY_DIGEST = {"by_digest": True}
_PROJECT = ["account_id", "project_id"], ["projects.account_id", "projects.id"]
_DRAW = (
    ["account_id", "project_id", "draw_id"],
    ["draws.account_id", "draws.project_id", "draws.id"],
)


class StoredLoan(WithId, OfProject, Base):
    """The terms of a loan and its frozen schedule, as the library's row in JSON."""

    __tablename__ = "loans"
    is_final = True

    frozen_on: Mapped[datetime] = mapped_column(UtcTime())
    frozen_by: Mapped[str] = mapped_column(ShortText(NAME_LENGTH))
    digest: Mapped[str] = mapped_column(Digest())
    document: Mapped[str] = mapped_column(Document(), info=_BY_DIGEST)

    __table_args__ = (UniqueConstraint("project_id"), ForeignKeyConstraint(*_PROJECT))


class StoredAmendment(WithId, OfProject, Base):
    """Terms of a loan from a day on, as the library's row in JSON."""

    __tablename__ = "loan_amendments"
    is_final = True

    number: Mapped[int] = mapped_column(IntRange(1, HIGHEST_POSITION))
    entered_at: Mapped[datetime] = mapped_column(UtcTime())
    entered_by: Mapped[str] = mapped_column(ShortText(NAME_LENGTH))
    digest: Mapped[str] = mapped_column(Digest())
    document: Mapped[str] = mapped_column(Document(), info=_BY_DIGEST)

    __table_args__ = (UniqueConstraint("project_id", "number"), ForeignKeyConstraint(*_PROJECT))


class DrawDraft(WithId, Private, Editable, Base):
    """A draw that is open: what the owner says; its figures come from the books."""

    __tablename__ = "draw_drafts"

    project_id: Mapped[UUID] = mapped_column(sort_order=-2)
    opened_at: Mapped[datetime] = mapped_column(UtcTime())
    fields: Mapped[dict[str, Any]] = mapped_column(Json())

    __table_args__ = (UniqueConstraint("project_id"), ForeignKeyConstraint(*_PROJECT))


class StoredDraw(WithId, OfProject, Base):
    """A draw as it was submitted: the frozen request, and its digest."""

    __tablename__ = "draws"
    is_final = True

    number: Mapped[int] = mapped_column(IntRange(1, HIGHEST_POSITION))
    issue: Mapped[int] = mapped_column(IntRange(1, HIGHEST_POSITION))
    through: Mapped[date] = mapped_column()
    submitted_at: Mapped[datetime] = mapped_column(UtcTime())
    submitted_by: Mapped[str] = mapped_column(ShortText(NAME_LENGTH))
    digest: Mapped[str] = mapped_column(Digest())
    document: Mapped[str] = mapped_column(Document(), info=_BY_DIGEST, deferred=True)

    __table_args__ = (
        UniqueConstraint("project_id", "number", "issue"),
        UniqueConstraint("account_id", "project_id", "id"),
        ForeignKeyConstraint(*_PROJECT),
    )


class DrawLineRow(OfProject, Base):
    """A line of a submitted draw; the database holds it to the value of that day."""

    __tablename__ = "draw_lines"
    is_part = True
    is_audited = False
    is_final = True

    draw_id: Mapped[UUID] = mapped_column(primary_key=True, sort_order=-1)
    line: Mapped[str] = mapped_column(ShortText(CODE_LENGTH), primary_key=True, sort_order=-1)
    value_cents: Mapped[int] = mapped_column(IntRange())
    done_cents: Mapped[int] = mapped_column(IntRange())
    stored_cents: Mapped[int] = mapped_column(IntRange())
    retainage_cents: Mapped[int] = mapped_column(IntRange())

    __table_args__ = (
        CheckConstraint("done_cents + stored_cents <= value_cents", name="within_value"),
        ForeignKeyConstraint(*_DRAW),
    )


class DrawBackup(OfProject, Base):
    """What a draw takes of an entry on a line, or gives back of it when it is cut or returned.

    A trigger holds the sum over all draws to the amount of the entry.
    """

    __tablename__ = "draw_backup"
    is_part = True
    is_audited = False
    is_final = True

    draw_id: Mapped[UUID] = mapped_column(primary_key=True, sort_order=-1)
    entry_id: Mapped[UUID] = mapped_column(
        ForeignKey("book_entries.id"), primary_key=True, sort_order=-1, index=True
    )
    line: Mapped[str] = mapped_column(ShortText(CODE_LENGTH), primary_key=True, sort_order=-1)
    cause: Mapped[str] = mapped_column(OneOf(DRAWN, CUT, BACK), primary_key=True, sort_order=-1)
    row: Mapped[int] = mapped_column(IntRange(1, HIGHEST_POSITION))
    cents: Mapped[int] = mapped_column(IntRange())

    __table_args__ = (ForeignKeyConstraint(*_DRAW),)


class DrawStep(WithId, OfProject, Base):
    """What came of a submitted draw: it was granted or returned, and then funded."""

    __tablename__ = "draw_steps"
    is_final = True

    draw_id: Mapped[UUID] = mapped_column()
    step: Mapped[int] = mapped_column(IntRange(DECISION, FUNDING))
    state: Mapped[str] = mapped_column(OneOf(GRANTED, RETURNED, FUNDED))
    at: Mapped[datetime] = mapped_column(UtcTime())
    by: Mapped[str] = mapped_column(ShortText(NAME_LENGTH))
    fields: Mapped[dict[str, Any]] = mapped_column(Json())
    document: Mapped[str | None] = mapped_column(Document(), info=_BY_DIGEST, deferred=True)

    __table_args__ = (UniqueConstraint("draw_id", "step"), ForeignKeyConstraint(*_DRAW))


class LoanPaper(WithId, Private, Base):
    """A lien waiver, or a paper that the lender wants to see."""

    __tablename__ = "loan_papers"
    is_final = True

    project_id: Mapped[UUID] = mapped_column(sort_order=-2)
    number: Mapped[int] = mapped_column(IntRange(1, HIGHEST_POSITION))
    kind: Mapped[str] = mapped_column(OneOf("waivers", "evidence"))
    entered_at: Mapped[datetime] = mapped_column(UtcTime())
    entered_by: Mapped[str] = mapped_column(ShortText(NAME_LENGTH))
    fields: Mapped[dict[str, Any]] = mapped_column(Json())

    __table_args__ = (UniqueConstraint("project_id", "number"), ForeignKeyConstraint(*_PROJECT))


class PaperWithdrawal(WithId, Private, Base):
    """A paper that was entered wrongly, taken back: it stays, and no draw counts it any more."""

    __tablename__ = "paper_withdrawals"
    is_final = True

    project_id: Mapped[UUID] = mapped_column(sort_order=-2)
    number: Mapped[int] = mapped_column(IntRange(1, HIGHEST_POSITION))
    at: Mapped[datetime] = mapped_column(UtcTime())
    by: Mapped[str] = mapped_column(ShortText(NAME_LENGTH))
    reason: Mapped[str] = mapped_column(ShortText(NOTE_LENGTH))

    __table_args__ = (
        UniqueConstraint("project_id", "number"),
        ForeignKeyConstraint(*_PROJECT),
        ForeignKeyConstraint(
            ["project_id", "number"], ["loan_papers.project_id", "loan_papers.number"]
        ),
    )
