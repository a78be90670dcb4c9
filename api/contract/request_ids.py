"""The number of each request: the client's own if it is a fit one, else a new one."""

from __future__ import annotations

import re
from random import getrandbits

from flask import g, has_request_context, request

NAME = "X-Request-Id"

_FIT = re.compile(r"[A-Za-z0-9._-]{1,64}", re.ASCII)


def request_id() -> str:
    """Return the number of the request in hand; outside of one, a dash."""
    if not has_request_context():
        return "-"
    number: str | None = g.get("request_id")
    if number is None:
        sent = request.headers.get(NAME, "")
        number = g.request_id = sent if _FIT.fullmatch(sent) else f"{getrandbits(128):032x}"
    return number
