"""Draws from submission on: frozen with a digest, decided line by line, funded or returned."""

from __future__ import annotations

import json
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from typing import Any
from uuid import UUID

from sqlalchemy import ColumnElement, select

from api.draws.draw_shapes import NewDecision, NewFunding
from api.draws.rows import (
    BACK,
    CUT,
    DECISION,
    DRAWN,
    FUNDED,
    FUNDING,
    GRANTED,
    RETURNED,
    DrawBackup,
    DrawDraft,
    DrawLineRow,
    DrawStep,
    StoredDraw,
)
from api.ledger.plain_rows import library_row, plain_row
from api.ledger.rows import BookEntry
from api.store.columns import canonical_json
from api.store.sessions import AccountSession
from api.store.writing_session import WritingSession
from estimator.digests import canonical_digest
from estimator.errors import FundingFaulty, fault
from estimator.funding.draw_checks import check_draw
from estimator.funding.draw_decisions import Cut, Funding, funding_of, granted
from estimator.funding.draw_requests import BackupPart, DrawRequest
from estimator.money import to_cents

FORM = "draw 1"


def submit_draft(work: WritingSession, draft: DrawDraft, request: DrawRequest) -> StoredDraw:
    """Return a draw that is frozen as it stands, with the cents of every receipt behind it.

    Raises
    ------
    FundingFaulty
        If two of its figures differ by a cent, or the terms do not allow it.
    ValueRefused
        If the database finds a line over its value or an entry over its amount.
    """
    check_draw(request)
    plain = plain_row(request)
    draw = StoredDraw(
        project_id=draft.project_id,
        number=request.number,
        issue=request.issue,
        through=request.through,
        submitted_at=work.at,
        submitted_by=work.caller.actor,
        digest=canonical_digest(FORM, plain),
        document=canonical_json(plain),
    )
    work.add(draw)
    work.delete(draft)
    work.add_parts(DrawLineRow, [_of(draw) | _line(one) for one in request.lines])
    _take(work, draw, {(one.row, one.line): one.cents for one in request.backup}, DRAWN)
    return draw


def decide(work: WritingSession, draw: StoredDraw, body: NewDecision) -> DrawStep:
    """Return what the lender decided of a draw; what is cut or returned may be drawn again.

    Raises
    ------
    FundingFaulty
        With every cut that cannot be, or a return without a reason.
    AlreadyThere
        If it was decided before.
    """
    if steps_of(work, StoredDraw.id == draw.id)[draw.id]:
        what = f"draw {draw.number} was decided already"
        raise fault(FundingFaulty, what, "what is cut or returned is requested in the next one")
    request = request_of(draw)
    if body.returned:
        return _give_back(work, draw, request, body)
    cuts = [Cut(one.line, to_cents(one.amount), one.reason) for one in body.cuts]
    own = granted(request, cuts)
    check_draw(own)
    step = _step(work, draw, DECISION, GRANTED, {"cuts": [plain_row(one) for one in cuts]})
    step.document = canonical_json(plain_row(own))
    work.add(step)
    _take(work, draw, _less(request.backup, own.backup), CUT)
    return step


def fund(work: WritingSession, draw: StoredDraw, body: NewFunding) -> DrawStep:
    """Return what the lender paid of a granted draw.

    Raises
    ------
    FundingFaulty
        If it is not granted, was funded before, or the sum is more than the lender's part.
    """
    steps = steps_of(work, StoredDraw.id == draw.id)[draw.id]
    if [one.state for one in steps] != [GRANTED]:
        state = steps[-1].state if steps else "submitted"
        what = f"draw {draw.number} is {state}"
        raise fault(FundingFaulty, what, "a draw is funded once, after it is granted")
    own = granted_request(steps)
    fees = to_cents(body.fees)
    paid = own.totals.loan_cents - fees if body.amount is None else to_cents(body.amount)
    funding = funding_of(own, body.day, paid, fees)
    step = _step(work, draw, FUNDING, FUNDED, plain_row(funding))
    work.add(step)
    return step


def request_of(draw: StoredDraw) -> DrawRequest:
    """Return a draw as it was submitted."""
    return library_row(json.loads(draw.document), DrawRequest)


