"""A process that imports bills, as `groundsill books import --keep` does, and tells how far it is.

Run as `python -m tests.api.ledger.importer URL ACCOUNT PROJECT COUNT`.
"""

from __future__ import annotations

import sys
from datetime import UTC, datetime
from uuid import UUID

from api.ledger.imports import Imported, import_entries
from api.store.caller import Caller
from api.store.store import Store, open_store
from estimator.workbook.entries.entry_reader import TypedEntry

DAY = datetime(2026, 3, 2, 12, tzinfo=UTC)


def bills(count: int) -> list[TypedEntry]:
    """Return so many bills of one vendor, and a ticket among them, before which they are sent."""
    listed = []
    for number in range(count):
        body = {
            "happened": "2026-02-12", "vendor": "Ridge Road Quarry", "document": f"Q-{number}",
            "net": f"{1_440 + number}.00", "tax": "100.80",
            "splits": [{"code": "30.020", "kind": "material"}],
        }  # fmt: skip
        listed.append(TypedEntry("costs", body, f"row {number}", {"document": f"cell {number}"}))
    ticket = {
        "happened": "2026-02-12", "number": "T-1", "vendor": "Ridge Road Quarry",
        "code": "30.020", "kind": "material", "quantity": "20", "unit": "ton", "amount": "520.00",
    }  # fmt: skip
    listed.insert(count // 2, TypedEntry("tickets", ticket, "ticket", {}))
    return listed


def imported(store: Store, caller: Caller, project_id: UUID, count: int) -> Imported:
    """Return what came of an import, kept if it is without a fault."""
    with store.unit_of_work(caller, DAY) as work:
        came = import_entries(work, project_id, bills(count))
        if not came.faults.count:
            work.commit()
    return came


def main() -> None:
    """Import, and tell before and after."""
    url, account_id, project_id, count = sys.argv[1:]
    store = open_store(url, longest_wait_s=30)
    print("begun", flush=True)  # noqa: T201
    imported(store, Caller(UUID(account_id)), UUID(project_id), int(count))
    print("kept", flush=True)  # noqa: T201
    store.close()


if __name__ == "__main__":
    main()
