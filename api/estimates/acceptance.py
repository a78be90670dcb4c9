"""Accepting an estimate as the budget, and what the budget is now."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from flask import Response

from api.contract.fields import moment_text
from api.contract.services import Services
from api.contract.submissions import create_row, creation
from api.estimates.rows import AcceptedEstimate, StoredEstimate
from api.estimates.stored_estimates import accept
from api.estimates.summaries import SUMMARIES, listed_summaries
from api.projects.rows import Project
from api.store.caller import Caller
from api.store.submissions import StoredAnswer
from api.store.writing_session import WritingSession


def accept_estimate(
    parts: Services, caller: Caller, project_id: UUID, estimate_id: UUID
) -> Response:
    """Return the response to a request that makes an estimate the budget of its project."""

    def create(work: WritingSession) -> StoredAnswer:
        estimate = work.existing(StoredEstimate, estimate_id, project_id=project_id)
        accepted = accept(work, estimate)
        fields = {
            "estimate_id": str(estimate_id),
            "number": accepted.number,
            "at": moment_text(accepted.accepted_at),
            "by": accepted.accepted_by,
        }
        return creation(f"/v1/projects/{project_id}/budget", fields)

    return create_row(parts, caller, create)


def budget_of(parts: Services, caller: Caller, project_id: UUID) -> dict[str, Any]:
    """Return the estimate that is the budget now, and those that were before, newest first."""
    accepted = SUMMARIES.where(
        StoredEstimate.project_id == project_id, AcceptedEstimate.number.is_not(None)
    )
    with parts.store.reading(caller) as session:
        session.existing(Project, project_id)
        rows = session.execute(accepted.order_by(AcceptedEstimate.number.desc())).mappings().all()
        summaries = listed_summaries(session, rows)
    return {"budget": summaries[0] if summaries else None, "before": summaries[1:]}
