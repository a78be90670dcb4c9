"""The file of the rehabilitation credit, from the books of a project."""

from __future__ import annotations

from datetime import date, datetime
from decimal import Decimal
from uuid import UUID

from api.ledger.baselines import baseline_of
from api.ledger.known_books import books_of, known_by, of_kinds
from api.projects.rows import Project
from api.store.sessions import AccountSession
from estimator.funding.credit_from_books import CreditFile, building_facts, credit_file
from estimator.money import to_cents
from estimator.tracking.budget import current_budget

_OF_CREDIT = ("costs", "payments", "hours", "changes", "credit_answers", "approvals", "bases")


def credit_file_of(
    session: AccountSession,
    project_id: UUID,
    as_of: date,
    known_on: datetime,
    in_service: date,
    basis: Decimal | None,
    *,
    months: int,
    is_cash_basis: bool,
) -> CreditFile:
    """Return what the books of a project give the file of the credit.

    Raises
    ------
    LedgerFaulty
        If the books were not open by then.
    FundingFaulty
        If no basis is stated, in the books or here.
    """
    session.existing(Project, project_id)
    baseline = baseline_of(session, project_id, known_on)
    known = books_of(session, project_id, known_by(as_of, known_on), of_kinds(*_OF_CREDIT))
    facts = building_facts(
        known,
        None if basis is None else to_cents(basis),
        in_service,
        months,
        is_cash_basis=is_cash_basis,
    )
    budget = current_budget(baseline, known.changes, as_of, known_on)
    return credit_file(known, budget, facts)
