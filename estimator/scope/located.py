"""Text of a scope with the place where it stands, whether it came from YAML or a workbook."""

from __future__ import annotations

from collections import Counter
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
    """Values under keys, and what was set aside when a whole file was read.

    One that stands in for what is no set of keys has none, and none is missing.
    """

    entries: Mapping[str, Located]
    where: str
    notes: tuple[str, ...] = ()
    is_stand_in: bool = False


Located = Text | Listing | Section


def list_sizes(written: Located) -> Counter[str]:
    """Return how many values the lists under each key have in all, wherever they stand.

    Examples
    --------
    >>> list_sizes(Section({"spots": Listing((Text("1 ft", "D5"),) * 3, "D5")}, "D5"))["spots"]
    3
    """
    sizes, waiting = Counter[str](), [written]
    while waiting:
        part = waiting.pop()
        if isinstance(part, Listing):
            waiting += part.parts
        elif isinstance(part, Section):
            for key, under in part.entries.items():
                if isinstance(under, Listing):
                    sizes[key] += len(under.parts)
                if not isinstance(under, Text):
                    waiting.append(under)
    return sizes


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
