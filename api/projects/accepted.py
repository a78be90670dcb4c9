"""What may not go or be called otherwise: cost codes of estimates that were accepted as budgets."""

from __future__ import annotations

from collections.abc import Iterable
from uuid import UUID

from sqlalchemy import select

from api.estimates.rows import AcceptedEstimate, EstimateLine
from api.store.errors import StillNeeded
from api.store.sessions import AccountSession
from estimator.errors import Faults

_REMEDY = "leave it, and set its quantities to what is still to be done"


def accepted_codes(session: AccountSession, project_id: UUID) -> frozenset[str]:
    """Return the cost codes, such as `20.010`, of all accepted estimates of a project."""
    accepted = select(AcceptedEstimate.estimate_id).where(AcceptedEstimate.project_id == project_id)
    statement = select(EstimateLine.item).where(EstimateLine.estimate_id.in_(accepted)).distinct()
    return frozenset(session.scalars(statement))


def refuse_accepted(
    session: AccountSession, project_id: UUID, going: Iterable[tuple[str, str]]
) -> None:
    """Refuse to let cost codes go that an accepted estimate has.

    Parameters
    ----------
    session : AccountSession
    project_id : UUID
    going : iterable of (str, str)
        Cost codes, each with its place in the request, which may be empty.

    Raises
    ------
    StillNeeded
        Naming all of them.
    """
    listed = list(going)
    if not listed:
        return
    accepted, faults = accepted_codes(session, project_id), Faults()
    for code, where in listed:
        if code in accepted:
            faults.add(where, f"item {code} is in an accepted estimate", _REMEDY)
    faults.raise_if_any(StillNeeded)
