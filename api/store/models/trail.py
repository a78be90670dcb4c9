"""Who did what when: the audit trail of each account, and submissions that may be repeated.

The rows of an account's trail are numbered from 1 and chained: each holds a SHA-256 over the
digest before it and its own words. Where a trail ends stands in a table of its own, so that a
row cut off at the end is missed too.
"""

from __future__ import annotations

from datetime import datetime
from typing import Any
from uuid import UUID

from sqlalchemy import ForeignKey, Index, LargeBinary, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from api.store.columns import Digest, Document, IntRange, Json, OneOf, ShortText, UtcTime
from api.store.models.base import NAME_LENGTH, Base, OfAccount, Private, WithId

CREATED = "created"
CHANGED = "changed"
DELETED = "deleted"
IN_FLIGHT = "in flight"
ANSWERED = "answered"
KEY_LENGTH = 255
LONGEST_TRAIL = 10**12


class AuditRow(Private, Base):
    """One change of one row: who, when, what, before and after as canonical JSON."""

    __tablename__ = "audit_rows"
    is_audited = False
    is_final = True

    account_id: Mapped[UUID] = mapped_column(
        ForeignKey("accounts.id"), primary_key=True, sort_order=-3
    )
    number: Mapped[int] = mapped_column(IntRange(1, LONGEST_TRAIL), primary_key=True)
    at: Mapped[datetime] = mapped_column(UtcTime())
    actor: Mapped[str] = mapped_column(ShortText(NAME_LENGTH))
    action: Mapped[str] = mapped_column(OneOf(CREATED, CHANGED, DELETED))
    subject: Mapped[str] = mapped_column(ShortText(63))
    subject_id: Mapped[UUID] = mapped_column(index=True)
    before: Mapped[str | None] = mapped_column(Document())
    after: Mapped[str | None] = mapped_column(Document())
    digest: Mapped[str] = mapped_column(Digest())


class AuditEnd(Private, Base):
    """Where the trail of an account ends: how many rows it has, and the digest of the last."""

    __tablename__ = "audit_ends"
    is_audited = False

    account_id: Mapped[UUID] = mapped_column(
        ForeignKey("accounts.id"), primary_key=True, sort_order=-3
    )
    number: Mapped[int] = mapped_column(IntRange(0, LONGEST_TRAIL))
    digest: Mapped[str] = mapped_column(Digest())


class StoredSubmission(WithId, OfAccount, Base):
    """A request that creates something, by the key its client chose, with the answer it got.

    Keys belong to whoever holds the token, so that no role gets the answer to another's request.

    `claim` names the attempt that is working on it; an attempt that lost its claim cannot answer.
    """

    __tablename__ = "submissions"
    is_audited = False

    actor: Mapped[str] = mapped_column(ShortText(NAME_LENGTH))
    key: Mapped[str] = mapped_column(ShortText(KEY_LENGTH))
    route: Mapped[str] = mapped_column(ShortText(NAME_LENGTH))
    body_digest: Mapped[str] = mapped_column(Digest())
    state: Mapped[str] = mapped_column(OneOf(IN_FLIGHT, ANSWERED))
    claim: Mapped[UUID] = mapped_column()
    created_at: Mapped[datetime] = mapped_column(UtcTime())
    claimed_until: Mapped[datetime] = mapped_column(UtcTime())
    status: Mapped[int | None] = mapped_column(IntRange(100, 599))
    headers: Mapped[dict[str, Any] | None] = mapped_column(Json())
    body: Mapped[bytes | None] = mapped_column(LargeBinary())
    answer_digest: Mapped[str | None] = mapped_column(Digest())

    __table_args__ = (
        UniqueConstraint("account_id", "actor", "key"),
        Index(None, "account_id", "created_at"),
    )
