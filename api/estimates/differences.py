"""What changed between two stored estimates of a project, line by line, and why."""

from __future__ import annotations

from uuid import UUID

from sqlalchemy import select

from api.contract.errors import FieldsFaulty
from api.contract.places import parameter
from api.contract.services import Services
from api.estimates.rows import StoredEstimate
from api.store.caller import Caller
from api.store.errors import NotKept
from api.store.sessions import AccountSession
from estimator.errors import fault


def difference_text(
    parts: Services, caller: Caller, project_id: UUID, estimate_id: UUID, against: UUID
) -> str:
    """Return what changed since another estimate, to the byte as `groundsill difference` has it.

    The two are compared as they were kept; nothing is priced again.

    Parameters
    ----------
    parts, caller : Services, Caller
    project_id, estimate_id : UUID
        The estimate after the changes.
    against : UUID
        The estimate before them, of the same project.

    Raises
    ------
    NotKept
        If the caller sees no such estimate in that project.
    FieldsFaulty
        If the other is none of the project.
    """
    from estimator.studies.difference.compared_estimate_json import compared_from_json
    from estimator.studies.difference.estimate_difference import estimate_difference
    from estimator.studies.difference.estimate_difference_json import estimate_difference_json

    with parts.store.reading(caller) as session:
        after = _document(session, project_id, estimate_id)
        try:
            before = _document(session, project_id, against)
        except NotKept as error:
            what = error.faults[0].what
            raise fault(
                FieldsFaulty, what, "give another estimate of the project", parameter("against")
            ) from None
    earlier, later = (compared_from_json(text, "estimate") for text in (before, after))
    return estimate_difference_json(estimate_difference(earlier, later))


def _document(session: AccountSession, project_id: UUID, estimate_id: UUID) -> str:
    session.existing(StoredEstimate, estimate_id, project_id=project_id)
    asked = select(StoredEstimate.document).where(StoredEstimate.id == estimate_id)
    return session.scalars(asked).one()
