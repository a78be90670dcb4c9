"""`/v1/projects/.../estimates/.../lines`: the cost lines of an estimate, and their working."""

from __future__ import annotations

from uuid import UUID

from flask import Response

from api.access.sign_in import current_caller, cursor_key
from api.contract.answers import json_answer
from api.contract.blueprint import Blueprint
from api.contract.services import services
from api.estimates.differences import difference_text
from api.estimates.estimate_routes import ONE
from api.estimates.estimate_shapes import (
    DifferenceAnswer,
    DifferenceQuery,
    ExplanationQuery,
    ExplanationsAnswer,
    LinePage,
    LineQuery,
)
from api.estimates.explanations import explained
from api.estimates.lines import page_of_lines

estimate_lines = Blueprint(
    "estimate lines", __name__, description="Cost lines of an estimate, each with its working."
)


@estimate_lines.get(f"{ONE}/lines")
@estimate_lines.asks(LineQuery)
@estimate_lines.answers(LinePage)
def list_lines(query: LineQuery, project_id: UUID, estimate_id: UUID) -> Response:
    """List cost lines, filtered, with their total."""
    return json_answer(
        page_of_lines(services(), current_caller(), project_id, estimate_id, query, cursor_key())
    )


@estimate_lines.get(f"{ONE}/difference")
@estimate_lines.asks(DifferenceQuery)
@estimate_lines.answers(DifferenceAnswer)
def compare_estimates(query: DifferenceQuery, project_id: UUID, estimate_id: UUID) -> Response:
    """Compare with another estimate of the project, line by line, with the reasons."""
    text = difference_text(services(), current_caller(), project_id, estimate_id, query.against)
    return Response(text.encode(), content_type="application/json")


@estimate_lines.get(f"{ONE}/explanations")
@estimate_lines.asks(ExplanationQuery)
@estimate_lines.answers(ExplanationsAnswer)
def explain_lines(query: ExplanationQuery, project_id: UUID, estimate_id: UUID) -> Response:
    """Explain the lines of an item: measures, formula, order, rate, source."""
    return json_answer(
        explained(
            services().store, current_caller(), project_id, estimate_id, query.item, query.line
        )
    )
