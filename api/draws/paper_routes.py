"""`/v1/projects/{id}/waivers` and `/evidence`: papers of the loan as they come in."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from flask import Response
from sqlalchemy import select

from api.access.sign_in import current_caller, cursor_key
from api.contract.answers import json_answer
from api.contract.blueprint import Blueprint
from api.contract.lists import PageQuery, page_of
from api.contract.places import ROOT, faults_at
from api.contract.services import services
from api.contract.submissions import create_row, creation
from api.draws.paper_shapes import (
    EXAMPLE_EVIDENCE,
    EXAMPLE_WAIVER,
    EXAMPLE_WITHDRAWAL,
    NewEvidence,
    NewWaiver,
    NewWithdrawal,
    PaperAnswer,
    PaperPage,
)
from api.draws.rows import LoanPaper, PaperWithdrawal
from api.projects.project_routes import ONE as PROJECT
from api.projects.rows import Project
from api.store.submissions import StoredAnswer
from api.store.writing_session import WritingSession

papers = Blueprint("papers", __name__, description="Lien waivers, and papers the lender wants.")


@papers.post(f"{PROJECT}/waivers")
@papers.takes(NewWaiver, example=EXAMPLE_WAIVER)
@papers.answers(PaperAnswer, 201)
@papers.creates
def post_waiver(body: NewWaiver, project_id: UUID) -> Response:
    """Post a lien waiver that came in."""

    def create(work: WritingSession) -> StoredAnswer:
        from api.draws.papers import add_waiver

        with faults_at(ROOT):
            return _created(add_waiver(work, project_id, body))

    return create_row(services(), current_caller(), create)


@papers.post(f"{PROJECT}/evidence")
@papers.takes(NewEvidence, example=EXAMPLE_EVIDENCE)
@papers.answers(PaperAnswer, 201)
@papers.creates
def post_evidence(body: NewEvidence, project_id: UUID) -> Response:
    """Post a paper that the lender wants to see: insurance, permit, title, photographs."""

    def create(work: WritingSession) -> StoredAnswer:
        from api.draws.papers import add_evidence

        with faults_at(ROOT):
            return _created(add_evidence(work, project_id, body))

    return create_row(services(), current_caller(), create)


@papers.post(f"{PROJECT}/papers/<uuid:paper_id>/withdrawal")
@papers.takes(NewWithdrawal, example=EXAMPLE_WITHDRAWAL)
@papers.answers(PaperAnswer, 201)
@papers.creates
def withdraw(body: NewWithdrawal, project_id: UUID, paper_id: UUID) -> Response:
    """Withdraw a waiver or paper entered by mistake; it stays listed but no longer counts."""

    def create(work: WritingSession) -> StoredAnswer:
        from api.draws.papers import withdraw_paper

        paper = work.existing(LoanPaper, paper_id, project_id=project_id)
        return _created(paper, withdraw_paper(work, paper, body.reason))

    return create_row(services(), current_caller(), create)


@papers.get(f"{PROJECT}/waivers")
@papers.asks(PageQuery)
@papers.answers(PaperPage)
def list_waivers(query: PageQuery, project_id: UUID) -> Response:
    """List lien waivers in the order received."""
    return _listed(query, project_id, "waivers")


@papers.get(f"{PROJECT}/evidence")
@papers.asks(PageQuery)
@papers.answers(PaperPage)
def list_evidence(query: PageQuery, project_id: UUID) -> Response:
    """List papers that the lender wants to see, in the order received."""
    return _listed(query, project_id, "evidence")


def _listed(query: PageQuery, project_id: UUID, kind: str) -> Response:
    from api.draws.papers import paper_json, withdrawals_of

    statement = select(LoanPaper).where(LoanPaper.project_id == project_id, LoanPaper.kind == kind)
    order = (LoanPaper.number, LoanPaper.id)
    with services().store.reading(current_caller()) as session:
        session.existing(Project, project_id)
        page = page_of(session, statement, order, query, cursor_key())
        withdrawn = withdrawals_of(session, project_id)
    rows: list[Any] = [paper_json(one, withdrawn.get(one.number)) for one in page.rows]
    return json_answer({"papers": rows, "next": page.next})


def _created(paper: LoanPaper, withdrawal: PaperWithdrawal | None = None) -> StoredAnswer:
    from api.draws.papers import paper_json

    where = f"/v1/projects/{paper.project_id}/{paper.kind}"
    return creation(where, paper_json(paper, withdrawal))
