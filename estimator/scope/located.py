"""Text of a scope with the place where it stands, whether it came from YAML or a workbook."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any


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
    """Values under keys, and what was set aside when a whole file was read."""

    entries: Mapping[str, Located]
    where: str
    notes: tuple[str, ...] = ()


Located = Text | Listing | Section


def listed(written: Located, key: str) -> int:
    """Return how many values the lists under a key have, wherever they stand.

    Examples
    --------
    >>> listed(Section({"spots": Listing((Text("1 ft", "D5"),) * 3, "D5")}, "D5"), "spots")
    3
    """
    if isinstance(written, Text):
        return 0
    if isinstance(written, Listing):
        return sum(listed(part, key) for part in written.parts)
    under = written.entries.get(key)
    here = len(under.parts) if isinstance(under, Listing) else 0
    return here + sum(listed(one, key) for one in written.entries.values())


# A text, a list of such, or such under keys.
Plain = str | list[Any] | dict[str, Any]


def without_places(written: Located) -> Plain:
    """Return what is written as plain texts, lists and dictionaries, without where it stands.

    Examples
    --------
    >>> without_places(Section({"depth": Listing((Text("1 ft", "line 2"),), "line 2")}, "line 1"))
    {'depth': ['1 ft']}
    """
    if isinstance(written, Text):
        return written.value
    if isinstance(written, Listing):
        return [without_places(part) for part in written.parts]
    return {key: without_places(one) for key, one in written.entries.items()}
