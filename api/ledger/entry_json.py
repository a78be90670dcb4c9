"""An entry of the books as the service tells it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import datetime
from decimal import Decimal
from types import MappingProxyType
from typing import Any
from uuid import UUID

from api.contract.fields import moment_text
from api.ledger.entry_kinds import MONEY_OF_SITE_KINDS
from api.ledger.rows import BookEntry, PostedEntry
from api.store.caller import Caller
from api.store.sessions import AccountSession
from estimator.money import cents_text

_WITH_QUANTITY = ("holds", "progress")


def entry_json(
    entry: BookEntry | PostedEntry,
    caller: Caller,
    sums: Mapping[str, Decimal] = MappingProxyType({}),
) -> dict[str, Any]:
    """Return an entry as the service tells it: to a crew without its money.

    Parameters
    ----------
    entry : BookEntry or PostedEntry
    caller : Caller
        Who reads it.
    sums : mapping of str to Decimal
        [$] See `sums_hidden`.
    """
    money = MONEY_OF_SITE_KINDS[entry.kind] if caller.is_crew else frozenset[str]()
    cents = None if caller.is_crew else entry.cents
    row = {name: value for name, value in entry.fields.items() if name not in money}
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
        "row": _in_percent(row, sums) if entry.kind in _WITH_QUANTITY else row,
    }


def _in_percent(row: dict[str, Any], sums: Mapping[str, Decimal]) -> dict[str, Any]:
    from estimator.tracking.quantities import row_without_sum

    return row_without_sum(row, sums[row["code"]]) if row["code"] in sums else row


def sums_hidden(
    session: AccountSession, project_id: UUID, at: datetime, entries: Iterable[BookEntry]
) -> Mapping[str, Decimal]:
    """Return the budgeted quantities that are sums of money, by code: a crew sees percents of them.

    Parameters
    ----------
    session : AccountSession
        Of whoever reads the entries; nothing is hidden from others than a crew.
    project_id : UUID
    at : datetime
        [UTC] Now.
    entries : iterable of BookEntry
        What is read.
    """
    if not session.caller.is_crew or all(one.kind not in _WITH_QUANTITY for one in entries):
        return {}
    from api.ledger.desk import Desk
    from estimator.tracking.progress import MONEY

    budget = Desk(session, project_id, at).budget
    return {one.code: one.quantity for one in budget.values() if one.unit == MONEY}
