"""The working of stored lines, from the measures of the scope to their cents."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from sqlalchemy import exists, select

from api.contract.places import parameter
from api.contract.services import Services
from api.estimates.made_again import estimate_again
from api.estimates.rows import EstimateLine, StoredEstimate
from api.store.caller import Caller
from api.store.errors import NotKept
from estimator.errors import fault, quoted


def explained(
    parts: Services,
    caller: Caller,
    project_id: UUID,
    estimate_id: UUID,
    item: str,
    line: int | None,
) -> dict[str, Any]:
    """Return the working of the lines of an item, as `groundsill explain` tells it.

    Parameters
    ----------
    parts, caller : Services, Caller
    project_id, estimate_id : UUID
        Which estimate.
    item : str
        The cost code.
    line : int or None
        Number of the one line that is asked for, from 1.

    Raises
    ------
    NotKept
        If the caller sees no such estimate in that project, or it has no such line.
    """
    with parts.store.reading(caller) as session:
        session.existing(StoredEstimate, estimate_id, project_id=project_id)
        asked = [EstimateLine.estimate_id == estimate_id, EstimateLine.item == item]
        asked += [] if line is None else [EstimateLine.line == line]
        is_there = session.scalar(select(exists().where(*asked)))
    if not is_there:
        name = item if line is None else f"{item}/{line}"
        raise fault(NotKept, f"the estimate has no line {quoted(name)}", where=parameter("item"))
    estimate = estimate_again(parts, caller, project_id, estimate_id)
    numbers = [one.line for one in estimate.lines_of(item)] if line is None else [line]
    found = [(number, estimate.explain(f"{item}/{number}")) for number in numbers]
    return {
        "explanations": [
            {"item": item, "line": number, "title": one.title, "steps": list(one.steps)}
            for number, one in found
        ]
    }
