"""Submissions that may be repeated: the same key and body get the same answer, once worked on.

A submission is claimed before the work and answered in the work's own transaction, so either
both are saved or neither is. A claim whose holder died is taken over when its seconds are up, and a
holder that was only slow can then no longer answer: nothing is done twice.
"""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any
from uuid import UUID, uuid4

from sqlalchemy import Connection, Row, delete, insert, select, update

from api.store.caller import Caller
from api.store.columns import canonical_json
from api.store.engine import SQLITE
from api.store.errors import AlreadyThere, KeyReused, StillInFlight
from api.store.models import Submission, table_of
from api.store.models.trail import ANSWERED, IN_FLIGHT
from api.store.sessions import WritingSession
from api.store.store import Store
from estimator.errors import InputFaulty, fault, quoted

KEPT_FOR = timedelta(days=1)
LONGEST_WORK = timedelta(seconds=10)

_TABLE = table_of(Submission)


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
    store: Store,
    caller: Caller,
    key: str,
    route: str,
    body_digest: str,
    at: datetime,
) -> Claim | StoredAnswer:
    """Return the answer that was sent before, or the right to work on a submission.

    Parameters
    ----------
    store, caller : Store, Caller
        Keys belong to the caller's token.
    key : str
        The idempotency key.
    route : str
        Method and path.
    body_digest : str
        SHA-256 of the body.
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
    try:
        with store.across_accounts(writes=True) as connection:
            _forget_old(connection, caller.account_id, at)
            known = _known(connection, caller, key)
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
    except AlreadyThere as error:
        raise _in_flight() from error


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
    done = work.connection().execute(update(_TABLE).where(*_held(claim)).values(answered))
    if done.rowcount != 1:
        raise _in_flight()


def release_submission(store: Store, claim: Claim) -> None:
    """Give up a claim, so that the key may be used again: the request was refused."""
    with store.across_accounts(writes=True) as connection:
        connection.execute(delete(_TABLE).where(*_held(claim)))


def _held(claim: Claim) -> tuple[Any, ...]:
    return (
        _TABLE.c.id == claim.submission_id,
        _TABLE.c.claim == claim.claim,
        _TABLE.c.state == IN_FLIGHT,
    )


def _forget_old(connection: Connection, account_id: UUID, at: datetime) -> None:
    old = (_TABLE.c.account_id == account_id, _TABLE.c.created_at < at - KEPT_FOR)
    connection.execute(delete(_TABLE).where(*old))


def _known(connection: Connection, caller: Caller, key: str) -> Row[Any] | None:
    statement = select(_TABLE).where(
        _TABLE.c.account_id == caller.account_id,
        _TABLE.c.actor == caller.actor,
        _TABLE.c.key == key,
    )
    if connection.dialect.name != SQLITE:
        statement = statement.with_for_update()
    return connection.execute(statement).first()


def _claimed(connection: Connection, caller: Caller, key: str, fresh: Mapping[str, Any]) -> Claim:
    submission_id = uuid4()
    whose = {"id": submission_id, "account_id": caller.account_id, "actor": caller.actor}
    connection.execute(insert(_TABLE).values(**whose, key=key, **fresh))
    return Claim(submission_id, fresh["claim"])


def _in_flight() -> InputFaulty:
    return fault(StillInFlight, "the same submission is being worked on", "ask again in a moment")
