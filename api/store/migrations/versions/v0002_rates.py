"""Sets of rate tables, their versions and rows."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

from api.store.columns import Digest, IntRange, Json, ShortText, UtcTime
from api.store.migrations.guards import published_version_guards
from api.store.migrations.schema import (
    create_table,
    drop_empty_tables,
    guard,
    key_columns,
    required,
    version_column,
)

revision = "0002"
down_revision = "0001"

FINAL = tuple(published_version_guards())


def upgrade() -> None:
    """Create the tables."""
    create_table(
        "rate_sets",
        *key_columns(),
        version_column(),
        required("name", ShortText(200)),
        required("created_at", UtcTime()),
        sa.PrimaryKeyConstraint("id"),
        sa.UniqueConstraint("account_id", "id"),
        sa.UniqueConstraint("account_id", "name"),
    )

    create_table(
        "rate_versions",
        *key_columns(),
        version_column(),
        required("rate_set_id", sa.Uuid()),
        required("number", IntRange(1, 10**9)),
        required("note", ShortText(4000, least=0)),
        required("created_at", UtcTime()),
        sa.Column("published_at", UtcTime()),
        required("content_digest", Digest()),
        required("row_count", IntRange(0, 10**9)),
        sa.PrimaryKeyConstraint("id"),
        sa.UniqueConstraint("account_id", "id"),
        sa.UniqueConstraint("rate_set_id", "number"),
        sa.ForeignKeyConstraint(
            ["account_id", "rate_set_id"], ["rate_sets.account_id", "rate_sets.id"]
        ),
    )
    op.create_index(
        "uq_rate_versions_draft",
        "rate_versions",
        ["rate_set_id"],
        unique=True,
        sqlite_where=sa.text("published_at IS NULL"),
        postgresql_where=sa.text("published_at IS NULL"),
    )

    create_table(
        "rate_rows",
        *key_columns(),
        version_column(),
        required("rate_version_id", sa.Uuid()),
        required("file", ShortText(40)),
        required("row_key", ShortText(400)),
        required("cells", Json()),
        required("position", IntRange(0, 10**9)),
        sa.PrimaryKeyConstraint("id"),
        sa.ForeignKeyConstraint(
            ["account_id", "rate_version_id"], ["rate_versions.account_id", "rate_versions.id"]
        ),
    )
    op.create_index(
        "ix_rate_rows_rate_version_id_file_position_id",
        "rate_rows",
        ["rate_version_id", "file", "position", "id"],
    )
    guard(FINAL)


def downgrade() -> None:
    """Drop the tables, if nothing is in them."""
    drop_empty_tables("rate_rows", "rate_versions", "rate_sets")
