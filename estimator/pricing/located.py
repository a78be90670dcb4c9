"""Text of a scope with the place where it stands, whether it came from YAML or a workbook."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True)
class Text:
    """One scalar as it was written."""

    value: str
    where: str


@dataclass(frozen=True)
class Listing:
    """Several values in order."""

    parts: tuple[Located, ...]
    where: str


@dataclass(frozen=True)
class Section:
    """Values under keys."""

    entries: Mapping[str, Located]
    where: str


Located = Text | Listing | Section
