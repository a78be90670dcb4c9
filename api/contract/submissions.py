"""`Idempotency-Key`: a request that creates something may be sent again without harm.

The same key, query and body get the stored answer, however often; another query or body is refused,
and so is the same while the first is being prepared outside the turn to write.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Callable
from typing import Any

from flask import Response, request

from api.contract.answers import json_bytes
from api.contract.bodies import JSON_TYPE
from api.contract.errors import KeyFaulty
from api.contract.places import header
from api.contract.preconditions import version_tag
from api.contract.services import Services
from api.store.caller import Caller
from api.store.submissions import (
    Claim,
    StoredAnswer,
    Submission,
    answer_submission,
    answer_within,
    claim_submission,
    release_submission,
)
from api.store.writing_session import WritingSession
from estimator.errors import InputFaulty, fault

KEY_HEADER = "Idempotency-Key"
REPLAYED_HEADER = "Idempotency-Replayed"

_KEY = re.compile(r"[\x21-\x7e]{1,255}", re.ASCII)


def idempotency_key() -> str:
    """Return the key of the request in hand.

    Raises
    ------
    KeyFaulty
        If there is none, or it has blanks, is too long, or is not ASCII.
    """
    key = request.headers.get(KEY_HEADER, "")
    if _KEY.fullmatch(key):
        return key
    raise fault(
        KeyFaulty,
        "is missing" if not key else "cannot be used",
        "choose a new one for each thing to create: 1 to 255 letters and digits, such as a UUID",
        header(KEY_HEADER),
    )


def submit(
    parts: Services,
    caller: Caller,
    create: Callable[[WritingSession], StoredAnswer],
    prepare: Callable[[], None] | None = None,
) -> tuple[StoredAnswer, bool]:
    """Return the answer to a request that creates something, and whether it was sent before.

    Parameters
    ----------
    parts : Services
    caller : Caller
    create : callable
        Writes to a session and returns the answer, which is stored for a day: nothing secret.
    prepare : callable, optional
        What takes long and writes nothing, as for `Store.carry_out`.

    Raises
    ------
    KeyFaulty, KeyReused, StillInFlight
        As the key asks for.
    """
    key, route = idempotency_key(), f"{request.method} {request.path}"
    sent = Submission(caller, key, route, _sent_digest(), parts.now)
    if prepare is None:
        return parts.store.carry_out(
            caller, sent.at, lambda work: answer_within(work, sent, create)
        )
    claim = claim_submission(parts.store, sent)
    if isinstance(claim, StoredAnswer):
        return claim, True
    try:
        return parts.store.carry_out(
            caller, parts.now, lambda work: _answered(work, claim, create), prepare
        )
    except BaseException:
        _give_back(parts, claim)
        raise


def creation(location: str, fields: Any, version: int | None = None) -> StoredAnswer:
    """Return the answer to a request that created something, as it is stored.

    Parameters
    ----------
    location : str
        The path of what was created.
    fields : dict
        The body as plain JSON.
    version : int or None
        Of what was created, if it is one that changes.
    """
    headers = {"Location": location, "Content-Type": JSON_TYPE}
    if version is not None:
        headers["ETag"] = version_tag(version)
    return StoredAnswer(201, headers, json_bytes(fields))


def create_row(
    parts: Services,
    caller: Caller,
    create: Callable[[WritingSession], StoredAnswer],
    prepare: Callable[[], None] | None = None,
) -> Response:
    """Return the response to a request that creates something, done once for each key.

    The arguments are those of `submit`.

    Raises
    ------
    KeyFaulty, KeyReused, StillInFlight
        As the key asks for.
    """
    answer, is_replayed = submit(parts, caller, create, prepare)
    return created_answer(answer, is_replayed=is_replayed)


def created_answer(answer: StoredAnswer, *, is_replayed: bool) -> Response:
    """Return a stored answer as a response."""
    response = Response(answer.body, answer.status, dict(answer.headers))
    if is_replayed:
        response.headers[REPLAYED_HEADER] = "true"
    return response


def _sent_digest() -> str:
    """Return a SHA-256 of the body and, where there is one, of the query with it."""
    body = hashlib.sha256(request.get_data())
    if not request.query_string:
        return body.hexdigest()
    return hashlib.sha256(body.digest() + request.query_string).hexdigest()


def _answered(
    work: WritingSession,
    claim: Claim,
    create: Callable[[WritingSession], StoredAnswer],
) -> tuple[StoredAnswer, bool]:
    """Return the answer to a claimed submission, and that it was not sent before."""
    answer = create(work)
    work.flush()
    answer_submission(work, claim, answer)
    return answer, False


def _give_back(parts: Services, claim: Claim) -> None:
    """Let the key be used again; where that fails too, its time runs out by itself."""
    try:
        release_submission(parts.store, claim)
    except InputFaulty:
        return
