"""The working of a stored line, from the measures of the scope to its cents."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from sqlalchemy import select

from api.contract.services import Services
from api.estimates.made_again import estimate_again
from api.store.caller import Caller
from api.store.errors import NotKept
from api.store.models import EstimateLine, StoredEstimate
from estimator.errors import fault


def explained(
    parts: Services, caller: Caller, project_id: UUID, estimate_id: UUID, position: int
) -> dict[str, Any]:
    """Return the working of a line, as `groundsill explain` tells it.

    Parameters
    ----------
    parts, caller : Services, Caller
    project_id, estimate_id : UUID
        Which estimate.
    position : int
        Of the line, from 1.

    Raises
    ------
    NotKept
        If the caller sees no such estimate in that project, or it has no such line.
    """
    with parts.store.reading(caller) as session:
        session.existing(StoredEstimate, estimate_id, project_id=project_id)
        line = session.scalars(
            select(EstimateLine).where(
                EstimateLine.estimate_id == estimate_id, EstimateLine.position == position
            )
        ).one_or_none()
    if line is None:
        raise fault(NotKept, f"the estimate has no line {position}")
    estimate = estimate_again(parts, caller, project_id, estimate_id)
    found = estimate.explain(f"{line.item}/{line.line}")
    return {"title": found.title, "steps": list(found.steps)}
