"""`/v1/projects/{id}/books/credit`: what the books give the file of the rehabilitation credit."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Annotated
from uuid import UUID

import marshmallow as ma
from flask import Response

from api.access.sign_in import current_caller
from api.contract.answers import json_answer
from api.contract.blueprint import Blueprint
from api.contract.fields import Choice, Day, Money
from api.contract.schemas import Answer
from api.contract.services import services
from api.ledger.entry_routes import AT
from api.ledger.record_queries import RecordQuery

YES, NO = "yes", "no"

credit_file = Blueprint("credit", __name__, description="The file of the rehabilitation credit.")


@dataclass(frozen=True, kw_only=True)
class CreditQuery(RecordQuery):
    """What is said of the building, and as of which day."""

    in_service: Annotated[date, Day(), "Date the building is placed in service."]
    basis: Annotated[
        Decimal | None, Money(), "Adjusted basis before the work; if left out, as in the books."
    ] = None
    months: Annotated[str, Choice("24", "60"), "Measuring period; 60 if planned in phases."] = "24"
    cash_basis: Annotated[str, Choice(YES, NO), "yes counts costs when they are paid."] = NO


class CreditReport(Answer):
    """What counts, the substantial-rehabilitation test, the credit by year, what endangers it."""

    basis = ma.fields.String(required=True)
    placed_in_service = ma.fields.String(required=True)
    months = ma.fields.Integer(required=True)
    cash_basis = ma.fields.Boolean(required=True)
    by_answer = ma.fields.Dict(required=True)
    by_code = ma.fields.Dict(required=True)
    later = ma.fields.String(required=True)
    unpaid_labor = ma.fields.Dict(required=True)
    windows = ma.fields.List(ma.fields.Dict(), required=True)
    credit = ma.fields.String(required=True)
    by_year = ma.fields.List(ma.fields.Dict(), required=True)
    basis_reduction = ma.fields.String(required=True)
    recapture = ma.fields.List(ma.fields.Dict(), required=True)
    dangers = ma.fields.List(ma.fields.String(), required=True)
    entries = ma.fields.List(ma.fields.Dict(), required=True)
    note = ma.fields.String(required=True)


@credit_file.get(f"{AT}/credit")
@credit_file.asks(CreditQuery)
@credit_file.answers(CreditReport)
def show_credit(query: CreditQuery, project_id: UUID) -> Response:
    """Show the file of the rehabilitation credit from the books; ask a tax adviser."""
    from api.ledger.credit_files import credit_file_of
    from estimator.funding.credit_json import credit_fields

    with services().store.reading(current_caller()) as session:
        shown = credit_file_of(
            session,
            project_id,
            *query.dates,
            query.in_service,
            query.basis,
            months=int(query.months),
            is_cash_basis=query.cash_basis == YES,
        )
    return json_answer(credit_fields(shown))
