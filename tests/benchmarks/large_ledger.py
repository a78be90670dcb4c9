"""Books of a thousand items with as many rows as one likes, written straight into the tables."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, date, datetime, time, timedelta
from decimal import Decimal
from itertools import islice
from pathlib import Path
from uuid import UUID, uuid4

from api.ledger.baselines import baseline_of
from api.ledger.entry_kinds import ENTRY_KINDS
from api.ledger.movement_rows import movement_rows, sum_rows
from api.ledger.opened_books import open_books
from api.ledger.plain_rows import plain_row
from api.ledger.rows import BookEntry, LedgerMovement, LedgerSum, OpenHours
from api.store.bulk import add_amounts, insert_rows
from api.store.caller import Caller
from api.store.engine import POSTGRESQL
from api.store.models import table_of
from api.store.store import Store
from estimator.tracking.ledger_movements import all_movements
from estimator.tracking.ledger_rows import Cost, CostSplit, Payment
from estimator.tracking.payroll_week import HoursRow
from estimator.tracking.progress import Progress
from estimator.tracking.tickets import Ticket

ITEMS, A_DAY, AT_ONCE = 1_000, 1_500, 20_000
OPENED = datetime(2026, 3, 2, tzinfo=UTC)
_OF_TEN = ("ticket", "cost", "pay", "cost", "pay", "hours", "cost", "pay", "progress", "bill")


def scope_of_items(folder: Path, items: int = ITEMS) -> Path:
    """Return a scope file of so many items of one assembly."""
    lines = ["project: Large", "on: 2026-03-02", "phases:"]
    for number in range(items):
        if number % 100 == 0:
            lines += [f'  - code: "{number // 100 + 10}"', "    name: P", "    items:"]
        lines += [
            f'      - {{code: "{number % 100:03}", name: Cloth, assembly: geotextile, '
            f'inputs: {{area: "{900 + number} sf"}}}}'
        ]
    path = folder / "large.yaml"
    path.write_text("\n".join(lines), encoding="utf-8")
    return path


def rows_of(codes: list[str], count: int) -> Iterator[tuple[str, object]]:
    """Yield rows as a large job has them: of ten, four bills, three payments, a ticket, hours."""
    bill = load = 0
    for row in range(1, count + 1):
        day = date(2026, 3, 2) + timedelta(row // A_DAY)
        head = {
            "row": row,
            "happened": day,
            "entered": datetime.combine(day, time(18), UTC) + timedelta(microseconds=row),
        }
        code, what = codes[row * 7 % len(codes)], _OF_TEN[row % 10]
        if what in ("cost", "bill"):
            tickets = (load,) if what == "bill" and load else ()
            splits = (CostSplit(code, "material", 10_000 + row % 997, 700),)
            yield "costs", Cost(
                **head, vendor=f"Vendor {row % 50}", document=f"D-{row}", note="", splits=splits,
                tickets=tickets, order=f"PO-{row % 40}" if row % 3 == 0 else "",
            )  # fmt: skip
            bill = row
        elif what == "pay" and bill:
            yield "payments", Payment(**head, cost=bill, cents=5_000, means="check")
        elif what == "hours":
            yield "hours", HoursRow(
                **head, person=f"P{row % 20}", trade="laborer", code=code, hours=Decimal(1),
                rate_per_hr=Decimal(20), is_unpaid=row % 4 == 0,
            )  # fmt: skip
        elif what == "progress" and row % 100 < 50:
            done = Decimal(row).scaleb(-5)
            yield "progress", Progress(**head, code=code, in_place=done, unit="sf")
        else:
            yield "tickets", Ticket(
                **head, number=f"T-{row}", vendor="Vendor 1", truck="", code=code, kind="material",
                quantity=Decimal(20), unit="ton", cents=52_000,
            )  # fmt: skip
            load = row


def open_large_books(store: Store, caller: Caller, folder: Path, count: int) -> UUID:
    """Return the project of open books with so many rows."""
    project_id = open_books(store, caller, OPENED, scope_of_items(folder)).project_id
    with store.reading(caller) as session:
        baseline = baseline_of(session, project_id, OPENED)
    codes = [one.code for one in baseline.values() if one.phase]
    listed = iter(list(rows_of(codes, count)))
    while batch := list(islice(listed, AT_ONCE)):
        _write(store, caller, project_id, batch)
    if store.engine.dialect.name == POSTGRESQL:
        with store.across_accounts(writes=True) as connection:
            connection.exec_driver_sql("ANALYZE")  # as its own upkeep does within a minute
    return project_id


def _write(store: Store, caller: Caller, project_id: UUID, batch: list[tuple[str, object]]) -> None:
    of_project = {"account_id": caller.account_id, "project_id": project_id}
    money = [row for kind, row in batch if kind != "progress"]
    moved = list(all_movements(money))
    entered = {row.row: row.entered for row in money}
    sums, hours = sum_rows(of_project, moved)
    with store.across_accounts(writes=True) as connection:
        insert_rows(connection, table_of(BookEntry), [_entry(of_project, *one) for one in batch])
        insert_rows(connection, table_of(LedgerMovement), movement_rows(of_project, moved, entered))
        add_amounts(connection, table_of(LedgerSum), sums)
        add_amounts(connection, table_of(OpenHours), hours)


def _entry(of_project: dict, name: str, row: object) -> dict:
    kind = ENTRY_KINDS[name]
    return {
        "id": uuid4(), **of_project, "number": row.row, "kind": name, "happened": row.happened,
        "entered_at": row.entered, "entered_by": "somebody",
        "party": getattr(row, kind.party).casefold() if kind.party else "",
        "document": getattr(row, kind.document) if kind.document else "",
        "reverses": None, "cents": getattr(row, "cents", None), "notes": [],
        "fields": plain_row(row),
    }  # fmt: skip
