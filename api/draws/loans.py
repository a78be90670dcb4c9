"""The loan of a project: posted once, with its schedule frozen from the budget."""

from __future__ import annotations

import json
from typing import Any
from uuid import UUID

from sqlalchemy import Select, select

from api.draws.loan_shapes import NewLine, NewLoan, Retainage
from api.draws.rows import StoredLoan
from api.ledger.desk import Desk
from api.ledger.plain_rows import library_row, plain_row
from api.projects.rows import Project
from api.store.columns import canonical_json
from api.store.errors import AlreadyThere, NotFound
from api.store.sessions import AccountSession, WritingSession
from estimator.digests import canonical_digest
from estimator.errors import fault
from estimator.funding.draw_json import terms_fields
from estimator.funding.loan_interest import RateStep
from estimator.funding.loan_schedule import CodeShare, Loan, LoanLine, frozen_loan
from estimator.funding.loan_terms import EVIDENCE, TEN_PERCENT, EvidenceRule, LoanTerms
from estimator.funding.retainage import RetainageTerms
from estimator.money import cents_text, to_cents

FORM = "loan 1"


def freeze_loan(work: WritingSession, project_id: UUID, body: NewLoan) -> StoredLoan:
    """Return the loan of a project, its schedule frozen from the budget as it is now.

    Raises
    ------
    FundingFaulty
        With every fault of terms and lines.
    AlreadyThere
        If it has one.
    LedgerFaulty
        If the books are not open.
    """
    work.existing(Project, project_id)
    if work.scalar(_of_project(project_id)) is not None:
        raise fault(AlreadyThere, "the project has its loan already", "its terms do not change")
    budget = Desk(work, project_id, work.at).budget
    loan = frozen_loan(_terms(body), [_line(one) for one in body.lines], budget, work.at)
    plain = plain_row(loan)
    stored = StoredLoan(
        project_id=project_id,
        frozen_on=work.at,
        frozen_by=work.caller.actor,
        digest=canonical_digest(FORM, plain),
        document=canonical_json(plain),
    )
    work.add(stored)
    return stored


def stored_loan(session: AccountSession, project_id: UUID) -> StoredLoan:
    """Return the loan of a project that the caller sees.

    Raises
    ------
    NotFound
        If there is none.
    """
    session.existing(Project, project_id)
    found = session.scalar(_of_project(project_id))
    if found is None:
        what = "the project has no loan"
        raise fault(NotFound, what, "'groundsill draw loan TERMS' freezes its terms and schedule")
    return found


def _of_project(project_id: UUID) -> Select[StoredLoan]:
    return select(StoredLoan).where(StoredLoan.project_id == project_id)


def loan_of(stored: StoredLoan) -> Loan:
    """Return a stored loan as the library has it."""
    return library_row(json.loads(stored.document), Loan)


def loan_json(stored: StoredLoan) -> dict[str, Any]:
    """Return a loan as the service tells it."""
    loan = loan_of(stored)
    return {
        "id": str(stored.id),
        "frozen_on": stored.frozen_on.isoformat(),
        "frozen_by": stored.frozen_by,
        "digest": stored.digest,
        "terms": terms_fields(loan.terms),
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


def _terms(body: NewLoan) -> LoanTerms:
    wanted: tuple[EvidenceRule, ...] = EVIDENCE
    if body.evidence is not None:
        wanted = tuple(EvidenceRule(one.kind, one.each_draw) for one in body.evidence)
    return LoanTerms(
        lender=body.lender,
        commitment_cents=to_cents(body.commitment),
        equity_cents=to_cents(body.equity),
        closed=body.closed,
        ends=body.ends,
        rates=tuple(RateStep(one.since, one.percent / 100) for one in body.rates),
        costs_from=body.costs_from,
        equity_order=body.equity_order,
        changes=body.changes,
        basis=body.basis,
        retainage=_retainage(body.retainage),
        stored_on_site=body.stored_on_site,
        stored_off_site=body.stored_off_site,
        deposits=body.deposits,
        day_count=body.day_count,
        interest=body.interest,
        origination_cents=to_cents(body.origination_fee),
        inspection_cents=to_cents(body.inspection_fee),
        fees=body.fees,
        smallest_cents=to_cents(body.smallest_draw),
        most_draws=body.most_draws,
        days_to_funding=body.days_to_funding,
        waivers=body.waivers,
        no_waiver_from=tuple(body.no_waiver_from),
        vendors=body.vendors,
        evidence=wanted,
    )


def _retainage(body: Retainage | None) -> RetainageTerms:
    if body is None:
        return TEN_PERCENT
    work, stored = body.work_percent / 100, body.stored_percent / 100
    if body.reduction is None:
        return RetainageTerms(work, stored)
    reduction = body.reduction
    return RetainageTerms(
        work,
        stored,
        effect=reduction.effect,
        reached_fraction=reduction.reached_percent / 100,
        is_strict=reduction.more_than,
        reduced_fraction=reduction.reduced_percent / 100,
        counts_stored=reduction.counts != "work",
        of_whole=reduction.of == "whole",
    )


def _line(body: NewLine) -> LoanLine:
    return LoanLine(
        line=body.line,
        name=body.name,
        kind=body.kind,
        codes=tuple(body.codes),
        shares=tuple(CodeShare(one.code, one.share) for one in body.shares),
        amount_cents=None if body.amount is None else to_cents(body.amount),
        basis=body.basis,
    )
