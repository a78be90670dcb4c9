"""Lien waivers and papers of a loan, as they come in; only added to."""

from __future__ import annotations

from datetime import datetime
from typing import Any
from uuid import UUID

from sqlalchemy import func, select

from api.access.rows import row_json
from api.contract.fields import moment_text
from api.draws.loans import stored_loan
from api.draws.paper_shapes import NewEvidence, NewWaiver, PaperAnswer
from api.draws.rows import LoanPaper, PaperWithdrawal
from api.ledger.documents.content_types import JPEG, PNG
from api.ledger.documents.document_statements import ORDER
from api.ledger.documents.rows import StoredDocument
from api.ledger.plain_rows import library_row, plain_row
from api.store.errors import AlreadyThere, NotFound
from api.store.sessions import AccountSession
from api.store.writing_session import WritingSession
from estimator.errors import fault
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


def withdraw_paper(work: WritingSession, paper: LoanPaper, reason: str) -> PaperWithdrawal:
    """Return what takes a paper back that was entered wrongly; submitted draws stay as they are.

    Raises
    ------
    AlreadyThere
        If it was taken back before.
    """
    if paper.number in withdrawals_of(work, paper.project_id):
        raise fault(AlreadyThere, f"paper {paper.number} was taken back already")
    withdrawal = PaperWithdrawal(
        project_id=paper.project_id,
        number=paper.number,
        at=work.at,
        by=work.caller.actor,
        reason=reason,
    )
    work.add(withdrawal)
    return withdrawal


def papers_of(session: AccountSession, project_id: UUID, known_on: datetime) -> Papers:
    """Return the papers of a loan that stand, and the pictures that were entered by a time."""
    rows: dict[str, list[Any]] = {WAIVERS: [], EVIDENCE: []}
    withdrawn = withdrawals_of(session, project_id)
    for paper in all_papers(session, project_id):
        if paper.number not in withdrawn:
            rows[paper.kind].append(library_row(paper.fields, _ROWS[paper.kind]))
    return Papers(**rows, pictures=_pictures(session, project_id, known_on))


def all_papers(session: AccountSession, project_id: UUID) -> list[LoanPaper]:
    """Return all papers of a project's loan in their order, with those that were taken back."""
    statement = select(LoanPaper).where(LoanPaper.project_id == project_id)
    return list(session.scalars(statement.order_by(LoanPaper.number)))


def paper_numbered(session: AccountSession, project_id: UUID, number: int) -> LoanPaper:
    """Return a paper by its number.

    Raises
    ------
    NotFound
        If there is none.
    """
    statement = select(LoanPaper).where(
        LoanPaper.project_id == project_id, LoanPaper.number == number
    )
    paper = session.scalar(statement)
    if paper is None:
        raise fault(NotFound, f"there is no paper {number}", "'groundsill draw papers' lists them")
    return paper


def withdrawals_of(session: AccountSession, project_id: UUID) -> dict[int, PaperWithdrawal]:
    """Return what took papers back, by the number of the paper."""
    statement = select(PaperWithdrawal).where(PaperWithdrawal.project_id == project_id)
    return {one.number: one for one in session.scalars(statement)}


def paper_json(paper: LoanPaper, withdrawal: PaperWithdrawal | None) -> dict[str, Any]:
    """Return a paper, with when and why it was taken back if it was."""
    taken_back = None
    if withdrawal is not None:
        at = moment_text(withdrawal.at)
        taken_back = {"at": at, "by": withdrawal.by, "reason": withdrawal.reason}
    row: dict[str, Any] = row_json(PaperAnswer, paper)
    return row | {"withdrawn": taken_back}


def _pictures(session: AccountSession, project_id: UUID, known_on: datetime) -> list[Picture]:
    statement = select(StoredDocument).where(
        StoredDocument.project_id == project_id,
        StoredDocument.media_type.in_((JPEG, PNG)),
        StoredDocument.entered_at <= known_on,
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
