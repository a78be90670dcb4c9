"""The books: entries that are only added to."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

from api.store.columns import IntRange, Json, ShortText, UtcTime
from api.store.migrations.guards import final_guards
from api.store.migrations.schema import (
    create_table,
    drop_empty_tables,
    guard,
    key_columns,
    of_project,
    required,
)

revision = "0007"
down_revision = "0006"


def upgrade() -> None:
    """Create the table."""
    create_table(
        "book_entries",
        *key_columns(of_project=True),
        required("number", IntRange(1, 10**9)),
        required("kind", ShortText(40)),
        required("happened", sa.Date()),
        required("entered_at", UtcTime()),
        required("entered_by", ShortText(200)),
        required("party", ShortText(200, least=0)),
        required("document", ShortText(200, least=0)),
        sa.Column("reverses", IntRange(1, 10**9)),
        sa.Column("cents", IntRange()),
        required("notes", Json()),
        required("fields", Json()),
        sa.PrimaryKeyConstraint("id"),
        sa.UniqueConstraint("project_id", "number"),
        of_project(),
    )
    columns = ["project_id", "kind", "party", "number"]
    op.create_index("ix_book_entries_project_id_kind_party_number", "book_entries", columns)
    guard(final_guards("book_entries", ("id",), ("project_id", "number")))


def downgrade() -> None:
    """Drop the table, if nothing is in it."""
    drop_empty_tables("book_entries")
