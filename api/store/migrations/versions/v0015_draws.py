"""Loans, draws and their papers; the database holds lines and entries to their amounts."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

from api.store.columns import Digest, Document, IntRange, Json, OneOf, ShortText, UtcTime
from api.store.migrations.guards import Guard, backup_guards, final_guards
from api.store.migrations.schema import (
    account_column,
    create_table,
    drop_empty_tables,
    guard,
    key_columns,
    of_project,
    project_column,
    required,
    version_column,
)

revision = "0015"
down_revision = "0014"

_NUMBER = IntRange(1, 10**9)


def upgrade() -> None:
    """Create the tables."""
    create_table(
        "loans",
        *key_columns(of_project=True),
        required("frozen_on", UtcTime()),
        required("frozen_by", ShortText(200)),
        required("digest", Digest()),
        required("document", Document()),
        sa.PrimaryKeyConstraint("id"),
        sa.UniqueConstraint("project_id"),
        of_project(),
    )
    create_table(
        "draw_drafts",
        *key_columns(of_project=True),
        version_column(),
        required("opened_at", UtcTime()),
        required("fields", Json()),
        sa.PrimaryKeyConstraint("id"),
        sa.UniqueConstraint("project_id"),
        of_project(),
    )
    create_table(
        "draws",
        *key_columns(of_project=True),
        required("number", _NUMBER),
        required("issue", _NUMBER),
        required("through", sa.Date()),
        required("submitted_at", UtcTime()),
        required("submitted_by", ShortText(200)),
        required("digest", Digest()),
        required("document", Document()),
        sa.PrimaryKeyConstraint("id"),
        sa.UniqueConstraint("project_id", "number", "issue"),
        sa.UniqueConstraint("account_id", "project_id", "id"),
        of_project(),
    )
    _create_parts()
    create_table(
        "draw_steps",
        *key_columns(of_project=True),
        required("draw_id", sa.Uuid()),
        required("step", IntRange(1, 2)),
        required("state", OneOf("granted", "returned", "funded")),
        required("at", UtcTime()),
        required("by", ShortText(200)),
        required("fields", Json()),
        sa.Column("document", Document()),
        sa.PrimaryKeyConstraint("id"),
        sa.UniqueConstraint("draw_id", "step"),
        _of_draw(),
    )
    create_table(
        "loan_papers",
        *key_columns(of_project=True),
        required("number", _NUMBER),
        required("kind", OneOf("waivers", "evidence")),
        required("entered_at", UtcTime()),
        required("entered_by", ShortText(200)),
        required("fields", Json()),
        sa.PrimaryKeyConstraint("id"),
        sa.UniqueConstraint("project_id", "number"),
        of_project(),
    )
    guard(_guards())


def _create_parts() -> None:
    create_table(
        "draw_lines",
        account_column(),
        project_column(),
        required("draw_id", sa.Uuid()),
        required("line", ShortText(40)),
        required("value_cents", IntRange()),
        required("done_cents", IntRange()),
        required("stored_cents", IntRange()),
        required("retainage_cents", IntRange()),
        sa.PrimaryKeyConstraint("draw_id", "line"),
        sa.CheckConstraint("done_cents + stored_cents <= value_cents", name="within_value"),
        _of_draw(),
    )
    create_table(
        "draw_backup",
        account_column(),
        project_column(),
        required("draw_id", sa.Uuid()),
        sa.Column("entry_id", sa.Uuid(), sa.ForeignKey("book_entries.id"), nullable=False),
        required("line", ShortText(40)),
        required("cause", OneOf("drawn", "cut", "returned")),
        required("row", _NUMBER),
        required("cents", IntRange()),
        sa.PrimaryKeyConstraint("draw_id", "entry_id", "line", "cause"),
        _of_draw(),
    )
    op.create_index("ix_draw_backup_entry_id", "draw_backup", ["entry_id"])


def _of_draw() -> sa.ForeignKeyConstraint:
    return sa.ForeignKeyConstraint(
        ["account_id", "project_id", "draw_id"],
        ["draws.account_id", "draws.project_id", "draws.id"],
    )


def _guards() -> list[Guard]:
    return [
        *final_guards("loans", ("id",), ("project_id",)),
        *final_guards("draws", ("id",), ("project_id", "number", "issue")),
        *final_guards("draw_lines", ("draw_id", "line")),
        *final_guards("draw_backup", ("draw_id", "entry_id", "line", "cause")),
        *final_guards("draw_steps", ("id",), ("draw_id", "step")),
        *final_guards("loan_papers", ("id",), ("project_id", "number")),
        *backup_guards(),
    ]


def downgrade() -> None:
    """Drop the tables, if nothing is in them."""
    drop_empty_tables(
        "draw_backup", "draw_lines", "draw_steps", "draws", "draw_drafts", "loan_papers", "loans"
    )
