"""The budget that the books of a project stand on: its accepted estimate, read once."""

from __future__ import annotations

from datetime import date, datetime
from threading import Lock
from uuid import UUID

from sqlalchemy import bindparam, select

from api.estimates.rows import AcceptedEstimate, StoredEstimate
from api.store.sessions import AccountSession
from estimator.errors import InputFaulty, LedgerFaulty, fault
from estimator.tracking.budget import Budget, budget_from_estimate
from estimator.tracking.closed_weeks import LABOR

_MOST_READ = 32
LAST_ACCEPTED = (
    select(AcceptedEstimate.estimate_id)
    .where(AcceptedEstimate.accepted_at <= bindparam("known_on"))
    .order_by(AcceptedEstimate.number.desc())
    .limit(1)
)
_OF_PROJECT = LAST_ACCEPTED.where(AcceptedEstimate.project_id == bindparam("of_project"))

# An accepted estimate never changes, so what was read of it stays right.
_read: dict[UUID, tuple[Budget, frozenset[str]]] = {}
_reading = Lock()


def baseline_of(session: AccountSession, project_id: UUID, known_on: datetime) -> Budget:
    """Return the budget that was accepted last by a time.

    Parameters
    ----------
    session : AccountSession
    project_id : UUID
        Of a project of the account.
    known_on : datetime
        [UTC]

    Raises
    ------
    LedgerFaulty
        If no estimate had been accepted: the books are not open.
    """
    return budget_and_trades(session, accepted_estimate(session, project_id, known_on))[0]


def budget_and_trades(session: AccountSession, estimate_id: UUID) -> tuple[Budget, frozenset[str]]:
    """Return the budget of an accepted estimate, and the trades whose hours it has."""
    with _reading:
        if estimate_id not in _read:
            _read[estimate_id] = _budget_and_trades(session, estimate_id)
            while len(_read) > _MOST_READ:
                del _read[next(iter(_read))]
        return _read[estimate_id]


def accepted_estimate(session: AccountSession, project_id: UUID, known_on: datetime) -> UUID:
    """Return the estimate that was accepted last by a time.

    Raises
    ------
    LedgerFaulty
        If no estimate had been accepted: the books are not open.
    """
    accepted = session.rows(_OF_PROJECT, of_project=project_id, known_on=known_on)
    if not accepted:
        raise not_open()
    estimate_id: UUID = accepted[0].estimate_id
    return estimate_id


def not_open() -> InputFaulty:
    """Return the refusal of books that no estimate was accepted for."""
    what = "the books of the project are not open"
    return fault(LedgerFaulty, what, "accept an estimate as its budget first")


def accepted_document(session: AccountSession, estimate_id: UUID) -> str:
    """Return an estimate that was accepted, as it was stored.

    Parameters
    ----------
    session : AccountSession
    estimate_id : UUID
        See `accepted_estimate`.
    """
    document = session.scalar(
        select(StoredEstimate.document).where(StoredEstimate.id == estimate_id)
    )
    assert document is not None
    return document


def _budget_and_trades(session: AccountSession, estimate_id: UUID) -> tuple[Budget, frozenset[str]]:
    """Return the budget of an estimate with the dates of its schedule as made, and its trades."""
    from estimator.pricing.estimate_json import estimate_from_json
    from estimator.tracking.planned_dates import with_dates

    estimate = estimate_from_json(accepted_document(session, estimate_id))
    trades = frozenset(one.code for one in estimate.rates if one.kind == LABOR)
    dates = session.scalar(
        select(StoredEstimate.planned_dates).where(StoredEstimate.id == estimate_id)
    )
    days = {code: tuple(map(date.fromisoformat, own)) for code, own in (dates or {}).items()}
    return with_dates(budget_from_estimate(estimate), days), trades
