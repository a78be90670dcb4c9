"""`/v1/projects/.../estimates`: a project priced, stored as it was, and accepted as the budget."""

from __future__ import annotations

from uuid import UUID

from flask import Response

from api.access.sign_in import current_caller, cursor_key
from api.calculations.scope_shapes import EstimateAnswer
from api.calculations.scopes import WORKBOOK_TYPE
from api.contract.answers import attachment, json_answer
from api.contract.blueprint import Blueprint
from api.contract.preconditions import conditional
from api.contract.services import services
from api.estimates.acceptance import accept_estimate, budget_of
from api.estimates.estimate_shapes import (
    EXAMPLE_PRICING,
    BudgetAnswer,
    EstimatePage,
    EstimateQuery,
    NewAcceptance,
    Pricing,
    StoredEstimateAnswer,
)
from api.estimates.pricing import price_project
from api.estimates.shown import printed, shown_estimate
from api.estimates.summaries import (
    find_summary,
    page_of_summaries,
    summary_tag,
    whole_summary_json,
)

AT = "/v1/projects/<uuid:project_id>/estimates"
ONE = f"{AT}/<uuid:estimate_id>"

_BINARY = {"type": "string", "format": "binary"}
_TAG = {"ETag": {"description": "For If-None-Match: 304 says nothing changed.", "schema": {}}}

estimates = Blueprint(
    "estimates", __name__, description="Estimates: priced once, stored, never changed."
)


@estimates.post(AT)
@estimates.takes(Pricing, example=EXAMPLE_PRICING)
@estimates.answers(StoredEstimateAnswer, 201)
@estimates.creates
def price_a_project(body: Pricing, project_id: UUID) -> Response:
    """Price a project as it is now, and store the estimate."""
    return price_project(services(), current_caller(), project_id, body)


@estimates.get(AT)
@estimates.asks(EstimateQuery)
@estimates.answers(EstimatePage)
def list_estimates(query: EstimateQuery, project_id: UUID) -> Response:
    """List the estimates of a project, newest first."""
    return json_answer(
        page_of_summaries(services(), current_caller(), project_id, query, cursor_key())
    )


@estimates.get(ONE)
@estimates.answers(StoredEstimateAnswer, headers=_TAG)
def show_estimate(project_id: UUID, estimate_id: UUID) -> Response:
    """Show the totals of an estimate, what they rest on, and whether it is the budget."""
    row = find_summary(services(), current_caller(), project_id, estimate_id)
    return _tagged(json_answer(whole_summary_json(row)), summary_tag(row))


@estimates.get(f"{ONE}/document")
@estimates.answers(EstimateAnswer, headers=_TAG)
def show_document(project_id: UUID, estimate_id: UUID) -> Response:
    """Show the whole estimate: the same bytes as `groundsill price --json`."""
    with services().store.reading(current_caller()) as session:
        stored = shown_estimate(session, project_id, estimate_id)
        document, digest = stored.document, stored.digest
    return _tagged(Response(document.encode(), content_type="application/json"), digest)


@estimates.get(f"{ONE}/workbook")
@estimates.answers(_BINARY, content_type=WORKBOOK_TYPE)
def download_workbook(project_id: UUID, estimate_id: UUID) -> Response:
    """Download an estimate as a workbook."""
    from estimator.workbook.estimate_workbook import printed_bytes

    with services().store.reading(current_caller()) as session:
        estimate = printed(shown_estimate(session, project_id, estimate_id))
    headers = {"Content-Disposition": attachment(estimate.project, ".xlsx")}
    return Response(printed_bytes(estimate), content_type=WORKBOOK_TYPE, headers=headers)


@estimates.post(f"{ONE}/acceptance")
@estimates.answers(NewAcceptance, 201)
@estimates.creates
def accept_as_budget(project_id: UUID, estimate_id: UUID) -> Response:
    """Accept an estimate as the budget; earlier budgets stay on record."""
    return accept_estimate(services(), current_caller(), project_id, estimate_id)


@estimates.get("/v1/projects/<uuid:project_id>/budget")
@estimates.answers(BudgetAnswer)
def show_budget(project_id: UUID) -> Response:
    """Show the current budget and the earlier ones."""
    return json_answer(budget_of(services(), current_caller(), project_id))


def _tagged(answer: Response, tag: str) -> Response:
    """Return an answer with its tag; 304 if the client has the same already."""
    answer.headers["ETag"] = f'"{tag}"'
    return conditional(answer)
