"""Who may ask: accounts, their tokens, and the projects shared with a lender or a crew."""

from __future__ import annotations

from datetime import datetime
from uuid import UUID

from sqlalchemy import CheckConstraint, ForeignKeyConstraint, Index, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from api.store.columns import Digest, OneOf, ShortText, UtcTime
from api.store.models.base import NAME_LENGTH, Base, Editable, OfProject, Private, WithId

OWNER = "owner"
BOOKKEEPER = "bookkeeper"
CREW = "crew"
LENDER = "lender"
ROLES = (OWNER, BOOKKEEPER, CREW, LENDER)


class Account(WithId, Editable, Base):
    """Somebody with projects of their own."""

    __tablename__ = "accounts"

    name: Mapped[str] = mapped_column(ShortText(NAME_LENGTH))
    created_at: Mapped[datetime] = mapped_column(UtcTime())


class Token(WithId, Private, Editable, Base):
    """A key to one account in one role; only the SHA-256 of its text is stored."""

    __tablename__ = "tokens"

    holder: Mapped[str] = mapped_column(ShortText(NAME_LENGTH))
    role: Mapped[str] = mapped_column(OneOf(*ROLES))
    digest: Mapped[str] = mapped_column(Digest(), info={"by_digest": True})
    created_at: Mapped[datetime] = mapped_column(UtcTime())
    expires_at: Mapped[datetime] = mapped_column(UtcTime())
    revoked_at: Mapped[datetime | None] = mapped_column(UtcTime())

    __table_args__ = (
        UniqueConstraint("digest"),
        UniqueConstraint("account_id", "id"),
        CheckConstraint("expires_at > created_at", name="expires_later"),
        Index(None, "account_id", "created_at", "id"),
    )


class ProjectShare(WithId, OfProject, Base):
    """Leave for the holder of a token of a lender or a crew to see one project."""

    __tablename__ = "project_shares"

    token_id: Mapped[UUID] = mapped_column()
    created_at: Mapped[datetime] = mapped_column(UtcTime())

    __table_args__ = (
        UniqueConstraint("token_id", "project_id"),
        ForeignKeyConstraint(["account_id", "project_id"], ["projects.account_id", "projects.id"]),
        ForeignKeyConstraint(["account_id", "token_id"], ["tokens.account_id", "tokens.id"]),
        Index(None, "project_id"),
    )
