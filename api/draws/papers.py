"""Lien waivers and papers of a loan, as they come in; only added to."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from sqlalchemy import func, select

from api.draws.loans import stored_loan
from api.draws.paper_shapes import NewEvidence, NewWaiver
from api.draws.rows import LoanPaper
from api.ledger.documents.content_types import JPEG, PNG
from api.ledger.documents.found_documents import ORDER
from api.ledger.documents.rows import StoredDocument
from api.ledger.plain_rows import library_row, plain_row
from api.store.sessions import AccountSession, WritingSession
from estimator.funding.draw_papers import Evidence, Papers, Picture, Waiver
from estimator.money import to_cents
from estimator.tracking.entry_checks import check_day

WAIVERS, EVIDENCE = "waivers", "evidence"
_ROWS: dict[str, type] = {WAIVERS: Waiver, EVIDENCE: Evidence}


def add_waiver(work: WritingSession, project_id: UUID, body: NewWaiver) -> LoanPaper:
    """Return a waiver that came in.

    Raises
    ------
    LedgerFaulty
        If it came on a day that is to come.
    """
    check_day(body.received, work.at.date())
    number = _next(work, project_id)
    row = Waiver(
        number, work.at, body.payee, body.draw, body.conditional, body.final,
        to_cents(body.amount), body.received, body.note,
    )  # fmt: skip
    return _add(work, project_id, WAIVERS, row)


def add_evidence(work: WritingSession, project_id: UUID, body: NewEvidence) -> LoanPaper:
    """Return a paper that came in.

    Raises
    ------
    LedgerFaulty
        If its day is to come.
    """
    check_day(body.issued, work.at.date())
    number = _next(work, project_id)
    row = Evidence(
        number, work.at, body.kind, body.name, body.issued, body.expires, body.draw, body.row,
        body.note,
    )  # fmt: skip
    return _add(work, project_id, EVIDENCE, row)


def papers_of(session: AccountSession, project_id: UUID) -> Papers:
    """Return all papers of a project's loan, and the pictures of its site."""
    rows: dict[str, list[Any]] = {WAIVERS: [], EVIDENCE: []}
    statement = select(LoanPaper.kind, LoanPaper.fields).where(LoanPaper.project_id == project_id)
    for kind, fields in session.execute(statement.order_by(LoanPaper.number)):
        rows[kind].append(library_row(fields, _ROWS[kind]))
    return Papers(**rows, pictures=_pictures(session, project_id))


def _pictures(session: AccountSession, project_id: UUID) -> list[Picture]:
    statement = select(StoredDocument).where(
        StoredDocument.project_id == project_id, StoredDocument.media_type.in_((JPEG, PNG))
    )
    return [
        Picture(one.number, one.dated, one.code, one.spot, one.name, one.entry)
        for one in session.scalars(statement.order_by(*ORDER))
    ]


def _next(work: WritingSession, project_id: UUID) -> int:
    stored_loan(work, project_id)
    statement = select(func.max(LoanPaper.number)).where(LoanPaper.project_id == project_id)
    return (work.scalar(statement) or 0) + 1


def _add(work: WritingSession, project_id: UUID, kind: str, row: Any) -> LoanPaper:
    paper = LoanPaper(
        project_id=project_id, number=row.number, kind=kind, entered_at=work.at,
        entered_by=work.caller.actor, fields=plain_row(row),
    )  # fmt: skip
    work.add(paper)
    return paper
