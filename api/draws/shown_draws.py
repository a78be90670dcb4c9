"""Draws as the service and the commands tell them: from what was stored, never worked out anew."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from decimal import Decimal
from typing import Any
from uuid import UUID

from sqlalchemy import select

from api.draws.rows import DrawStep, StoredDraw
from api.draws.stored_draws import (
    FORM,
    granted_request,
    is_granted,
    request_of,
    state_of,
    steps_of,
)
from api.store.errors import NotFound
from api.store.sessions import AccountSession
from api.store.verify import damaged
from estimator.digests import canonical_digest
from estimator.errors import FundingFaulty, fault
from estimator.funding.draw_checks import check_draw, notes_on
from estimator.funding.draw_json import draw_fields
from estimator.funding.draw_requests import DrawRequest
from estimator.money import cents_text, money_text


def head_json(draw: StoredDraw, steps: Sequence[DrawStep]) -> dict[str, Any]:
    """Return a draw as a list tells it."""
    return {
        "id": str(draw.id),
        "number": draw.number,
        "issue": draw.issue,
        "through": draw.through.isoformat(),
        "state": state_of(steps),
        "submitted_at": draw.submitted_at.isoformat(),
        "submitted_by": draw.submitted_by,
        "digest": draw.digest,
    }


def draw_json(session: AccountSession, draw: StoredDraw) -> dict[str, Any]:
    """Return a submitted draw whole, with what was granted and what came of it.

    Raises
    ------
    StoreFaulty
        If it is not what its digest says.
    """
    steps, request = steps_of(session, StoredDraw.id == draw.id)[draw.id], checked_request(draw)
    own = draw_fields(granted_request(steps)) if is_granted(steps) else None
    return head_json(draw, steps) | {
        "steps": [step_json(one) for one in steps],
        "notes": list(notes_on(request)),
        "request": draw_fields(request),
        "granted": own,
    }


def checked_request(draw: StoredDraw) -> DrawRequest:
    """Return a draw as it was submitted, if it is what its digest says.

    Raises
    ------
    StoreFaulty
        If it was altered.
    """
    if canonical_digest(FORM, json.loads(draw.document)) != draw.digest:
        raise damaged(f"draws {draw.id}", "it is not what its digest says")
    return request_of(draw)


def draft_json(request: DrawRequest, opened_at: str) -> dict[str, Any]:
    """Return an open draw with what stands against submitting it."""
    faults: list[str] = []
    try:
        check_draw(request)
    except FundingFaulty as error:
        faults = [str(one) for one in error.faults]
    return {
        "opened_at": opened_at,
        "request": draw_fields(request),
        "notes": list(notes_on(request)),
        "faults": faults,
    }


def draw_trace_json(request: DrawRequest) -> dict[str, Any]:
    """Return each line of a draw with the receipts behind it, to the cent."""
    return {
        "draw": request.number,
        "lines": [
            {
                "line": line.line,
                "name": line.name,
                "billed": cents_text(line.figures.billed_cents),
                "without_receipt": cents_text(line.unbacked_cents),
                "retained": cents_text(line.figures.retainage_this_period_cents),
                "requested": cents_text(
                    line.figures.billed_cents - line.figures.retainage_this_period_cents
                ),
                "receipts": [
                    {
                        "row": part.row,
                        "happened": part.happened.isoformat(),
                        "what": part.what,
                        "vendor": part.vendor,
                        "document": part.document,
                        "bears": cents_text(part.entry_cents),
                        "drawn_before": cents_text(part.drawn_before_cents),
                        "drawn": cents_text(part.cents),
                        "proof": list(part.proof),
                    }
                    for part in request.backup
                    if part.line == line.line
                ],
            }
            for line in request.lines
            if line.figures.billed_cents or line.figures.retainage_this_period_cents
        ],
        "billed": cents_text(request.billed_cents),
        "retained": cents_text(request.sum_cents("retainage_this_period_cents")),
        "short_before": cents_text(request.totals.short_funded_cents),
        "requested": cents_text(request.totals.requested_cents),
    }


def step_json(step: DrawStep) -> dict[str, Any]:
    """Return what came of a draw, with sums in dollars."""
    plain = {
        key.removesuffix("_cents"): cents_text(value) if key.endswith("_cents") else value
        for key, value in step.fields.items()
        if key != "cuts"
    }
    cuts = [one | {"amount": cents_text(one.pop("cents"))}
            for one in map(dict, step.fields.get("cuts", ()))]  # fmt: skip
    return {
        "state": step.state,
        "at": step.at.isoformat(),
        "by": step.by,
        **plain,
        "cuts": cuts,
    }


def step_words(step: Mapping[str, Any]) -> str:
    """Return in a sentence what `step_json` tells."""
    if step["state"] == "returned":
        return f"Returned: {step['reason']}"
    if step["state"] == "granted":
        cuts = [f"line {c['line']} less {_money(c['amount'])}: {c['reason']}" for c in step["cuts"]]
        return f"Granted{'; ' if cuts else ''}{'; '.join(cuts)}"
    fees = f", {_money(step['fees'])} withheld as fees" if Decimal(step["fees"]) else ""
    short = f", {_money(step['short'])} short" if Decimal(step["short"]) else ""
    return f"Funded on {step['day']}: {_money(step['paid'])} of the loan{fees}{short}"


def _money(text: str) -> str:
    return money_text(Decimal(text))


def draw_numbered(session: AccountSession, project_id: UUID, number: int) -> StoredDraw:
    """Return the newest version of a draw by its number.

    Raises
    ------
    NotFound
        If there is none.
    """
    statement = select(StoredDraw).where(
        StoredDraw.project_id == project_id, StoredDraw.number == number
    )
    draw = session.scalar(statement.order_by(StoredDraw.issue.desc()).limit(1))
    if draw is None:
        raise fault(
            NotFound, f"draw {number} was not submitted", "'groundsill draw list' shows all"
        )
    return draw
