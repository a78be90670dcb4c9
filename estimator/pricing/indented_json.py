"""JSON that people can read too, in a fraction of the time that the standard library takes."""

from __future__ import annotations

from functools import cache
from itertools import chain
from json import JSONEncoder
from json.encoder import encode_basestring
from typing import Any

_STEP = "  "
_FLAT = frozenset({str, int, bool, type(None)})


def indented_json(value: Any) -> str:
    """Return plain dictionaries, lists, texts and whole numbers as JSON, indented by two blanks.

    Raises
    ------
    TypeError
        If a value is of another kind: a float has no place where figures are decimal texts.

    Notes
    -----
    The same bytes as `json.dumps(value, indent=2, ensure_ascii=False)`, which leaves its fast
    encoder as soon as it indents.

    Examples
    --------
    >>> print(indented_json({"form": 1, "lines": ["a", None], "markups": []}))
    {
      "form": 1,
      "lines": [
        "a",
        null
      ],
      "markups": []
    }
    """
    return _text(value, "\n")


def _text(value: Any, line: str) -> str:
    """Return a value; `line` is what a line of its surroundings begins with."""
    if isinstance(value, str):
        return encode_basestring(value)
    inner = line + _STEP
    if isinstance(value, dict):
        if _is_flat(value):
            parts = [_on_lines(inner).encode(value)[1:-1]] if value else []
        else:
            parts = [f"{encode_basestring(key)}: {_text(one, inner)}" for key, one in value.items()]
        return _bracketed("{", parts, "}", line, inner)
    if isinstance(value, list):
        if _FLAT.issuperset(map(type, value)):
            parts = [_on_lines(inner).encode(value)[1:-1]] if value else []
            return _bracketed("[", parts, "]", line, inner)
        if _are_rows(value):
            return _bracketed("[", _rows(value, inner), "]", line, inner)
        return _bracketed("[", [_text(one, inner) for one in value], "]", line, inner)
    if value is None or isinstance(value, bool):
        return {None: "null", True: "true", False: "false"}[value]
    if isinstance(value, int):
        return str(value)
    raise TypeError(f"{type(value).__name__} is not written to JSON")


def _is_flat(value: dict[str, Any]) -> bool:
    return _FLAT.issuperset(map(type, value.values()))


def _are_rows(value: list[Any]) -> bool:
    """Whether a list is one of flat dictionaries, none of them empty."""
    return (
        {*map(type, value)} == {dict}
        and all(value)
        and _FLAT.issuperset(map(type, chain.from_iterable(map(dict.values, value))))
    )


def _rows(value: list[dict[str, Any]], line: str) -> list[str]:
    """Return flat dictionaries as one text: a bare line ends in JSON only between two values."""
    inner = line + _STEP
    text = _on_lines(inner).encode(value)[2:-2]
    between = f"{line}}},{line}{{{inner}"
    return [f"{{{inner}{text.replace(f'}},{inner}{{', between)}{line}}}"]


@cache
def _on_lines(inner: str) -> JSONEncoder:
    """Return the fast encoder, to write what holds nothing more with each value on its line."""
    return JSONEncoder(ensure_ascii=False, separators=(f",{inner}", ": "))


def _bracketed(first: str, parts: list[str], last: str, line: str, inner: str) -> str:
    return f"{first}{inner}{f',{inner}'.join(parts)}{line}{last}" if parts else first + last
