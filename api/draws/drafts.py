"""A draw that is open: what the owner says is stored, its figures come from the books."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import datetime
from typing import Any
from uuid import UUID

from sqlalchemy import func, or_, select

from api.draws.amended_loans import loan_on
from api.draws.draw_shapes import NewDrawing
from api.draws.loans import stored_loan
from api.draws.papers import papers_of
from api.draws.rows import FUNDED, RETURNED, DrawBackup, DrawDraft, StoredDraw
from api.draws.stored_draws import funding_of_step, granted_request, steps_of
from api.ledger.baselines import baseline_of
from api.ledger.known_books import books_of, known_by, of_kinds
from api.ledger.plain_rows import library_row, plain_row
from api.projects.rows import Project
from api.store.errors import NotFound
from api.store.sessions import AccountSession
from api.store.writing_session import WritingSession
from estimator.errors import FundingFaulty, fault
from estimator.funding.draw_from_books import draw_from_books
from estimator.funding.draw_requests import PROGRESS, RELEASE, DrawRequest, StoredPart
from estimator.funding.drawings import DrawHistory, Drawing
from estimator.money import to_cents


def open_draft(
    work: WritingSession, project_id: UUID, body: NewDrawing
) -> tuple[DrawDraft, DrawRequest]:
    """Return a draw that is opened, and its figures of now.

    Raises
    ------
    AlreadyThere
        If one is open.
    FundingFaulty
        If the draw before is not funded, or the terms do not allow it.
    """
    stored_loan(work, project_id)
    drawing = Drawing(
        number=1,
        issue=1,
        through=body.through,
        kind=RELEASE if body.release and not body.last else PROGRESS,
        stored=tuple(
            StoredPart(one.row, one.line, to_cents(one.amount), one.place) for one in body.stored
        ),
        interest_cents=to_cents(body.interest),
        is_last=body.last,
        released=tuple(body.release),
        left_out=tuple(body.left_out),
    )
    draft = DrawDraft(project_id=project_id, opened_at=work.at, fields=plain_row(drawing))
    work.add(draft)
    return draft, drafted(work, draft, work.at)


def draft_of(session: AccountSession, project_id: UUID) -> DrawDraft:
    """Return the draw of a project that is open.

    Raises
    ------
    NotFound
        If none is.
    """
    session.existing(Project, project_id)
    draft = session.scalar(select(DrawDraft).where(DrawDraft.project_id == project_id))
    if draft is None:
        raise fault(NotFound, "no draw is open", "'groundsill draw open' opens one")
    return draft


def drafted(session: AccountSession, draft: DrawDraft, now: datetime) -> DrawRequest:
    """Return an open draw with its figures of today.

    Raises
    ------
    FundingFaulty
        If the draw before is not funded, or the terms do not allow it.
    """
    project_id = draft.project_id
    project, stored = session.existing(Project, project_id), stored_loan(session, project_id)
    drawing = library_row(draft.fields, Drawing)
    loan = loan_on(session, stored, drawing.through, now)
    number, issue, history = before_next(session, project_id)
    drawing = replace(drawing, number=number, issue=issue)
    return draw_from_books(
        project.name,
        loan,
        baseline_of(session, project_id, stored.frozen_on),
        books_of(session, project_id, or_(known_by(drawing.through, now), of_kinds("changes"))),
        drawing,
        history,
        papers_of(session, project_id, now),
        now,
    )


def before_next(session: AccountSession, project_id: UUID) -> tuple[int, int, DrawHistory]:
    """Return number and issue of the next draw, and what the earlier ones came to.

    Raises
    ------
    FundingFaulty
        If the last one is neither funded nor returned.
    """
    draws = submitted_draws(session, project_id)
    steps = steps_of(session, StoredDraw.project_id == project_id)
    funded = [one for one in draws if any(s.state == FUNDED for s in steps[one.id])]
    fundings = [funding_of_step(steps[one.id][-1]) for one in funded]
    history = DrawHistory(
        last=granted_request(steps[funded[-1].id]) if funded else None,
        drawn=_drawn(session, project_id),
        equity_cents=sum(one.equity_cents for one in fundings),
        loan_cents=sum(one.loan_cents for one in fundings),
    )
    last = draws[-1] if draws else None
    if last is None:
        return 1, 1, history
    if last in funded:
        return last.number + 1, 1, history
    if steps[last.id] and steps[last.id][-1].state == RETURNED:
        return last.number, last.issue + 1, history
    what = f"draw {last.number} is neither funded nor returned"
    raise fault(FundingFaulty, what, "one draw comes after another: finish that one first")


def submitted_draws(session: AccountSession, project_id: UUID) -> list[StoredDraw]:
    """Return all versions of all draws of a project that were submitted, in order."""
    statement = select(StoredDraw).where(StoredDraw.project_id == project_id)
    return list(session.scalars(statement.order_by(StoredDraw.number, StoredDraw.issue)))


def _drawn(session: AccountSession, project_id: UUID) -> dict[tuple[int, str], int]:
    statement = (
        select(DrawBackup.row, DrawBackup.line, func.sum(DrawBackup.cents))
        .where(DrawBackup.project_id == project_id)
        .group_by(DrawBackup.row, DrawBackup.line)
    )
    rows: Iterable[Any] = session.execute(statement)
    return {(row, line): int(cents) for row, line, cents in rows if cents}