def granted_request(steps: Iterable[DrawStep]) -> DrawRequest:
    """Return a draw as it was granted."""
    (step,) = [one for one in steps if one.state == GRANTED]
    return library_row(json.loads(step.document or ""), DrawRequest)


def is_granted(steps: Iterable[DrawStep]) -> bool:
    """Return whether a draw was granted, with or without cuts."""
    return any(one.state == GRANTED for one in steps)


def funding_of_step(step: DrawStep) -> Funding:
    """Return what came of a draw that was funded."""
    return library_row(step.fields, Funding)


def steps_of(session: AccountSession, of: ColumnElement[bool]) -> Mapping[UUID, list[DrawStep]]:
    """Return what came of each of some draws, in order."""
    steps: dict[UUID, list[DrawStep]] = defaultdict(list)
    draws = select(StoredDraw.id).where(of)
    for one in session.scalars(
        select(DrawStep).where(DrawStep.draw_id.in_(draws)).order_by(DrawStep.step)
    ):
        steps[one.draw_id].append(one)
    return steps


def state_of(steps: Sequence[DrawStep]) -> str:
    """Return the state of a submitted draw: `submitted`, `granted`, `returned` or `funded`."""
    return steps[-1].state if steps else "submitted"


def _give_back(
    work: WritingSession, draw: StoredDraw, request: DrawRequest, body: NewDecision
) -> DrawStep:
    if not body.reason or body.cuts:
        what = "a return has a reason and no cuts"
        raise fault(FundingFaulty, what, "say what the next version must show", "reason")
    step = _step(work, draw, DECISION, RETURNED, {"reason": body.reason})
    work.add(step)
    _take(work, draw, _less(request.backup, ()), BACK)
    return step


def _step(
    work: WritingSession, draw: StoredDraw, number: int, state: str, fields: dict[str, Any]
) -> DrawStep:
    return DrawStep(
        project_id=draw.project_id,
        draw_id=draw.id,
        step=number,
        state=state,
        at=work.at,
        by=work.caller.actor,
        fields=fields,
        document=None,
    )


def _less(before: Iterable[BackupPart], after: Iterable[BackupPart]) -> dict[tuple[int, str], int]:
    """Return what goes back of each entry and line, below zero."""
    back = {(one.row, one.line): -one.cents for one in before}
    for one in after:
        back[one.row, one.line] += one.cents
    return {key: cents for key, cents in back.items() if cents}


def _of(draw: StoredDraw) -> dict[str, Any]:
    return {
        "account_id": draw.account_id,
        "project_id": draw.project_id,
        "draw_id": draw.id,
    }


def _line(line: Any) -> dict[str, Any]:
    figures = line.figures
    return {
        "line": line.line,
        "value_cents": max(figures.state.revised_cents, 0),
        "done_cents": figures.done_cents,
        "stored_cents": figures.stored_cents,
        "retainage_cents": figures.retainage_cents,
    }


def _take(
    work: WritingSession, draw: StoredDraw, cents: Mapping[tuple[int, str], int], cause: str
) -> None:
    """Add what a draw takes of entries, or gives back; the database holds each to its amount."""
    ids = _entry_ids(work, draw, cause, {row for row, _ in cents})
    work.add_parts(
        DrawBackup,
        [
            _of(draw)
            | {"entry_id": ids[row], "line": line, "cause": cause, "row": row, "cents": own}
            for (row, line), own in sorted(cents.items(), key=lambda one: one[1])
        ],
    )


def _entry_ids(
    work: WritingSession, draw: StoredDraw, cause: str, rows: set[int]
) -> Mapping[int, UUID]:
    """Return ids of entries by their numbers; of what was drawn, as a lender sees it too."""
    if cause == DRAWN:
        statement = select(BookEntry.number, BookEntry.id).where(
            BookEntry.project_id == draw.project_id, BookEntry.number.in_(rows)
        )
    else:
        statement = select(DrawBackup.row, DrawBackup.entry_id).where(DrawBackup.draw_id == draw.id)
    return {one[0]: one[1] for one in work.execute(statement)}
