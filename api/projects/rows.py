"""Rows of projects, their phases and items."""

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
    NOTE_LENGTH,
    Base,
    Editable,
    OfProject,
    ProjectHead,
    WithId,
)

LATER = {"later": True}


class Project(ProjectHead, Editable, Base):
    """A building's job: the head of a scope. Measures stand as they were written."""

    __tablename__ = "projects"

    name: Mapped[str] = mapped_column(ShortText(NAME_LENGTH))
    pricing_date: Mapped[date | None] = mapped_column()
    shift: Mapped[str] = mapped_column(ShortText(CODE_LENGTH, least=0), default="")
    day_worth: Mapped[str] = mapped_column(ShortText(CODE_LENGTH, least=0), default="")
    markups: Mapped[list[str] | None] = mapped_column(Json())
    assumptions: Mapped[list[str]] = mapped_column(Json(), default=list)
    rate_set_id: Mapped[UUID | None] = mapped_column()
    created_at: Mapped[datetime] = mapped_column(UtcTime())
    risk: Mapped[Any | None] = mapped_column(Json())
    alternates: Mapped[Any | None] = mapped_column(Json(), info=LATER)
    calendar: Mapped[Any | None] = mapped_column(Json(), info=LATER)
    crew: Mapped[Any | None] = mapped_column(Json(), info=LATER)
    address: Mapped[str | None] = mapped_column(ShortText(NAME_LENGTH), info=LATER)
    prepared_for: Mapped[str | None] = mapped_column(ShortText(NAME_LENGTH), info=LATER)
    prepared_by: Mapped[str | None] = mapped_column(ShortText(NAME_LENGTH), info=LATER)
    revision: Mapped[str | None] = mapped_column(ShortText(NAME_LENGTH), info=LATER)

    __table_args__ = (
        UniqueConstraint("account_id", "id"),
        ForeignKeyConstraint(
            ["account_id", "rate_set_id"], ["rate_sets.account_id", "rate_sets.id"]
        ),
        Index(None, "account_id", "created_at", "id"),
    )


class ProjectPhase(WithId, OfProject, Editable, Base):
    """A stage of a project."""

    __tablename__ = "phases"

    code: Mapped[str] = mapped_column(ShortText(CODE_LENGTH))
    name: Mapped[str] = mapped_column(ShortText(NAME_LENGTH))
    position: Mapped[int] = mapped_column(IntRange(0, HIGHEST_POSITION))
    after: Mapped[Any | None] = mapped_column(Json())
    duration: Mapped[Any | None] = mapped_column(Json())
    wait: Mapped[Any | None] = mapped_column(Json(), info=LATER)
    starts_with: Mapped[Any | None] = mapped_column(Json(), info=LATER)
    along: Mapped[Any | None] = mapped_column(Json(), info=LATER)

    __table_args__ = (
        UniqueConstraint("project_id", "code"),
        UniqueConstraint("account_id", "project_id", "id"),
        ForeignKeyConstraint(["account_id", "project_id"], ["projects.account_id", "projects.id"]),
        Index(None, "project_id", "position", "id"),
    )


class ProjectItem(WithId, OfProject, Editable, Base):
    """One priced piece of work of a phase: an assembly and its inputs as written."""

    __tablename__ = "items"

    phase_id: Mapped[UUID] = mapped_column()
    code: Mapped[str] = mapped_column(ShortText(CODE_LENGTH))
    name: Mapped[str] = mapped_column(ShortText(NAME_LENGTH))
    assembly: Mapped[str] = mapped_column(ShortText(NAME_LENGTH, least=0))
    inputs: Mapped[dict[str, Any]] = mapped_column(Json(), default=dict)
    methods: Mapped[Any | None] = mapped_column(Json())
    method: Mapped[str | None] = mapped_column(ShortText(NAME_LENGTH), info=LATER)
    subcontract: Mapped[Any | None] = mapped_column(Json(), info=LATER)
    lump_sum: Mapped[Any | None] = mapped_column(Json(), info=LATER)
    allowance: Mapped[Any | None] = mapped_column(Json(), info=LATER)
    alternate: Mapped[str | None] = mapped_column(ShortText(CODE_LENGTH), info=LATER)
    level: Mapped[Any | None] = mapped_column(Json(), info=LATER)
    opening: Mapped[Any | None] = mapped_column(Json(), info=LATER)
    delays: Mapped[Any | None] = mapped_column(Json(), info=LATER)
    after: Mapped[Any | None] = mapped_column(Json(), info=LATER)
    wait: Mapped[Any | None] = mapped_column(Json(), info=LATER)
    starts_with: Mapped[Any | None] = mapped_column(Json(), info=LATER)
    along: Mapped[Any | None] = mapped_column(Json(), info=LATER)
    duration: Mapped[Any | None] = mapped_column(Json(), info=LATER)
    crew: Mapped[str] = mapped_column(ShortText(CODE_LENGTH, least=0), default="")
    element: Mapped[str] = mapped_column(ShortText(CODE_LENGTH, least=0), default="")
    note: Mapped[str] = mapped_column(ShortText(NOTE_LENGTH, least=0), default="")
    position: Mapped[int] = mapped_column(IntRange(0, HIGHEST_POSITION))
    risk: Mapped[Any | None] = mapped_column(Json())

    __table_args__ = (
        UniqueConstraint("phase_id", "code"),
        ForeignKeyConstraint(
            ["account_id", "project_id", "phase_id"],
            ["phases.account_id", "phases.project_id", "phases.id"],
        ),
        Index(None, "project_id", "phase_id", "position", "id"),
    )
