"""What changed between two stored estimates of a project, line by line, and why."""

from __future__ import annotations

from uuid import UUID

from api.contract.errors import FieldsFaulty
from api.contract.places import parameter
from api.contract.services import Services
from api.estimates.shown import printed, shown_estimate
from api.store.caller import Caller
from api.store.errors import NotFound
from estimator.errors import fault


def difference_text(
    parts: Services, caller: Caller, project_id: UUID, estimate_id: UUID, against: UUID
) -> str:
    """Return what changed since another estimate, to the byte as `groundsill difference` has it.

    The two are compared as stored; nothing is priced again.

    Parameters
    ----------
    parts, caller : Services, Caller
    project_id, estimate_id : UUID
        The estimate after the changes.
    against : UUID
        The estimate before them, of the same project.

    Raises
    ------
    NotFound
        If the caller sees no such estimate in that project.
    FieldsFaulty
        If the other is none of the project.
    MadeDifferently
        If one of them was stored before all was stored that is compared.
    """
    from estimator.studies.difference.compared_estimate import compared_estimate
    from estimator.studies.difference.estimate_difference import estimate_difference
    from estimator.studies.difference.estimate_difference_json import estimate_difference_json

    with parts.store.reading(caller) as session:
        later = compared_estimate(printed(shown_estimate(session, project_id, estimate_id)))
        try:
            before = shown_estimate(session, project_id, against)
        except NotFound as error:
            what = error.faults[0].what
            raise fault(
                FieldsFaulty, what, "give another estimate of the project", parameter("against")
            ) from None
        earlier = compared_estimate(printed(before))
    return estimate_difference_json(estimate_difference(earlier, later))
