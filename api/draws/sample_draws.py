"""The loan and the first two draws of the invented sample, under a clock of their own."""

from __future__ import annotations

from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any
from uuid import UUID

from api.draws.drafts import open_draft
from api.draws.draw_shapes import NewCut, NewDecision, NewDrawing, NewFunding
from api.draws.loan_file import read_loan_file
from api.draws.loans import freeze_loan
from api.draws.paper_shapes import NewEvidence, NewWaiver
from api.draws.papers import add_evidence, add_waiver
from api.draws.rows import StoredDraw
from api.draws.stored_draws import decide, fund, submit_draft
from api.store.caller import Caller
from api.store.store import Store
from api.store.writing_session import WritingSession
from estimator.money import dollars
from estimator.opening import SAMPLE_SCOPE

LOAN_FILE = Path(SAMPLE_SCOPE).with_name("harrow-lane-loan.yaml")
_FEE = dollars(35_000)


def draw_twice(store: Store, caller: Caller, project_id: UUID) -> None:
    """Freeze the sample's loan, and carry its first two draws through to the money."""

    def at(month: int, day: int, change: Any) -> Any:
        return store.carry_out(caller, datetime(2026, month, day, 16, tzinfo=UTC), change)

    def submit(through: date) -> Any:
        def change(work: WritingSession) -> UUID:
            draft, request = open_draft(work, project_id, NewDrawing(through=through))
            return submit_draft(work, draft, request).id

        return change

    def settle(draw_id: UUID, decision: NewDecision, paid: date) -> Any:
        def change(work: WritingSession) -> None:
            draw = work.existing(StoredDraw, draw_id)
            decide(work, draw, decision)
            fund(work, draw, NewFunding(day=paid, fees=_FEE))

        return change

    text = LOAN_FILE.read_text(encoding="utf-8")
    terms = read_loan_file(text, LOAN_FILE.name)
    at(4, 6, lambda work: freeze_loan(work, project_id, terms))
    at(5, 4, lambda work: _papers(work, project_id))
    first = at(5, 4, submit(date(2026, 5, 3)))
    cut = NewCut(line="3", amount=dollars(50_000), reason="planks not stacked where they were said")
    at(5, 14, settle(first, NewDecision(cuts=[cut]), date(2026, 5, 14)))
    at(6, 2, lambda work: _later_papers(work, project_id))
    second = at(6, 2, submit(date(2026, 5, 31)))
    at(6, 11, settle(second, NewDecision(), date(2026, 6, 11)))


def _papers(work: WritingSession, project_id: UUID) -> None:
    for kind, name, issued, expires, draw in (
        ("insurance", "builder's risk BR-6114", date(2026, 4, 6), date(2027, 4, 5), None),
        ("permit", "B-2026-118", date(2026, 4, 1), date(2027, 3, 31), None),
        ("title date-down", "to 2026-05-01", date(2026, 5, 1), None, 1),
        ("photographs", "36 of both bays", date(2026, 5, 2), None, 1),
    ):
        paper = NewEvidence(kind=kind, name=name, issued=issued, expires=expires, draw=draw)
        add_evidence(work, project_id, paper)
    _waiver(work, project_id, "Aqueduct Mechanical and Survey", 1, 2_050_401, conditional=True)


def _later_papers(work: WritingSession, project_id: UUID) -> None:
    photographs = NewEvidence(
        kind="photographs", name="28 of the pits", issued=date(2026, 5, 30), draw=2
    )
    add_evidence(work, project_id, photographs)
    _waiver(work, project_id, "Aqueduct Mechanical and Survey", 1, 2_050_401)
    _waiver(work, project_id, "Lockport Pumping", 2, 427_500, conditional=True)


def _waiver(
    work: WritingSession,
    project_id: UUID,
    payee: str,
    draw: int,
    cents: int,
    *,
    conditional: bool = False,
) -> None:
    add_waiver(
        work,
        project_id,
        NewWaiver(
            payee=payee, draw=draw, amount=dollars(cents), received=work.at.date(),
            conditional=conditional,
        ),
    )  # fmt: skip
