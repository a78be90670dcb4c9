"""`/v1/projects/{id}/loan`: terms and frozen schedule; `/v1/loan-presets` to start from.

What works on the library is imported when it is first used: a service at rest stays small.
"""

from __future__ import annotations

from dataclasses import fields
from uuid import UUID

from flask import Response

from api.access.sign_in import current_caller
from api.contract.answers import json_answer
from api.contract.blueprint import Blueprint
from api.contract.places import ROOT, faults_at
from api.contract.services import services
from api.contract.submissions import create_row, creation
from api.draws.loan_presets import presets_json
from api.draws.loan_shapes import (
    EXAMPLE_AMENDMENT,
    EXAMPLE_LOAN,
    LoanAnswer,
    NewAmendment,
    NewLoan,
    PresetsAnswer,
)
from api.projects.project_routes import ONE as PROJECT
from api.store.submissions import StoredAnswer
from api.store.writing_session import WritingSession

AT = f"{PROJECT}/loan"
_FIELDS = [one.name for one in fields(NewLoan)]

loans = Blueprint("loans", __name__, description="The loan: its terms, and what was frozen.")


@loans.get("/v1/loan-presets")
@loans.answers(PresetsAnswer)
def list_presets() -> Response:
    """List the public programs whose rules a loan may start from."""
    return json_answer({"presets": presets_json()})


@loans.post(AT)
@loans.takes(NewLoan, example=EXAMPLE_LOAN)
@loans.answers(LoanAnswer, 201)
@loans.creates
def post_loan(body: NewLoan, project_id: UUID) -> Response:
    """Post the terms of the loan; its schedule is frozen from the budget as it is now."""

    def create(work: WritingSession) -> StoredAnswer:
        from api.draws.amended_loans import loan_json
        from api.draws.loans import freeze_loan

        with faults_at(ROOT, _FIELDS):
            stored = freeze_loan(work, project_id, body)
        return creation(f"/v1/projects/{project_id}/loan", loan_json(work, stored, work.at))

    return create_row(services(), current_caller(), create)


@loans.get(AT)
@loans.answers(LoanAnswer)
def show_loan(project_id: UUID) -> Response:
    """Show the loan: its terms, each rule in words, and the schedule."""
    from api.draws.amended_loans import loan_json
    from api.draws.loans import stored_loan

    with services().store.reading(current_caller()) as session:
        loan = loan_json(session, stored_loan(session, project_id), services().now)
    return json_answer(loan)


@loans.post(f"{AT}/amendments")
@loans.takes(NewAmendment, example=EXAMPLE_AMENDMENT)
@loans.answers(LoanAnswer, 201)
@loans.creates
def post_amendment(body: NewAmendment, project_id: UUID) -> Response:
    """Post what the lender agreed to later; it governs draws that end on its day or later."""

    def create(work: WritingSession) -> StoredAnswer:
        from api.draws.amended_loans import amend_loan, loan_json
        from api.draws.loans import stored_loan

        with faults_at(ROOT, ["since", "reason", "terms"]):
            amend_loan(work, project_id, body)
        loan = loan_json(work, stored_loan(work, project_id), work.at)
        return creation(f"/v1/projects/{project_id}/loan", loan)

    return create_row(services(), current_caller(), create)
