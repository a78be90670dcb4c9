"""An entry of the books as the service tells it."""

from __future__ import annotations

from typing import Any

from api.contract.fields import moment_text
from api.ledger.rows import BookEntry
from estimator.money import cents_text


def entry_json(entry: BookEntry) -> dict[str, Any]:
    """Return an entry as the service tells it."""
    return {
        "id": str(entry.id),
        "number": entry.number,
        "kind": entry.kind,
        "happened": entry.happened.isoformat(),
        "entered_at": moment_text(entry.entered_at),
        "entered_by": entry.entered_by,
        "reverses": entry.reverses,
        "amount": None if entry.cents is None else cents_text(entry.cents),
        "notes": entry.notes,
        "row": entry.fields,
    }
