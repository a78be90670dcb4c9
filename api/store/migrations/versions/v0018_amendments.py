"""Amendments of a loan, and papers that were entered wrongly and taken back."""

from __future__ import annotations

import sqlalchemy as sa

from api.store.columns import Digest, Document, IntRange, ShortText, UtcTime
from api.store.migrations.guards import final_guards
from api.store.migrations.schema import (
    create_table,
    drop_empty_tables,
    guard,
    key_columns,
    of_project,
    required,
)

revision = "0018"
down_revision = "0017"


def upgrade() -> None:
    """Create the tables."""
    create_table(
        "loan_amendments",
        *key_columns(of_project=True),
        required("number", IntRange(1, 10**9)),
        required("entered_at", UtcTime()),
        required("entered_by", ShortText(200)),
        required("digest", Digest()),
        required("document", Document()),
        sa.PrimaryKeyConstraint("id"),
        sa.UniqueConstraint("project_id", "number"),
        of_project(),
    )
    create_table(
        "paper_withdrawals",
        *key_columns(of_project=True),
        required("number", IntRange(1, 10**9)),
        required("at", UtcTime()),
        required("by", ShortText(200)),
        required("reason", ShortText(4_000)),
        sa.PrimaryKeyConstraint("id"),
        sa.UniqueConstraint("project_id", "number"),
        of_project(),
        sa.ForeignKeyConstraint(
            ["project_id", "number"], ["loan_papers.project_id", "loan_papers.number"]
        ),
    )
    guard(
        [
            *final_guards("loan_amendments", ("id",), ("project_id", "number")),
            *final_guards("paper_withdrawals", ("id",), ("project_id", "number")),
        ]
    )


def downgrade() -> None:
    """Drop the tables, if nothing is in them."""
    drop_empty_tables("paper_withdrawals", "loan_amendments")
