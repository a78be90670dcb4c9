"""What the bodies of a project's scope ask for, as typed commands."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any
from uuid import UUID

from api.contract.commands import LEFT_OUT, LeftOut

# What a scope file has there, as it is written; the library reads it.
Written = Mapping[str, Any]


@dataclass(frozen=True, kw_only=True)
class ProjectChange:
    """What a project is to say before its phases."""

    name: str | LeftOut = LEFT_OUT
    pricing_date: date | LeftOut | None = LEFT_OUT
    shift: str | LeftOut | None = LEFT_OUT
    day_worth: str | LeftOut | None = LEFT_OUT
    markups: Sequence[str] | LeftOut | None = LEFT_OUT
    assumptions: Sequence[str] | LeftOut = LEFT_OUT
    risk: Written | LeftOut | None = LEFT_OUT
    rate_set_id: UUID | LeftOut | None = LEFT_OUT


@dataclass(frozen=True, kw_only=True)
class NewProject(ProjectChange):
    """A project that is to be."""

    name: str
    rate_set_id: UUID | None = None


@dataclass(frozen=True, kw_only=True)
class NewScope:
    """A scope in the place of all that a project says; quotes that are left out stay."""

    scope: str | dict[str, Any]
    quotes: Mapping[str, str] | None = None


@dataclass(frozen=True, kw_only=True)
class ProjectOfScope(NewScope):
    """A project that a scope describes."""

    rate_set_id: UUID | None = None


@dataclass(frozen=True, kw_only=True)
class NewShare:
    """Leave for the holder of a lender's token to read a project."""

    token_id: UUID


@dataclass(frozen=True, kw_only=True)
class PhaseChange:
    """What a phase is to say before its items."""

    code: str | LeftOut = LEFT_OUT
    name: str | LeftOut = LEFT_OUT
    after: Sequence[str] | LeftOut | None = LEFT_OUT
    duration: str | Sequence[Any] | Written | LeftOut | None = LEFT_OUT


@dataclass(frozen=True, kw_only=True)
class NewPhase(PhaseChange):
    """A phase that is to be."""

    code: str
    name: str


@dataclass(frozen=True, kw_only=True)
class ItemChange:
    """What an item is to say, and in which phase."""

    phase_id: UUID | LeftOut = LEFT_OUT
    code: str | LeftOut = LEFT_OUT
    name: str | LeftOut = LEFT_OUT
    assembly: str | LeftOut = LEFT_OUT
    inputs: Written | LeftOut = LEFT_OUT
    crew: str | LeftOut | None = LEFT_OUT
    element: str | LeftOut | None = LEFT_OUT
    note: str | LeftOut | None = LEFT_OUT
    methods: Sequence[Written] | LeftOut | None = LEFT_OUT
    risk: Written | LeftOut | None = LEFT_OUT


@dataclass(frozen=True, kw_only=True)
class NewItem(ItemChange):
    """An item that is to be."""

    phase_id: UUID
    code: str
    name: str
    assembly: str


@dataclass(frozen=True, kw_only=True)
class AtVersion:
    """One row, at the version that the client has read."""

    id: UUID
    version: int


@dataclass(frozen=True, kw_only=True)
class OneOfChanges(ItemChange, AtVersion):
    """A change of one item among several, or its removal."""

    removed: bool = False


@dataclass(frozen=True, kw_only=True)
class ItemAdditions:
    """Items that are to be, all of them or none."""

    items: Sequence[NewItem]


@dataclass(frozen=True, kw_only=True)
class ItemChanges:
    """Changes of items, all of them or none."""

    items: Sequence[OneOfChanges]


@dataclass(frozen=True, kw_only=True)
class PhaseOrder:
    """All phases of a project, as they are to stand."""

    phases: Sequence[AtVersion]


@dataclass(frozen=True, kw_only=True)
class ItemOrder:
    """All items of a phase, as they are to stand."""

    items: Sequence[AtVersion]
