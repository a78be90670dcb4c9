"""A scope written in YAML, read as text with line numbers and without YAML's own types.

Every scalar stays the text that was typed: `010` is a code and not the number 8, `no` is a word.
Anchors, tags and repeated keys are refused: none is needed, and each hides something.
"""

from __future__ import annotations

from typing import Any

from estimator.errors import ScopeFaulty, fault, quoted
from estimator.pricing.located import Listing, Located, Section, Text

LARGEST_BYTES = 10_000_000
DEEPEST_NESTING = 12


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
        text = content.decode("utf-8-sig")
        _refuse_anchors_and_depth(yaml.parse(text, Loader=loader), name)
        root = yaml.compose(text, Loader=loader)
    except UnicodeDecodeError as error:
        raise fault(ScopeFaulty, f"is not UTF-8 text at byte {error.start}", where=name) from error
    except yaml.YAMLError as error:
        raise fault(ScopeFaulty, _yaml_words(error), where=name) from error
    if root is None:
        raise fault(ScopeFaulty, "is empty", "docs/scope-file.md shows a scope", where=name)
    return _located(root, name)


def _yaml_words(error: Any) -> str:
    mark = getattr(error, "problem_mark", None)
    place = f" at line {mark.line + 1}, column {mark.column + 1}" if mark else ""
    problem = getattr(error, "problem", None) or "a character that is not allowed"
    return f"is not YAML{place}: {problem}"


def _refuse_anchors_and_depth(events: Any, name: str) -> None:
    depth = 0
    for event in events:
        kind = type(event).__name__
        where = f"{name} line {event.start_mark.line + 1}"
        if getattr(event, "anchor", None):
            raise fault(ScopeFaulty, "uses an anchor or alias", "write the value out", where=where)
        if getattr(event, "tag", None) not in (None, "!"):
            raise fault(
                ScopeFaulty, f"uses the tag {quoted(event.tag)}", "take it out", where=where
            )
        depth += kind in ("MappingStartEvent", "SequenceStartEvent")
        depth -= kind in ("MappingEndEvent", "SequenceEndEvent")
        if depth > DEEPEST_NESTING:
            raise fault(ScopeFaulty, "is nested too deeply", where=where)


def _located(node: Any, name: str) -> Located:
    where = f"{name} line {node.start_mark.line + 1}"
    if node.id == "scalar":
        return Text(node.value, where)
    if node.id == "sequence":
        return Listing(tuple(_located(part, name) for part in node.value), where)
    entries: dict[str, Located] = {}
    for key, value in node.value:
        place = f"{name} line {key.start_mark.line + 1}"
        if key.id != "scalar":
            raise fault(ScopeFaulty, "has a key that is not a plain word", where=place)
        if key.value in entries:
            raise fault(ScopeFaulty, f"repeats the key {quoted(key.value)}", where=place)
        located = _located(value, name)
        entries[key.value] = located
    return Section(entries, where)
