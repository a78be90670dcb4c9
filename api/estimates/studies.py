"""Studies of a stored estimate: the methods of an item compared, or how sure it all is.

Each is made from the estimate's own inputs, and stored with its request.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import asdict
from decimal import Decimal
from typing import TYPE_CHECKING, Any
from uuid import UUID

from flask import Response

from api.calculations.scope_shapes import MethodsToCompare, RangesToDraw
from api.calculations.studies import comparison_text, drawn_risk
from api.contract.fields import decimal_text, moment_text
from api.contract.services import Services
from api.contract.submissions import create_row, creation
from api.estimates.made_again import estimate_again
from api.estimates.rows import COMPARISON, RANGES, EstimateStudy, StoredEstimate
from api.estimates.stored_estimates import store_study
from api.estimates.summaries import path_of
from api.store.caller import Caller
from api.store.submissions import StoredAnswer
from api.store.writing_session import WritingSession

if TYPE_CHECKING:
    from estimator.pricing.estimate import Estimate

PLACES: Mapping[str, str] = {COMPARISON: "comparisons", RANGES: "ranges"}

StudyBody = MethodsToCompare | RangesToDraw


def study(
    parts: Services, caller: Caller, project_id: UUID, estimate_id: UUID, body: StudyBody
) -> Response:
    """Return the response to a request that studies an estimate.

    Parameters
    ----------
    parts, caller : Services, Caller
    project_id, estimate_id : UUID
        Which estimate.
    body : MethodsToCompare or RangesToDraw
    """
    kind = RANGES if isinstance(body, RangesToDraw) else COMPARISON
    documents: list[str] = []

    def work_out() -> None:
        estimate = estimate_again(parts, caller, project_id, estimate_id)
        documents[:] = [_document(estimate, body)]

    def create(work: WritingSession) -> StoredAnswer:
        estimate = work.existing(StoredEstimate, estimate_id, project_id=project_id)
        row = store_study(work, estimate, kind, _as_json(body), documents[0])
        location = f"{path_of(project_id, estimate_id)}/{PLACES[kind]}/{row.id}"
        return creation(location, study_json(row))

    return create_row(parts, caller, create, work_out)


def study_json(row: EstimateStudy, *, is_whole: bool = True) -> dict[str, Any]:
    """Return a study as JSON; without its result where several are listed."""
    fields = {
        "id": str(row.id),
        "number": row.number,
        "created_at": moment_text(row.created_at),
        "created_by": row.created_by,
        "body": row.body,
        "digest": row.digest,
    }
    return fields | {"result": json.loads(row.document)} if is_whole else fields


def _document(estimate: Estimate, body: StudyBody) -> str:
    from estimator.pricing.indented_json import indented_json
    from estimator.studies.risk.risk_json import risk_fields

    if isinstance(body, RangesToDraw):
        return indented_json(risk_fields(drawn_risk(estimate, body))) + "\n"
    return comparison_text(estimate.scope, estimate.tables, estimate.on, body)


def _as_json(body: StudyBody) -> dict[str, Any]:
    """Return the request as plain JSON, decimals as text, without what it leaves out."""
    return asdict(body, dict_factory=_stated)


def _stated(fields: list[tuple[str, Any]]) -> dict[str, Any]:
    return {
        name: decimal_text(value) if isinstance(value, Decimal) else value
        for name, value in fields
        if value not in (None, "")
    }
