"""A scope written in YAML, read as text with line numbers and without YAML's own types.

Every scalar stays the text that was typed: `010` is a code and not the number 8, `no` is a word.
Anchors, tags and repeated keys are refused: none is needed, and each hides something.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from estimator.errors import ScopeFaulty, fault, quoted
from estimator.scope.located import Listing, Located, Section, Text

LARGEST_BYTES = 10_000_000
DEEPEST_NESTING = 12
MOST_VALUES = 500_000


def read_yaml(content: bytes, name: str) -> Located:
    """Return the located text of a YAML document.

    Parameters
    ----------
    content : bytes
        UTF-8 text, at most 10 MB.
    name : str
        What to call the file in messages.

    Raises
    ------
    ScopeFaulty
        If it is not one plain YAML document.
    """
    import yaml

    if len(content) > LARGEST_BYTES:
        raise fault(ScopeFaulty, "is larger than 10 MB", where=name)
    loader = getattr(yaml, "CBaseLoader", yaml.BaseLoader)
    try:
        root = _Document(yaml.parse(content.decode("utf-8-sig"), Loader=loader), name).read()
    except UnicodeDecodeError as error:
        raise fault(ScopeFaulty, f"is not UTF-8 text at byte {error.start}", where=name) from error
    except yaml.YAMLError as error:
        raise fault(ScopeFaulty, _yaml_words(error), where=name) from error
    if root is None:
        raise fault(ScopeFaulty, "is empty", "docs/scope-file.md shows a scope", where=name)
    return root


def _yaml_words(error: Any) -> str:
    mark = getattr(error, "problem_mark", None)
    place = f" at line {mark.line + 1}, column {mark.column + 1}" if mark else ""
    problem = getattr(error, "problem", None) or "a character that is not allowed"
    return f"is not YAML{place}: {problem}"


class _Document:
    """Reads the one document of a stream of YAML events, in one pass."""

    def __init__(self, events: Iterator[Any], name: str) -> None:
        self.events = events
        self.name = name
        self.count = 0

    def read(self) -> Located | None:
        """Return what the document says, None if there is none."""
        next(self.events)  # the stream begins
        if type(next(self.events)).__name__ != "DocumentStartEvent":
            return None
        root = self._value(next(self.events), 1)
        next(self.events)  # the document ends
        after = next(self.events)
        if type(after).__name__ != "StreamEndEvent":
            raise fault(
                ScopeFaulty, "begins a second document", "take the '---' out", self._place(after)
            )
        return root

    def _value(self, event: Any, depth: int) -> Located:
        kind, where = type(event).__name__, self._place(event)
        self.count += 1
        if self.count > MOST_VALUES:
            raise fault(ScopeFaulty, f"holds more than {MOST_VALUES:,} values", "divide it", where)
        if event.anchor is not None:
            raise fault(ScopeFaulty, "uses an anchor or alias", "write the value out", where)
        if event.tag not in (None, "!"):
            raise fault(ScopeFaulty, f"uses the tag {quoted(event.tag)}", "remove it", where)
        if kind == "ScalarEvent":
            return Text(event.value, where)
        if depth > DEEPEST_NESTING:
            raise fault(ScopeFaulty, "is nested too deeply", where=where)
        if kind == "SequenceStartEvent":
            return Listing(tuple(self._parts("SequenceEndEvent", depth)), where)
        return Section(self._entries(depth), where)

    def _parts(self, end: str, depth: int) -> Iterator[Located]:
        while type(event := next(self.events)).__name__ != end:
            yield self._value(event, depth + 1)

    def _entries(self, depth: int) -> dict[str, Located]:
        entries: dict[str, Located] = {}
        parts = self._parts("MappingEndEvent", depth)
        for key in parts:
            if not isinstance(key, Text):
                raise fault(ScopeFaulty, "has a key that is not a plain word", where=key.where)
            if key.value in entries:
                raise fault(ScopeFaulty, f"repeats the key {quoted(key.value)}", where=key.where)
            entries[key.value] = next(parts)
        return entries

    def _place(self, event: Any) -> str:
        return f"{self.name} line {event.start_mark.line + 1}"
