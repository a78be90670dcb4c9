"""JSON that people can read too, of figures as decimal texts."""

from __future__ import annotations

from collections.abc import Collection
from typing import Any

import orjson

_FLAT = frozenset({str, int, bool, type(None)})
_PLAIN = (str, int, type(None), dict, list)


def indented_json(value: Any) -> str:
    """Return plain dictionaries, lists, texts and whole numbers as JSON, indented by two blanks.

    Raises
    ------
    TypeError
        If a value is of another kind: a float has no place where figures are decimal texts; or if
        a whole number takes more than 64 bits.

    Notes
    -----
    The same bytes as `json.dumps(value, indent=2, ensure_ascii=False)`.

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
    _expect_plain([value])
    return orjson.dumps(value, option=orjson.OPT_INDENT_2).decode()


def _expect_plain(values: Collection[Any]) -> None:
    kinds = {*map(type, values)}
    if kinds <= _FLAT:
        return
    for kind in kinds:
        if not issubclass(kind, _PLAIN):
            raise TypeError(f"{kind.__name__} is not written to JSON")
    for one in values:
        if isinstance(one, dict):
            _expect_plain(one.values())
        elif isinstance(one, list):
            _expect_plain(one)
