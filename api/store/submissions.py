"""Submissions that may be repeated: what is sent again gets the same answer, and is done once.

A submission is answered in the transaction of the work, so either all is saved or nothing is.
Where the work is prepared before it, a claim is saved first: one whose holder died is taken over
when its seconds are up, and a holder that was only slow can then no longer answer. Nothing is done
twice.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any
from uuid import UUID, uuid4

from sqlalchemy import Connection, bindparam, delete, select, update

from api.store.bulk import insert_rows
from api.store.caller import Caller
from api.store.columns import canonical_json
from api.store.errors import AlreadyThere, KeyReused, StillInFlight
from api.store.models import StoredSubmission, table_of
from api.store.models.trail import ANSWERED, IN_FLIGHT
from api.store.refusals import store_errors
from api.store.store import Store
from api.store.writing_session import WritingSession
from estimator.errors import InputFaulty, fault, quoted

STORED_FOR = timedelta(days=1)
LONGEST_WORK = timedelta(seconds=10)
_CLEARED_ONCE_IN = 16  # submissions, as their microseconds fall: clearing at each would cost more

_TABLE = table_of(StoredSubmission)
_OF_ACCOUNT = _TABLE.c.account_id == bindparam("of_account")
_OLD = delete(_TABLE).where(_OF_ACCOUNT, _TABLE.c.created_at < bindparam("earliest"))
_KNOWN = (
    select(_TABLE)
    .where(
        _OF_ACCOUNT, _TABLE.c.actor == bindparam("of_actor"), _TABLE.c.key == bindparam("of_key")
    )
    .with_for_update()
)
_HELD = (
    _TABLE.c.id == bindparam("of_submission"),
    _TABLE.c.claim == bindparam("of_claim"),
    _TABLE.c.state == IN_FLIGHT,
)
_IN_FLIGHT: dict[str, Any] = {
    "state": IN_FLIGHT, "status": None, "headers": None, "body": None, "answer_digest": None,
}  # fmt: skip
_ANSWER, _RELEASE = update(_TABLE).where(*_HELD), delete(_TABLE).where(*_HELD)


@dataclass(frozen=True)
class Claim:
    """The right to work on a submission and to answer it."""

    submission_id: UUID
    claim: UUID


@dataclass(frozen=True)
class StoredAnswer:
    """An answer, stored for a day, so nothing secret may be in it."""

    status: int
    headers: Mapping[str, str]
    body: bytes

    @property
    def digest(self) -> str:
        """SHA-256 of all of it, which `database verify` compares."""
        head = canonical_json([self.status, dict(self.headers)])
        return hashlib.sha256(head.encode() + (self.body or b"")).hexdigest()


@dataclass(frozen=True)
class Submission:
    """What somebody sends to create something.

    Parameters
    ----------
    caller : Caller
        Keys belong to the caller's token.
    key : str
        The idempotency key.
    route : str
        Method and path.
    body_digest : str
        SHA-256 of the body, and of the query with it.
    at : datetime
        Now.
    """

    caller: Caller
    key: str
    route: str
    body_digest: str
    at: datetime


def claim_submission(store: Store, sent: Submission) -> Claim | StoredAnswer:
    """Return the answer that was sent before, or the right to work on a submission, saved.

    Raises
    ------
    KeyReused
        If the key came with another route or body before.
    StillInFlight
        If the same request is still being worked on.
    """
    attempt = uuid4()
    with store.across_accounts(writes=True) as connection:
        earlier = _earlier(connection, sent)
        if isinstance(earlier, StoredAnswer):
            return earlier
        return Claim(_put(connection, sent, earlier, {"claim": attempt}), attempt)


def answer_within(
    work: WritingSession, sent: Submission, create: Callable[[WritingSession], StoredAnswer]
) -> tuple[StoredAnswer, bool]:
    """Return the answer to a submission that is worked on in one transaction, without a claim.

    Parameters
    ----------
    work : WritingSession
        Of the transaction.
    sent : Submission
        The key of the request, and the digest of its body.
    create : callable
        Writes to the session and returns the answer.

    Returns
    -------
    StoredAnswer, bool
        The answer, and whether it was sent before.

    Raises
    ------
    KeyReused, StillInFlight
        As `claim_submission`.
    """
    earlier = _earlier(work.connection(), sent)
    if isinstance(earlier, StoredAnswer):
        return earlier, True
    answer = create(work)
    work.flush()
    _put(work.connection(), sent, earlier, {"claim": uuid4(), **_answered(answer)})
    return answer, False


def _earlier(connection: Connection, sent: Submission) -> StoredAnswer | UUID | None:
    """Return the answer that was sent before, or the id of a claim whose time is up, if any."""
    whose = {"of_account": sent.caller.account_id}
    known = connection.execute(
        _KNOWN, {**whose, "of_actor": sent.caller.actor, "of_key": sent.key}
    ).first()
    earliest = sent.at - STORED_FOR
    is_over = known is not None and known.created_at < earliest
    if is_over or sent.at.microsecond % _CLEARED_ONCE_IN == 0:
        connection.execute(_OLD, {**whose, "earliest": earliest})
    if known is None or is_over:
        return None
    if (known.route, known.body_digest) != (sent.route, sent.body_digest):
        raise fault(
            KeyReused,
            f"the key {quoted(sent.key)} was used for something else",
            "choose a new key for a new request",
        )
    if known.state == ANSWERED:
        return StoredAnswer(known.status, known.headers, known.body)
    if known.claimed_until > sent.at:
        raise _in_flight()
    claim_id: UUID = known.id
    return claim_id


def answer_submission(work: WritingSession, claim: Claim, answer: StoredAnswer) -> None:
    """Keep the answer to a submission, in the transaction of the work.

    Raises
    ------
    StillInFlight
        If the claim was taken over; then nothing of the work is saved.
    """
    done = work.connection().execute(_ANSWER, _held(claim) | _answered(answer))
    if done.rowcount != 1:
        raise _in_flight()


def release_submission(store: Store, claim: Claim) -> None:
    """Give up a claim, so that the key may be used again: the request was refused."""
    with store.across_accounts(writes=True) as connection:
        connection.execute(_RELEASE, _held(claim))


def _held(claim: Claim) -> dict[str, UUID]:
    return {"of_submission": claim.submission_id, "of_claim": claim.claim}


def _answered(answer: StoredAnswer) -> dict[str, Any]:
    return {
        "state": ANSWERED, "status": answer.status, "headers": dict(answer.headers),
        "body": answer.body, "answer_digest": answer.digest,
    }  # fmt: skip


def _put(
    connection: Connection, sent: Submission, taken: UUID | None, columns: Mapping[str, Any]
) -> UUID:
    """Write a submission, in the place of one whose time was up, and return its id."""
    row = {"claimed_until": sent.at + LONGEST_WORK, **_IN_FLIGHT, **columns}
    if taken is not None:
        connection.execute(update(_TABLE).where(_TABLE.c.id == taken).values(row))
        return taken
    row |= {
        "id": uuid4(), "account_id": sent.caller.account_id, "actor": sent.caller.actor,
        "key": sent.key, "route": sent.route, "body_digest": sent.body_digest,
        "created_at": sent.at,
    }  # fmt: skip
    try:
        with store_errors():
            insert_rows(connection, _TABLE, [row])
    except AlreadyThere as error:
        raise _in_flight() from error
    new_id: UUID = row["id"]
    return new_id


def _in_flight() -> InputFaulty:
    return fault(
        StillInFlight, "the same request is still being worked on", "try again in a moment"
    )
