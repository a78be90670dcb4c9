"""Studies of a stored estimate: the methods of an item compared, or how sure it all is.

Each is made from the estimate's own inputs, and stored with its request.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, Any
from uuid import UUID

from flask import Response

from api.calculations.size_limits import check_comparison_size, check_ranges_size
from api.contract.fields import decimal_text, moment_text
from api.contract.services import Services
from api.contract.submissions import create_row, creation
from api.estimates.made_again import estimate_again
from api.estimates.rows import COMPARISON, RANGES, EstimateStudy, StoredEstimate
from api.estimates.stored_estimates import keep_study
from api.estimates.summaries import path_of
from api.store.caller import Caller
from api.store.sessions import WritingSession
from api.store.submissions import StoredAnswer

if TYPE_CHECKING:
    from estimator.pricing.estimate import Estimate

PLACES: Mapping[str, str] = {COMPARISON: "comparisons", RANGES: "ranges"}

Fields = Mapping[str, Any]


def study(
    parts: Services, caller: Caller, project_id: UUID, estimate_id: UUID, kind: str, body: Fields
) -> Response:
    """Return the response to a request that studies an estimate.

    Parameters
    ----------
    parts, caller : Services, Caller
    project_id, estimate_id : UUID
        Which estimate.
    kind : str
        `comparison` or `ranges`.
    body : mapping
        As its shape has read it.
    """
    documents: list[str] = []

    def work_out() -> None:
        estimate = estimate_again(parts, caller, project_id, estimate_id)
        documents[:] = [_DOCUMENT_OF[kind](estimate, body)]

    def create(work: WritingSession) -> StoredAnswer:
        estimate = work.existing(StoredEstimate, estimate_id, project_id=project_id)
        row = keep_study(work, estimate, kind, _as_json(body), documents[0])
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
        "asked": row.asked,
        "digest": row.digest,
    }
    return fields | {"result": json.loads(row.document)} if is_whole else fields


def _compared(estimate: Estimate, body: Fields) -> str:
    from estimator.studies.comparison import findings
    from estimator.studies.comparison.comparison import compare
    from estimator.studies.comparison.comparison_json import comparison_json

    check_comparison_size(estimate.scope, body["item"])
    varied = tuple(findings.Variation(**one) for one in body["vary"])
    compared = compare(
        estimate.scope, estimate.tables, estimate.on, body["item"], body.get("day_worth")
    )
    return comparison_json(compared, findings.findings_of(compared, varied))


def _ranged(estimate: Estimate, body: Fields) -> str:
    from estimator.pricing.indented_json import indented_json
    from estimator.studies.risk.job_risk import job_risk
    from estimator.studies.risk.risk_json import risk_fields

    check_ranges_size(estimate.scope, body["iterations"])
    risk = job_risk(estimate, float(body["confidence"]), body["seed"], body["iterations"])
    return indented_json(risk_fields(risk)) + "\n"


_DOCUMENT_OF: Mapping[str, Callable[[Any, Fields], str]] = {
    COMPARISON: _compared,
    RANGES: _ranged,
}


def _as_json(body: Fields) -> dict[str, Any]:
    """Return the request as plain JSON, decimals as text."""
    return {
        name: value if isinstance(value, str | int | list) else decimal_text(value)
        for name, value in body.items()
    }
