"""Submissions that may be repeated: what is sent again gets the same answer, and is done once.

A submission is claimed and answered in the transaction of the work, so either all is saved or
nothing is. Where the work is prepared before it, the claim is saved first: one whose holder died is
taken over when its seconds are up, and a holder that was only slow can then no longer answer.
Nothing is done twice.
"""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any
from uuid import UUID, uuid4

from sqlalchemy import Connection, bindparam, delete, select, update

from api.store.caller import Caller
from api.store.columns import canonical_json
from api.store.errors import AlreadyThere, KeyReused, StillInFlight
from api.store.models import Submission, table_of
from api.store.models.trail import ANSWERED, IN_FLIGHT
from api.store.refusals import store_errors
from api.store.sessions import WritingSession
from api.store.store import Store
from estimator.errors import InputFaulty, fault, quoted

KEPT_FOR = timedelta(days=1)
LONGEST_WORK = timedelta(seconds=10)

_TABLE = table_of(Submission)
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


def claim_submission(
    store: Store, caller: Caller, key: str, route: str, body_digest: str, at: datetime
) -> Claim | StoredAnswer:
    """Return what `claim_within` does, the claim saved before the work is begun.

    Parameters
    ----------
    store : Store
    caller, key, route, body_digest, at
        As for `claim_within`.

    Raises
    ------
    KeyReused, StillInFlight
        Likewise.
    """
    with store.across_accounts(writes=True) as connection:
        return claim_within(connection, caller, key, route, body_digest, at)


def claim_within(
    connection: Connection, caller: Caller, key: str, route: str, body_digest: str, at: datetime
) -> Claim | StoredAnswer:
    """Return the answer that was sent before, or the right to work on a submission.

    Parameters
    ----------
    connection : Connection
        In a transaction that writes.
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

    Raises
    ------
    KeyReused
        If the key came with another route or body before.
    StillInFlight
        If the same submission is being worked on.
    """
    attempt = uuid4()
    fresh: dict[str, Any] = {
        "route": route, "body_digest": body_digest, "state": IN_FLIGHT, "claim": attempt,
        "created_at": at, "claimed_until": at + LONGEST_WORK, "status": None, "headers": None,
        "body": None, "answer_digest": None,
    }  # fmt: skip
    connection.execute(_OLD, {"of_account": caller.account_id, "earliest": at - KEPT_FOR})
    whose = {"of_account": caller.account_id, "of_actor": caller.actor, "of_key": key}
    known = connection.execute(_KNOWN, whose).first()
    if known is None:
        return _claimed(connection, caller, key, fresh)
    if (known.route, known.body_digest) != (route, body_digest):
        raise fault(
            KeyReused,
            f"the key {quoted(key)} was used for something else",
            "choose a new key for a new submission",
        )
    if known.state == ANSWERED:
        return StoredAnswer(known.status, known.headers, known.body)
    if known.claimed_until > at:
        raise _in_flight()
    taken = fresh | {"created_at": known.created_at}
    connection.execute(update(_TABLE).where(_TABLE.c.id == known.id).values(taken))
    return Claim(known.id, attempt)


def answer_submission(work: WritingSession, claim: Claim, answer: StoredAnswer) -> None:
    """Keep the answer to a submission, in the transaction of the work.

    Raises
    ------
    StillInFlight
        If the claim was taken over; then nothing of the work is saved.
    """
    answered = {
        "state": ANSWERED, "status": answer.status, "headers": dict(answer.headers),
        "body": answer.body, "answer_digest": answer.digest,
    }  # fmt: skip
    done = work.connection().execute(_ANSWER, _held(claim) | answered)
    if done.rowcount != 1:
        raise _in_flight()


def release_submission(store: Store, claim: Claim) -> None:
    """Give up a claim, so that the key may be used again: the request was refused."""
    with store.across_accounts(writes=True) as connection:
        connection.execute(_RELEASE, _held(claim))


def _held(claim: Claim) -> dict[str, UUID]:
    return {"of_submission": claim.submission_id, "of_claim": claim.claim}


def _claimed(connection: Connection, caller: Caller, key: str, fresh: Mapping[str, Any]) -> Claim:
    submission_id = uuid4()
    whose = {"id": submission_id, "account_id": caller.account_id, "actor": caller.actor}
    try:
        with store_errors():
            connection.execute(_TABLE.insert(), {**whose, "key": key, **fresh})
    except AlreadyThere as error:
        raise _in_flight() from error
    return Claim(submission_id, fresh["claim"])


def _in_flight() -> InputFaulty:
    return fault(StillInFlight, "the same submission is being worked on", "ask again in a moment")
