"""From a dollar of the report back to rows, documents, budget line, quantity, formula and rate."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from typing import Any
from uuid import UUID

from api.estimates.explanations import explained
from api.estimates.shown import lines_stored
from api.ledger.baselines import accepted_document, accepted_estimate
from api.ledger.documents.document_shapes import document_json
from api.ledger.documents.document_statements import documents_of_code
from api.ledger.documents.rows import StoredDocument
from api.ledger.known_books import books_of_code
from api.ledger.reports import track_of
from api.store.caller import Caller
from api.store.store import Store
from estimator.tracking.trace_json import trace_fields
from estimator.tracking.traced_rows import Trace, trace


@dataclass(frozen=True)
class FullTrace:
    """Where the figures of a cost code come from, with what the database has besides the books.

    Parameters
    ----------
    traced : Trace
        Rows, changes, and what was measured.
    documents : list of StoredDocument
        Of the code, and of any of those rows.
    working : list of dict
        How each budget line was priced, as JSON.
    """

    traced: Trace
    documents: list[StoredDocument]
    working: list[dict[str, Any]]


def trace_of(
    store: Store, caller: Caller, project_id: UUID, code: str, as_of: date, known_on: datetime
) -> FullTrace:
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
        lines = lines_stored(session, estimate_id, code)
        estimate = estimate_from_json(accepted_document(session, estimate_id))
        traced = trace(
            books_of_code(session, project_id, code), report, code, lines, estimate.markups
        )
        rows = _rows_of(traced)
        documents = documents_of_code(session, project_id, code, rows, as_of, known_on)
    if not lines:
        return FullTrace(traced, documents, [])
    working = explained(store, caller, project_id, estimate_id, code, None)
    return FullTrace(traced, documents, working["explanations"])


def _rows_of(traced: Trace) -> set[int]:
    """Return the numbers of the rows of the books that a trace shows."""
    changes = (change for change, _ in traced.changes)
    return {one.row for listed in (traced.rows, traced.measured, changes) for one in listed}


def trace_json(full: FullTrace) -> dict[str, Any]:
    """Return a trace as the service and the command tell it."""
    documents = [document_json(one) for one in full.documents]
    return trace_fields(full.traced) | {"documents": documents, "lines": full.working}
