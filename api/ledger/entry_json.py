"""An entry of the books as the service tells it."""

from __future__ import annotations

from typing import Any

from api.contract.fields import moment_text
from api.ledger.entry_kinds import MONEY_OF_SITE_KINDS
from api.ledger.rows import BookEntry, PostedEntry
from api.store.caller import Caller
from estimator.money import cents_text


def entry_json(entry: BookEntry | PostedEntry, caller: Caller) -> dict[str, Any]:
    """Return an entry as the service tells it: to a crew without its money."""
    money = MONEY_OF_SITE_KINDS[entry.kind] if caller.is_crew else frozenset[str]()
    cents = None if caller.is_crew else entry.cents
    return {
        "id": str(entry.id),
        "number": entry.number,
        "kind": entry.kind,
        "happened": entry.happened.isoformat(),
        "entered_at": moment_text(entry.entered_at),
        "entered_by": entry.entered_by,
        "reverses": entry.reverses,
        "amount": None if cents is None else cents_text(cents),
        "notes": entry.notes,
        "row": {name: value for name, value in entry.fields.items() if name not in money},
    }
