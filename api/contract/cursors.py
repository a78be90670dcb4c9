"""Lists in pages: a cursor says where the next page begins, and belongs to one list only.

It is signed with a key that only the token's holder and the service know, over the path, the
filters and the place, so that it fits no other list and no other account.
"""

from __future__ import annotations

import base64
import binascii
import hashlib
import hmac
from collections.abc import Mapping
from typing import Any

from api.contract.errors import BodyFaulty, CursorFaulty
from api.contract.places import parameter
from api.contract.strict_json import read_json
from api.store.columns import canonical_json
from estimator.errors import InputFaulty, fault

LONGEST_CURSOR = 500
PARAMETER = "cursor"

_SIGNATURE_BYTES = 16
_DEEPEST = 3


def cursor_to(place: list[Any], path: str, filters: Mapping[str, Any], key: bytes) -> str:
    """Return a cursor that leads to a place of a list.

    Parameters
    ----------
    place : list of str or int
        The sort values of the last row that was returned.
    path : str
        Of the list.
    filters : mapping of str to str, int or None
        Without cursor and limit.
    key : bytes
        Of the token.
    """
    content = canonical_json(place).encode()
    return _text(_signature(content, path, filters, key) + content)


def place_of(cursor: str, path: str, filters: Mapping[str, Any], key: bytes) -> list[Any]:
    """Return the place that a cursor leads to.

    Raises
    ------
    CursorFaulty
        If it was altered, or made for another list, filter or token.
    """
    try:
        both = base64.urlsafe_b64decode(cursor + "=" * (-len(cursor) % 4))
        signature, content = both[:_SIGNATURE_BYTES], both[_SIGNATURE_BYTES:]
        if _text(both) == cursor and hmac.compare_digest(
            signature, _signature(content, path, filters, key)
        ):
            place: list[Any] = read_json(content, _DEEPEST)
            return place
    except (ValueError, binascii.Error, BodyFaulty):
        pass
    raise _unfit()


def _unfit() -> InputFaulty:
    return fault(
        CursorFaulty,
        "was altered, or belongs to another list",
        "start again without it, and keep the same filters from page to page",
        parameter(PARAMETER),
    )


def _signature(content: bytes, path: str, filters: Mapping[str, Any], key: bytes) -> bytes:
    signed = canonical_json([path, dict(filters)]).encode() + b"\n" + content
    return hmac.digest(key, signed, hashlib.sha256)[:_SIGNATURE_BYTES]


def _text(content: bytes) -> str:
    return base64.urlsafe_b64encode(content).rstrip(b"=").decode()
