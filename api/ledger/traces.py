"""From a dollar of the report back to rows, documents, budget line, quantity, formula and rate."""

from __future__ import annotations

from datetime import date, datetime
from typing import Any
from uuid import UUID

from api.estimates.explanations import explained
from api.estimates.shown import lines_of
from api.ledger.baselines import accepted_document, accepted_estimate
from api.ledger.known_books import books_of
from api.ledger.reports import track_of
from api.store.caller import Caller
from api.store.store import Store
from estimator.tracking.trace_json import trace_fields
from estimator.tracking.traced_rows import Trace, trace


def trace_of(
    store: Store, caller: Caller, project_id: UUID, code: str, as_of: date, known_on: datetime
) -> tuple[Trace, list[dict[str, Any]]]:
    """Return where the figures of a cost code come from, and the working of its budget lines.

    Raises
    ------
    NotFound, LedgerFaulty
        If the caller sees no such project, its books are not open, or there is no such code.
    """
    from estimator.pricing.estimate_json import estimate_from_json

    with store.reading(caller) as session:
        report = track_of(session, project_id, as_of, known_on)
        estimate_id = accepted_estimate(session, project_id, known_on)
        lines = lines_of(session, estimate_id, code)
        estimate = estimate_from_json(accepted_document(session, estimate_id))
        traced = trace(books_of(session, project_id), report, code, lines, estimate.markups)
    if not lines:
        return traced, []
    working = explained(store, caller, project_id, estimate_id, code, None)
    steps: list[dict[str, Any]] = working["explanations"]
    return traced, steps


def trace_json(traced: Trace, working: list[dict[str, Any]]) -> dict[str, Any]:
    """Return a trace as the service and the command tell it."""
    return trace_fields(traced) | {"lines": working}
