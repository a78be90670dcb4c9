"""A loan as it holds on a day: with what the lender agreed to since the closing."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import replace
from datetime import date, datetime
from typing import Any
from uuid import UUID

from sqlalchemy import select

from api.contract.commands import stated
from api.draws.loan_shapes import NewAmendment
from api.draws.loans import closed_loan, library_terms, stored_loan
from api.draws.rows import FUNDED, DrawStep, StoredAmendment, StoredLoan
from api.draws.stored_draws import funding_of_step
from api.ledger.plain_rows import library_row, plain_row
from api.store.columns import canonical_json
from api.store.sessions import AccountSession
from api.store.writing_session import WritingSession
from estimator.digests import canonical_digest
from estimator.funding.draw_json import terms_fields
from estimator.funding.loan_amendments import LoanAmendment, check_amendment, terms_on
from estimator.funding.loan_schedule import Loan
from estimator.funding.loan_terms import LoanTerms
from estimator.money import cents_text

FORM = "amendment 1"


def loan_on(session: AccountSession, stored: StoredLoan, day: date, known_on: datetime) -> Loan:
    """Return a loan with the terms that hold on a day, as known at a time [UTC]."""
    loan = closed_loan(stored)
    amendments = [amendment_of(one) for one in amendments_of(session, stored.project_id)]
    return replace(loan, terms=terms_on(loan, amendments, day, known_on))


def amend_loan(work: WritingSession, project_id: UUID, body: NewAmendment) -> StoredAmendment:
    """Return an amendment of a loan: its terms from a day on; what was drawn stays as it is.

    Raises
    ------
    FundingFaulty
        With every fault: see `check_amendment`.
    """
    loan = closed_loan(stored_loan(work, project_id))
    earlier = [amendment_of(one) for one in amendments_of(work, project_id)]
    before = earlier[-1].terms if earlier else loan.terms
    since = earlier[-1].since if earlier else loan.terms.closed
    amendment = LoanAmendment(
        len(earlier) + 1, work.at, body.since, body.reason, _amended(before, stated(body.terms))
    )
    check_amendment(loan, before, amendment, since, _drawn_cents(work, project_id))
    plain = plain_row(amendment)
    stored = StoredAmendment(
        project_id=project_id,
        number=amendment.number,
        entered_at=work.at,
        entered_by=work.caller.actor,
        digest=canonical_digest(FORM, plain),
        document=canonical_json(plain),
    )
    work.add(stored)
    return stored


def _drawn_cents(session: AccountSession, project_id: UUID) -> int:
    statement = select(DrawStep).where(DrawStep.project_id == project_id, DrawStep.state == FUNDED)
    return sum(funding_of_step(one).loan_cents for one in session.scalars(statement))


def amendments_of(session: AccountSession, project_id: UUID) -> list[StoredAmendment]:
    """Return the amendments of a loan in their order."""
    statement = select(StoredAmendment).where(StoredAmendment.project_id == project_id)
    return list(session.scalars(statement.order_by(StoredAmendment.number)))


def amendment_of(stored: StoredAmendment) -> LoanAmendment:
    """Return a stored amendment as the library has it."""
    return library_row(json.loads(stored.document), LoanAmendment)


def _amended(before: LoanTerms, body: Mapping[str, Any]) -> LoanTerms:
    """Return terms with what an amendment states; rate steps and approved rows are added."""
    new = dict(library_terms(body))
    if "rates" in new:
        since = {one.since for one in new["rates"]}
        steps = [*(one for one in before.rates if one.since not in since), *new["rates"]]
        new["rates"] = tuple(sorted(steps, key=lambda one: one.since))
    if "approved_rows" in new:
        new["approved_rows"] = tuple(dict.fromkeys((*before.approved_rows, *new["approved_rows"])))
    return replace(before, **new)


def loan_json(session: AccountSession, stored: StoredLoan, now: datetime) -> dict[str, Any]:
    """Return a loan with its terms of today, as the service shows it."""
    loan = loan_on(session, stored, now.date(), now)
    return {
        "id": str(stored.id),
        "frozen_on": stored.frozen_on.isoformat(),
        "frozen_by": stored.frozen_by,
        "digest": stored.digest,
        "terms": terms_fields(loan.terms),
        "amendments": _amendments_json(session, stored),
        "scheduled": cents_text(loan.scheduled_cents),
        "lines": [
            {
                "line": one.line,
                "name": one.name,
                "kind": one.kind,
                "basis": one.basis_under(loan.terms),
                "scheduled": cents_text(one.scheduled_cents),
                "codes": list(one.codes),
                "shares": [{"code": s.code, "share": f"{s.share:f}"} for s in one.shares],
            }
            for one in loan.lines
        ],
    }


def _amendments_json(session: AccountSession, stored: StoredLoan) -> list[dict[str, Any]]:
    """Return each amendment with what it changes: before, and from then on."""
    before, rows = closed_loan(stored).terms, []
    for row in amendments_of(session, stored.project_id):
        own = amendment_of(row)
        old, new = terms_fields(before), terms_fields(own.terms)
        rows.append(
            {
                "number": row.number,
                "since": own.since.isoformat(),
                "reason": own.reason,
                "entered_at": row.entered_at.isoformat(),
                "entered_by": row.entered_by,
                "changes": [
                    {"term": name, "before": old[name], "after": new[name]}
                    for name in old
                    if old[name] != new[name] and name != "rules"
                ],
            }
        )
        before = own.terms
    return rows
