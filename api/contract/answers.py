"""Answers: JSON, files with safe names, packed when large, with headers that keep browsers safe."""

from __future__ import annotations

import gzip
import json
import re
from typing import TYPE_CHECKING, Any
from urllib.parse import quote

from flask import Response, request

from api.contract.request_ids import NAME, request_id

if TYPE_CHECKING:
    from _typeshed.wsgi import StartResponse, WSGIEnvironment

SMALLEST_PACKED_BYTES = 1_400
LONGEST_NAME = 100

_JSON = json.JSONEncoder(ensure_ascii=False, allow_nan=False)
_PACK_LEVEL = 5
_PACKED_TYPES = ("application/json", "application/problem+json", "text/", "application/javascript")
_UNSAFE = re.compile(r'[\x00-\x1f\x7f"\\/:*?<>|\ud800-\udfff]')
_DIRECTIONS = re.compile("[\u200e\u200f\u202a-\u202e\u2066-\u2069]")

SAFE_HEADERS = {
    "X-Content-Type-Options": "nosniff",
    "Cache-Control": "no-store",
    "Content-Security-Policy": "default-src 'none'; frame-ancestors 'none'",
    "Referrer-Policy": "no-referrer",
    "Cross-Origin-Resource-Policy": "same-origin",
    "X-Frame-Options": "DENY",
}


def json_answer(fields: Any, status: int = 200) -> Response:
    """Return plain dictionaries, lists and texts as an answer, keys in their order."""
    return Response(json_bytes(fields), status, content_type="application/json")


def json_bytes(fields: Any) -> bytes:
    """Return plain dictionaries, lists and texts as JSON in UTF-8."""
    return _JSON.encode(fields).encode()


def attachment(name: str, ending: str) -> str:
    r"""Return a Content-Disposition for a file to keep, safe whatever it is named after.

    Parameters
    ----------
    name : str
        Such as a project's; what files cannot be called, and what turns the direction of writing
        round, is left out.
    ending : str
        `.xlsx`.

    Examples
    --------
    >>> attachment("Brûlerie/2", ".xlsx")
    'attachment; filename="Brlerie2.xlsx"; filename*=UTF-8\'\'Br%C3%BBlerie2.xlsx'
    """
    safe = _DIRECTIONS.sub("", _UNSAFE.sub("", name)).strip(". ")[:LONGEST_NAME] or "estimate"
    plain = safe.encode("ascii", "ignore").decode().strip(". ") or "estimate"
    return (
        f'attachment; filename="{plain}{ending}"; '
        f"filename*=UTF-8''{quote(safe + ending, safe='')}"
    )


def finished(answer: Response) -> Response:
    """Return an answer with its number, packed if it is large."""
    answer.headers.add(NAME, request_id())
    return _packed(answer)


def safely(environ: WSGIEnvironment, start_response: StartResponse) -> StartResponse:
    """Return what starts an answer with the safe headers that it does not set itself."""

    def start(status: str, headers: list[tuple[str, str]], *error: Any) -> Any:
        own = {name for name, _ in headers}
        headers += [(name, text) for name, text in SAFE_HEADERS.items() if name not in own]
        if environ["wsgi.url_scheme"] == "https":
            headers.append(("Strict-Transport-Security", "max-age=31536000"))
        return start_response(status, headers, *error)

    return start


def _packed(answer: Response) -> Response:
    if not (answer.content_type or "").startswith(_PACKED_TYPES) or answer.is_streamed:
        return answer
    answer.headers.add("Vary", "Accept-Encoding")
    content = answer.get_data()
    if len(content) < SMALLEST_PACKED_BYTES or not _takes_gzip():
        return answer
    answer.set_data(gzip.compress(content, _PACK_LEVEL, mtime=0))
    answer.headers["Content-Encoding"] = "gzip"
    return answer


def _takes_gzip() -> bool:
    return request.accept_encodings.quality("gzip") > 0 and "Range" not in request.headers
