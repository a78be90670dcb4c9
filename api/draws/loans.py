"""The loan of a project: posted once, its schedule frozen from the budget."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import fields
from typing import Any
from uuid import UUID

from sqlalchemy import Select, select

from api.draws.loan_shapes import EvidenceWanted, NewLine, NewLoan, Retainage
from api.draws.rows import StoredLoan
from api.ledger.desk import Desk
from api.ledger.plain_rows import library_row, plain_row
from api.projects.rows import Project
from api.store.columns import canonical_json
from api.store.errors import AlreadyThere, NotFound
from api.store.sessions import AccountSession
from api.store.writing_session import WritingSession
from estimator.digests import canonical_digest
from estimator.errors import fault
from estimator.funding.loan_interest import RateStep
from estimator.funding.loan_schedule import CodeShare, Loan, LoanLine, frozen_loan
from estimator.funding.loan_terms import EVIDENCE, TEN_PERCENT, EvidenceRule, LoanTerms
from estimator.funding.retainage import RetainageTerms
from estimator.money import to_cents

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
        raise fault(AlreadyThere, "the project already has its loan", "amend its terms")
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
    loan = session.scalar(_of_project(project_id))
    if loan is None:
        what = "the project has no loan"
        raise fault(NotFound, what, "'groundsill draw loan TERMS' freezes its terms and schedule")
    return loan


def _of_project(project_id: UUID) -> Select[StoredLoan]:
    return select(StoredLoan).where(StoredLoan.project_id == project_id)


def closed_loan(stored: StoredLoan) -> Loan:
    """Return a stored loan as it was closed."""
    return library_row(json.loads(stored.document), Loan)


def _terms(body: NewLoan) -> LoanTerms:
    terms = {one.name: getattr(body, one.name) for one in fields(body) if one.name != "lines"}
    return LoanTerms(**dict(library_terms(terms)))


def library_terms(body: Mapping[str, Any]) -> Iterator[tuple[str, Any]]:
    """Yield terms as the library names them and holds them."""
    for name, value in body.items():
        if name in _SUMS:
            yield _SUMS[name], to_cents(value)
        elif name in _PERCENTS:
            yield _PERCENTS[name], value / 100
        elif name == "retainage":
            yield name, _retainage(value)
        elif name == "rates":
            yield name, tuple(RateStep(one.since, one.percent / 100) for one in value)
        elif name == "evidence":
            yield name, _evidence(value)
        else:
            yield name, tuple(value) if isinstance(value, list) else value


_SUMS = {
    "commitment": "commitment_cents", "equity": "equity_cents", "smallest_draw": "smallest_cents",
    "origination_fee": "origination_cents", "inspection_fee": "inspection_cents",
}  # fmt: skip
_PERCENTS = {
    "contingency_percent": "contingency_fraction",
    "transfer_percent": "transfer_fraction",
}


def _evidence(body: Sequence[EvidenceWanted] | None) -> tuple[EvidenceRule, ...]:
    if body is None:
        return EVIDENCE
    return tuple(EvidenceRule(one.kind, one.each_draw) for one in body)


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
