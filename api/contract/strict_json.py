"""Reading JSON so that it means one thing: no NaN, no 1e400, no key twice, no half characters.

The usual reader takes all of these, and 100,000 nested brackets end it. Numbers with a point come
out as `Decimal`; how deep brackets stand is counted before anything is parsed.
"""

from __future__ import annotations

import json
import re
from decimal import Decimal
from typing import Any, NoReturn

from api.contract.errors import BodyFaulty
from estimator.errors import InputFaulty, fault, quoted

LONGEST_WHOLE_DIGITS = 18
LONGEST_NUMBER = 40
_NEAR_NUMBER = re.compile(r"[^eE]*([eE][+-]?\d{1,2})?")

# A text that never ends is one text, so that no letter is looked at twice.
_BRACKET_OR_TEXT = re.compile(rb'"(?:[^"\\]++|\\.)*+"?|[\[\]{}]', re.DOTALL)
_HALF_CHARACTER = re.compile(rb"\\u[dD][89a-fA-F]")


def read_json(content: bytes, deepest: int) -> Any:
    """Return what JSON text says.

    Parameters
    ----------
    content : bytes
        UTF-8.
    deepest : int
        How many brackets may stand within brackets.

    Raises
    ------
    BodyFaulty
        If it is not JSON, not in UTF-8, nested too deeply, repeats a key, or holds a number or
        character that cannot be stored.

    Examples
    --------
    >>> read_json(b'{"days": 24, "rate": 12.50}', 32)
    {'days': 24, 'rate': Decimal('12.50')}
    """
    _check_depth(content, deepest)
    try:
        value = _DECODER.decode(content.decode())
        if _HALF_CHARACTER.search(content):
            json.dumps(value, ensure_ascii=False, default=str).encode()
    except UnicodeDecodeError as error:
        raise _faulty(f"is not UTF-8 at byte {error.start}") from None
    except UnicodeEncodeError:
        raise _faulty("holds half a character", "write both halves of it") from None
    except json.JSONDecodeError as error:
        place = f"line {error.lineno}, column {error.colno}"
        raise _faulty(f"is not JSON at {place}: {error.msg}") from None
    return value


def _check_depth(content: bytes, deepest: int) -> None:
    depth = 0
    for match in _BRACKET_OR_TEXT.finditer(content):
        first = match[0][:1]
        depth += first in b"[{"
        depth -= first in b"]}"
        if depth > deepest:
            raise _faulty(f"is nested more than {deepest} deep")


def _faulty(what: str, remedy: str = "") -> InputFaulty:
    return fault(BodyFaulty, f"the body {what}", remedy)


def _constant(name: str) -> NoReturn:
    raise _faulty(f"holds {name}, which is not a number")


def _whole(digits: str) -> int:
    if len(digits.lstrip("-")) > LONGEST_WHOLE_DIGITS:
        raise _faulty(f"holds a number with more than {LONGEST_WHOLE_DIGITS} digits")
    return int(digits)


def _broken(text: str) -> Decimal:
    if len(text) <= LONGEST_NUMBER and _NEAR_NUMBER.fullmatch(text):
        number = Decimal(text)
        if abs(number.adjusted()) <= LONGEST_NUMBER:
            return number
    raise _faulty(f"holds the number {quoted(text)}, which is out of bounds")


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    fields = dict(pairs)
    if len(fields) < len(pairs):
        seen: set[str] = set()
        twice = next(key for key, _ in pairs if key in seen or seen.add(key))  # type: ignore[func-returns-value]
        raise _faulty(f"has the key {quoted(twice)} twice")
    return fields


_DECODER = json.JSONDecoder(
    object_pairs_hook=_once, parse_constant=_constant, parse_int=_whole, parse_float=_broken
)
