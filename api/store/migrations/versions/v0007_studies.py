"""Studies of estimates: methods that were compared, and how sure an estimate is."""

from __future__ import annotations

import sqlalchemy as sa

from api.store.columns import Digest, Document, Json, OneOf, UtcTime, Whole, Words
from api.store.migrations.guards import final_guards
from api.store.migrations.schema import (
    create_table,
    drop_empty_tables,
    guard,
    kept,
    key_columns,
    of_estimate,
)

revision = "0007"
down_revision = "0006"


def upgrade() -> None:
    """Create the table."""
    create_table(
        "estimate_studies",
        *key_columns(of_project=True),
        kept("estimate_id", sa.Uuid()),
        kept("kind", OneOf("comparison", "ranges")),
        kept("number", Whole(1, 10**9)),
        kept("created_at", UtcTime()),
        kept("created_by", Words(200)),
        kept("asked", Json()),
        kept("digest", Digest()),
        kept("document", Document()),
        sa.PrimaryKeyConstraint("id"),
        sa.UniqueConstraint("estimate_id", "kind", "number"),
        of_estimate(),
    )
    guard(final_guards("estimate_studies", ("id",), ("estimate_id", "kind", "number")))


def downgrade() -> None:
    """Drop the table, if nothing is in it."""
    drop_empty_tables("estimate_studies")
