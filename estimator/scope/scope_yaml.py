"""A scope written in YAML, read as text with line numbers and without YAML's own types.

Every scalar stays the text that was typed: `010` is a code and not the number 8, `no` is a word.
Anchors, tags and repeated keys are refused: none is needed, and each hides something.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import Any

from estimator.errors import Faults, ScopeFaulty, fault, quoted
from estimator.scope.located import Listing, Located, Section, Text
from estimator.scope.yaml_slips import cut_off_by, slip_at

LARGEST_BYTES = 10_000_000
DEEPEST_NESTING = 12
MOST_VALUES = 500_000
MOST_SLIPS = 20

# A longer text is not parsed again for the next slip: that would take seconds.
_LONGEST_MENDED = 100_000
_LINE_END = re.compile("\r\n|[\r\n\x85\u2028\u2029]")


def read_yaml(content: bytes, name: str, faults: Faults | None = None) -> Located:
    """Return the located text of a YAML document.

    Parameters
    ----------
    content : bytes
        UTF-8 text, at most 10 MB.
    name : str
        What to call the file in messages.
    faults : Faults, optional
        Where slips are noted that can be read past, so that all that is wrong with the scope
        comes in one answer; whoever gives it raises them.

    Raises
    ------
    ScopeFaulty
        If it is not one plain YAML document, with the slips noted before.
    """
    noted = Faults() if faults is None else faults
    if len(content) > LARGEST_BYTES:
        raise fault(ScopeFaulty, "is larger than 10 MB", where=name)
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise fault(ScopeFaulty, f"is not UTF-8 text at byte {error.start}", where=name) from error
    root = _read_past_slips(text, name, noted)
    if root is None:
        noted.add(name, "is empty", "docs/scope-file.md shows a scope")
    if root is None or faults is None:
        noted.raise_if_any(ScopeFaulty)
    return root or Text("", name)


def _read_past_slips(text: str, name: str, faults: Faults) -> Located | None:
    """Return what a text says, its slips noted and mended one after the other."""
    import yaml

    loader = getattr(yaml, "CBaseLoader", yaml.BaseLoader)
    lines = _LINE_END.split(text)
    for _ in range(MOST_SLIPS):
        cut_off = Faults()
        try:
            events = iter(loader(text).get_event, None)
            root = _Document(events, name, lines if "#" in text else (), cut_off).read()
        except yaml.YAMLError as error:
            slip = slip_at(error, lines)
            if slip is None:
                faults.entries += cut_off.entries
                faults.add(name, _yaml_words(error))
                break
            faults.add(f"{name} line {slip.line + 1}", slip.what, slip.remedy)
            if len(text) > _LONGEST_MENDED:
                break
            lines[slip.line] = slip.mended
            text = "\n".join(lines)
        except ScopeFaulty as error:
            faults.take("", error)
            break
        else:
            faults.entries += cut_off.entries
            return root
    raise ScopeFaulty(faults.entries, faults.more)


def _yaml_words(error: Any) -> str:
    mark = getattr(error, "problem_mark", None)
    place = f" at line {mark.line + 1}, column {mark.column + 1}" if mark else ""
    problem = getattr(error, "problem", None) or "a character that is not allowed"
    return f"is not YAML{place}: {problem}"


class _Document:
    """Reads the one document of a stream of YAML events, in one pass.

    `lines` are those of a text in which a `#` may cut values off.
    """

    def __init__(
        self, events: Iterator[Any], name: str, lines: Sequence[str], faults: Faults
    ) -> None:
        self.events = events
        self.name = name
        self.lines = lines
        self.faults = faults
        self.count = 0

    def read(self) -> Located | None:
        """Return what the document says, None if there is none, noting texts that are cut off."""
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
            self._note_if_cut_off(event, where)
            return Text(event.value, where)
        if depth > DEEPEST_NESTING:
            raise fault(ScopeFaulty, "is nested too deeply", where=where)
        if kind == "SequenceStartEvent":
            return Listing(tuple(self._parts(depth)), where)
        return Section(self._entries(depth), where)

    def _note_if_cut_off(self, event: Any, where: str) -> None:
        mark = event.end_mark
        if event.style or not event.value or mark.line >= len(self.lines):
            return
        rest = cut_off_by(self.lines[mark.line], mark.column)
        if rest:
            what = (
                f"{quoted(event.value)} ends there, because YAML takes {quoted(rest)} for a comment"
            )
            self.faults.add(where, what, f'put the text in quotes: "{event.value} {rest}"')

    def _parts(self, depth: int) -> Iterator[Located]:
        while type(event := next(self.events)).__name__ != "SequenceEndEvent":
            yield self._value(event, depth + 1)

    def _entries(self, depth: int) -> dict[str, Located]:
        entries: dict[str, Located] = {}
        while type(event := next(self.events)).__name__ != "MappingEndEvent":
            key = self._value(event, depth + 1)
            if not isinstance(key, Text):
                raise fault(ScopeFaulty, "has a key that is not a plain word", where=key.where)
            if key.value in entries:
                raise fault(ScopeFaulty, f"repeats the key {quoted(key.value)}", where=key.where)
            entries[key.value] = self._value(next(self.events), depth + 1)
        return entries

    def _place(self, event: Any) -> str:
        return f"{self.name} line {event.start_mark.line + 1}"
