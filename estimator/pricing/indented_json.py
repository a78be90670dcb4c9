"""JSON that people can read too, in a fraction of the time that the standard library takes."""

from __future__ import annotations

from json.encoder import encode_basestring
from typing import Any

_STEP = "  "


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
        parts = [
            # most values are texts, so those are spared a call
            f"{encode_basestring(key)}: "
            f"{encode_basestring(one) if one.__class__ is str else _text(one, inner)}"
            for key, one in value.items()
        ]
        return _bracketed("{", parts, "}", line, inner)
    if isinstance(value, list):
        return _bracketed("[", [_text(one, inner) for one in value], "]", line, inner)
    if value is None or isinstance(value, bool):
        return {None: "null", True: "true", False: "false"}[value]
    if isinstance(value, int):
        return str(value)
    raise TypeError(f"{type(value).__name__} is not written to JSON")


def _bracketed(first: str, parts: list[str], last: str, line: str, inner: str) -> str:
    return f"{first}{inner}{f',{inner}'.join(parts)}{line}{last}" if parts else first + last
