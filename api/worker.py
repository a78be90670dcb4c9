"""A worker that answers what is no request at all with a problem too, and keeps it out of the log.

The server's own worker would answer with a page of its own that repeats what was sent, and write
that to the log: a token, if somebody sent one in the wrong place.
"""

from __future__ import annotations

import json
import signal
from contextlib import suppress
from http import HTTPStatus
from typing import Any
from uuid import uuid4

from gunicorn.http.errors import (
    ExpectationFailed,
    InvalidH2CPreface,
    LimitRequestHeaders,
    LimitRequestLine,
    ParseException,
)
from gunicorn.workers.gthread import ThreadWorker

_STATUS = {
    LimitRequestLine: HTTPStatus.REQUEST_URI_TOO_LONG,
    LimitRequestHeaders: HTTPStatus.REQUEST_HEADER_FIELDS_TOO_LARGE,
    ExpectationFailed: HTTPStatus.EXPECTATION_FAILED,
}
_ASKED_WRONGLY = "This is no request as HTTP/1.1 has it (RFC 9112); nothing was done."
_OUR_FAULT = "The service could not do this; it has been noted under the number of the request."


class Worker(ThreadWorker):  # type: ignore[misc]
    """A worker with threads, as the server has it, but for what it says of unreadable requests.

    It is forked with signals held back, and lets them in as soon as it knows what to do with them.
    """

    def init_signals(self) -> None:
        """Take signals from now on, also those that came since the fork."""
        super().init_signals()
        signal.pthread_sigmask(signal.SIG_UNBLOCK, self.SIGNALS)

    def handle_error(self, _req: object, client: Any, _addr: object, exc: Exception) -> None:
        """Answer a request that could not be read; what was sent is repeated nowhere."""
        number = uuid4().hex
        if isinstance(exc, ParseException | InvalidH2CPreface):
            status, detail = _STATUS.get(type(exc), HTTPStatus.BAD_REQUEST), _ASKED_WRONGLY
            self.log.warning("%s unreadable request: %s", number, type(exc).__name__)
        else:
            status, detail = HTTPStatus.INTERNAL_SERVER_ERROR, _OUR_FAULT
            self.log.error("%s %s", number, type(exc).__name__, exc_info=exc)
        with suppress(OSError):
            client.sendall(_answer(status, detail, number))


def _answer(status: HTTPStatus, detail: str, number: str) -> bytes:
    code = status.phrase.lower().replace(" ", "-")
    told = {
        "type": "about:blank",
        "title": status.phrase,
        "status": status.value,
        "detail": detail,
        "code": code,
        "request_id": number,
    }
    body = json.dumps(told).encode()
    head = (
        f"HTTP/1.1 {status.value} {status.phrase}",
        "Connection: close",
        "Content-Type: application/problem+json",
        f"Content-Length: {len(body)}",
        "X-Content-Type-Options: nosniff",
        "Cache-Control: no-store",
        f"X-Request-Id: {number}",
    )
    return "\r\n".join((*head, "", "")).encode() + body
