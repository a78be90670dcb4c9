"""What the bodies about rate sets and their versions ask for, as typed commands."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from uuid import UUID

from api.contract.commands import LEFT_OUT, LeftOut


@dataclass(frozen=True, kw_only=True)
class NamedSet:
    """What a rate set is called."""

    name: str


@dataclass(frozen=True, kw_only=True)
class NewDraft:
    """What a draft begins with: another version's rows, tables, or nothing."""

    from_version: UUID | LeftOut = LEFT_OUT
    tables: Mapping[str, str] | LeftOut = LEFT_OUT
    note: str = ""


@dataclass(frozen=True, kw_only=True)
class NewNote:
    """What is said of a version."""

    note: str


@dataclass(frozen=True, kw_only=True)
class NewTables:
    """Tables in the place of all rows: texts of CSV by file name."""

    tables: Mapping[str, str]
