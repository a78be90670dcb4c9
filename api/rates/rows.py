"""Sets of rate tables, their numbered versions with the rows of each, and quotes of projects.

Assemblies are rows of a version like rates are, so a version of the tables fixes both.
"""

from __future__ import annotations

from datetime import datetime
from uuid import UUID

from sqlalchemy import ForeignKeyConstraint, Index, UniqueConstraint, text
from sqlalchemy.orm import Mapped, mapped_column

from api.store.columns import Digest, IntRange, Json, ShortText, UtcTime
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
from api.store.models.partial_index import partial_index

ROW_KEY_LENGTH = 400
_IS_DRAFT = text("published_at IS NULL")


class RateSet(WithId, Private, Editable, Base):
    """A set of rate tables of an account, laid over the shipped ones."""

    __tablename__ = "rate_sets"

    name: Mapped[str] = mapped_column(ShortText(NAME_LENGTH))
    created_at: Mapped[datetime] = mapped_column(UtcTime())

    __table_args__ = (UniqueConstraint("account_id", "name"), UniqueConstraint("account_id", "id"))


class RateVersion(WithId, Private, Editable, Base):
    """One state of a set: a draft, of which a set has at most one, or published and final."""

    __tablename__ = "rate_versions"

    rate_set_id: Mapped[UUID] = mapped_column()
    number: Mapped[int] = mapped_column(IntRange(1, HIGHEST_POSITION))
    note: Mapped[str] = mapped_column(ShortText(NOTE_LENGTH, least=0), default="")
    created_at: Mapped[datetime] = mapped_column(UtcTime())
    published_at: Mapped[datetime | None] = mapped_column(UtcTime())
    content_digest: Mapped[str] = mapped_column(Digest())
    row_count: Mapped[int] = mapped_column(IntRange(0, HIGHEST_POSITION))

    __table_args__ = (
        UniqueConstraint("rate_set_id", "number"),
        UniqueConstraint("account_id", "id"),
        partial_index("uq_rate_versions_draft", "rate_set_id", condition=_IS_DRAFT, is_unique=True),
        ForeignKeyConstraint(
            ["account_id", "rate_set_id"], ["rate_sets.account_id", "rate_sets.id"]
        ),
    )


class RateRow(WithId, Private, Editable, Base):
    """A row of a table file of a version; `row_key` is what tells it from the file's others."""

    __tablename__ = "rate_rows"
    is_part = True

    rate_version_id: Mapped[UUID] = mapped_column()
    file: Mapped[str] = mapped_column(ShortText(CODE_LENGTH))
    row_key: Mapped[str] = mapped_column(ShortText(ROW_KEY_LENGTH))
    cells: Mapped[dict[str, str]] = mapped_column(Json())
    position: Mapped[int] = mapped_column(IntRange(0, HIGHEST_POSITION))

    __table_args__ = (
        ForeignKeyConstraint(
            ["account_id", "rate_version_id"], ["rate_versions.account_id", "rate_versions.id"]
        ),
        Index(None, "rate_version_id", "file", "position", "id"),
    )


class ProjectQuote(WithId, OfProject, Editable, Base):
    """A row of a rate table that holds for one project only, such as a vendor's quote."""

    __tablename__ = "quotes"

    file: Mapped[str] = mapped_column(ShortText(CODE_LENGTH))
    row_key: Mapped[str] = mapped_column(ShortText(ROW_KEY_LENGTH))
    cells: Mapped[dict[str, str]] = mapped_column(Json())
    position: Mapped[int] = mapped_column(IntRange(0, HIGHEST_POSITION))

    __table_args__ = (
        ForeignKeyConstraint(["account_id", "project_id"], ["projects.account_id", "projects.id"]),
        Index(None, "project_id", "file", "position", "id"),
    )
