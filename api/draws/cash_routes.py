"""`/v1/projects/{id}/loan/balance` and `/cash`: is the money enough, and when does it run out."""

from __future__ import annotations

from typing import TYPE_CHECKING
from uuid import UUID

from flask import Response

from api.access.sign_in import current_caller
from api.contract.answers import json_answer
from api.contract.blueprint import Blueprint
from api.contract.services import services
from api.draws.cash_shapes import (
    BalanceAnswer,
    BalanceQuery,
    CashQuery,
    CourseAnswer,
    CourseQuery,
)
from api.projects.project_routes import ONE as PROJECT

if TYPE_CHECKING:
    from api.draws.cash import CashOf

cash = Blueprint("cash", __name__, description="Is the loan in balance, and how the cash runs.")


@cash.get(f"{PROJECT}/loan/balance")
@cash.asks(BalanceQuery)
@cash.answers(BalanceAnswer)
def show_balance(query: BalanceQuery, project_id: UUID) -> Response:
    """Show the money available against what is still to be paid, line by line."""
    from api.draws.cash import contingency_fraction
    from estimator.funding.cash_json import balance_fields

    balance = _cash(query, project_id).balance(contingency_fraction(query))
    return json_answer(balance_fields(balance))


@cash.get(f"{PROJECT}/loan/cash")
@cash.asks(CourseQuery)
@cash.answers(CourseAnswer)
def show_cash(query: CourseQuery, project_id: UUID) -> Response:
    """Show cash by month, the day it runs out, and what brings the peak down."""
    from estimator.funding.cash_json import cash_fields
    from estimator.funding.cash_ways import cash_ways

    course = _cash(query, project_id).course(query.at)
    return json_answer(cash_fields(course, cash_ways(course)))


def _cash(query: CashQuery, project_id: UUID) -> CashOf:
    from api.draws.cash import cash_facts, cash_of

    as_of, known_on = query.dates
    facts = cash_facts(query, as_of)
    with services().store.reading(current_caller()) as session:
        return cash_of(session, project_id, as_of, known_on, facts)
