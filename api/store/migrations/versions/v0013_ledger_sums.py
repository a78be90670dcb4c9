"""What each entry of the books moves, and the sums that are kept of it."""

from __future__ import annotations

from collections import defaultdict
from typing import Any
from uuid import UUID

import sqlalchemy as sa
from alembic import op

from api.store.bulk import insert_rows
from api.store.columns import Flag, IntRange, Json, ShortText, UtcTime
from api.store.migrations.guards import final_guards
from api.store.migrations.schema import (
    account_column,
    create_table,
    guard,
    of_project,
    project_column,
    required,
)

revision = "0013"
down_revision = "0012"

_LOOKED_UP = ["project_id", "kind", "party", "cents", "document", "happened", "number"]


def _keys() -> list[sa.Column[Any]]:
    return [
        required("code", ShortText(81)),
        required("kind", ShortText(40)),
        required("order_number", ShortText(200, least=0)),
        required("is_once", Flag()),
    ]


def _amounts() -> list[sa.Column[Any]]:
    names = ("billed_cents", "net_cents", "accrued_cents", "paid_cents", "hours")
    return [required(name, IntRange()) for name in names]


def upgrade() -> None:
    """Create the tables, fill them from the entries, and look entries up by more columns."""
    movements = create_table(
        "ledger_movements",
        account_column(),
        project_column(),
        *(required(name, IntRange(1, 10**9)) for name in ("number", "position", "of_number")),
        required("day", sa.Date()),
        required("worked_on", sa.Date()),
        required("entered_at", UtcTime()),
        *_keys(),
        *_amounts(),
        sa.PrimaryKeyConstraint("project_id", "number", "position"),
        sa.ForeignKeyConstraint(
            ["project_id", "number"], ["book_entries.project_id", "book_entries.number"]
        ),
    )
    sums = create_table(
        "ledger_sums",
        account_column(),
        project_column(),
        *_keys(),
        *_amounts(),
        sa.PrimaryKeyConstraint("project_id", "code", "kind", "order_number", "is_once"),
        of_project(),
    )
    hours = create_table(
        "open_hours",
        account_column(),
        project_column(),
        required("worked_on", sa.Date()),
        required("accrued_cents", IntRange()),
        required("hours", IntRange()),
        sa.PrimaryKeyConstraint("project_id", "worked_on"),
        of_project(),
    )
    _fill(movements, sums, hours)
    for column in ("of_number", "day", "entered_at"):
        name = f"ix_ledger_movements_project_id_{column}"
        op.create_index(name, "ledger_movements", ["project_id", column])
    op.drop_index("ix_book_entries_project_id_kind_party_number", "book_entries")
    op.create_index("ix_book_entries_lookup", "book_entries", _LOOKED_UP)
    op.create_index(
        "ix_book_entries_project_id_reverses", "book_entries", ["project_id", "reverses"]
    )
    guard(final_guards("ledger_movements", ("project_id", "number", "position")))


def _fill(*tables: sa.Table) -> None:
    """Work out what the entries that are there move, project by project."""
    from api.ledger.movement_rows import MONEY_ROWS, movement_rows, sum_rows
    from api.ledger.plain_rows import library_row
    from estimator.tracking.ledger_movements import all_movements

    kinds: dict[str, Any] = {
        "account_id": sa.Uuid(), "project_id": sa.Uuid(), "kind": sa.Text(), "fields": Json(),
    }  # fmt: skip
    entries = sa.table("book_entries", *(sa.column(name, kind) for name, kind in kinds.items()))
    of_money = sa.select(entries).where(entries.c.kind.in_(MONEY_ROWS))
    rows: dict[tuple[UUID, UUID], list[Any]] = defaultdict(list)
    for account_id, project_id, kind, fields in op.get_bind().execute(of_money):
        rows[account_id, project_id].append(library_row(fields, MONEY_ROWS[kind]))
    for (account_id, project_id), own in rows.items():
        moved = list(all_movements(own))
        entered = {row.row: row.entered for row in own}
        of_project = {"account_id": account_id, "project_id": project_id}
        made = (movement_rows(of_project, moved, entered), *sum_rows(of_project, moved))
        for table, filled in zip(tables, made, strict=True):
            insert_rows(op.get_bind(), table, filled)


def downgrade() -> None:
    """Drop the tables: what they hold follows from the entries."""
    op.drop_index("ix_book_entries_project_id_reverses", "book_entries")
    op.drop_index("ix_book_entries_lookup", "book_entries")
    columns = ["project_id", "kind", "party", "number"]
    op.create_index("ix_book_entries_project_id_kind_party_number", "book_entries", columns)
    for name in ("open_hours", "ledger_sums", "ledger_movements"):
        op.drop_table(name)
