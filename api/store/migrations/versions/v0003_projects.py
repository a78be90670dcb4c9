"""Projects with phases, items, quotes and shares."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

from api.store.columns import IntRange, Json, ShortText, UtcTime
from api.store.migrations.schema import (
    create_table,
    drop_empty_tables,
    key_columns,
    of_project,
    required,
    version_column,
)

revision = "0003"
down_revision = "0002"

INDEXES = (
    (
        "ix_items_project_id_phase_id_position_id",
        "items",
        ["project_id", "phase_id", "position", "id"],
    ),
    ("ix_phases_project_id_position_id", "phases", ["project_id", "position", "id"]),
    ("ix_project_shares_project_id", "project_shares", ["project_id"]),
    ("ix_projects_account_id_created_at_id", "projects", ["account_id", "created_at", "id"]),
    ("ix_quotes_project_id_file_position_id", "quotes", ["project_id", "file", "position", "id"]),
)


def upgrade() -> None:
    """Create the tables."""
    create_table(
        "projects",
        *key_columns(),
        version_column(),
        required("name", ShortText(200)),
        sa.Column("pricing_date", sa.Date()),
        required("shift", ShortText(40, least=0)),
        required("day_worth", ShortText(40, least=0)),
        sa.Column("markups", Json()),
        required("assumptions", Json()),
        sa.Column("rate_set_id", sa.Uuid()),
        required("created_at", UtcTime()),
        sa.Column("risk", Json()),
        sa.PrimaryKeyConstraint("id"),
        sa.UniqueConstraint("account_id", "id"),
        sa.ForeignKeyConstraint(
            ["account_id", "rate_set_id"], ["rate_sets.account_id", "rate_sets.id"]
        ),
    )

    create_table(
        "project_shares",
        *key_columns(of_project=True),
        required("token_id", sa.Uuid()),
        required("created_at", UtcTime()),
        sa.PrimaryKeyConstraint("id"),
        sa.UniqueConstraint("token_id", "project_id"),
        of_project(),
        sa.ForeignKeyConstraint(["account_id", "token_id"], ["tokens.account_id", "tokens.id"]),
    )

    create_table(
        "phases",
        *key_columns(of_project=True),
        version_column(),
        required("code", ShortText(40)),
        required("name", ShortText(200)),
        required("position", IntRange(0, 10**9)),
        sa.Column("after", Json()),
        sa.Column("duration", Json()),
        sa.PrimaryKeyConstraint("id"),
        sa.UniqueConstraint("account_id", "project_id", "id"),
        sa.UniqueConstraint("project_id", "code"),
        of_project(),
    )

    create_table(
        "items",
        *key_columns(of_project=True),
        version_column(),
        required("phase_id", sa.Uuid()),
        required("code", ShortText(40)),
        required("name", ShortText(200)),
        required("assembly", ShortText(200, least=0)),
        required("inputs", Json()),
        sa.Column("methods", Json()),
        required("crew", ShortText(40, least=0)),
        required("element", ShortText(40, least=0)),
        required("note", ShortText(4000, least=0)),
        required("position", IntRange(0, 10**9)),
        sa.Column("risk", Json()),
        sa.PrimaryKeyConstraint("id"),
        sa.UniqueConstraint("phase_id", "code"),
        sa.ForeignKeyConstraint(
            ["account_id", "project_id", "phase_id"],
            ["phases.account_id", "phases.project_id", "phases.id"],
        ),
    )

    create_table(
        "quotes",
        *key_columns(of_project=True),
        version_column(),
        required("file", ShortText(40)),
        required("row_key", ShortText(400)),
        required("cells", Json()),
        required("position", IntRange(0, 10**9)),
        sa.PrimaryKeyConstraint("id"),
        of_project(),
    )
    for name, table, columns in INDEXES:
        op.create_index(name, table, columns)


def downgrade() -> None:
    """Drop the tables, if nothing is in them."""
    drop_empty_tables("quotes", "items", "phases", "project_shares", "projects")
