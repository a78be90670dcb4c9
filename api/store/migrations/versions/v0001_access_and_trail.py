"""Accounts, tokens, the audit trail and submissions."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

from api.store.columns import Digest, Document, Json, OneOf, UtcTime, Whole, Words
from api.store.migrations.guards import final_guards
from api.store.migrations.schema import (
    account_column,
    create_table,
    drop_empty_tables,
    guard,
    kept,
    key_columns,
    version_column,
)

revision = "0001"
down_revision = None

FINAL = (*final_guards("audit_rows", ("account_id", "number")),)


def upgrade() -> None:
    """Create the tables."""
    create_table(
        "accounts",
        kept("id", sa.Uuid()),
        version_column(),
        kept("name", Words(200)),
        kept("created_at", UtcTime()),
        sa.PrimaryKeyConstraint("id"),
    )

    create_table(
        "tokens",
        *key_columns(),
        version_column(),
        kept("holder", Words(200)),
        kept("role", OneOf("owner", "bookkeeper", "lender")),
        kept("digest", Digest()),
        kept("created_at", UtcTime()),
        kept("expires_at", UtcTime()),
        sa.Column("revoked_at", UtcTime()),
        sa.PrimaryKeyConstraint("id"),
        sa.UniqueConstraint("account_id", "id"),
        sa.UniqueConstraint("digest"),
        sa.CheckConstraint("expires_at > created_at", name="expires_later"),
    )

    create_table(
        "audit_rows",
        account_column(),
        kept("number", Whole(1, 10**12)),
        kept("at", UtcTime()),
        kept("actor", Words(200)),
        kept("action", OneOf("created", "changed", "deleted")),
        kept("subject", Words(63)),
        kept("subject_id", sa.Uuid()),
        sa.Column("before", Document()),
        sa.Column("after", Document()),
        kept("digest", Digest()),
        sa.PrimaryKeyConstraint("account_id", "number"),
    )

    create_table(
        "audit_ends",
        account_column(),
        kept("number", Whole(0, 10**12)),
        kept("digest", Digest()),
        sa.PrimaryKeyConstraint("account_id"),
    )

    create_table(
        "submissions",
        *key_columns(),
        kept("actor", Words(200)),
        kept("key", Words(255)),
        kept("route", Words(200)),
        kept("body_digest", Digest()),
        kept("state", OneOf("in flight", "answered")),
        kept("claim", sa.Uuid()),
        kept("created_at", UtcTime()),
        kept("claimed_until", UtcTime()),
        sa.Column("status", Whole(100, 599)),
        sa.Column("headers", Json()),
        sa.Column("body", sa.LargeBinary()),
        sa.Column("answer_digest", Digest()),
        sa.PrimaryKeyConstraint("id"),
        sa.UniqueConstraint("account_id", "actor", "key"),
    )
    op.create_index("ix_audit_rows_subject_id", "audit_rows", ["subject_id"])
    op.create_index("ix_submissions_created_at", "submissions", ["created_at"])
    op.create_index(
        "ix_tokens_account_id_created_at_id", "tokens", ["account_id", "created_at", "id"]
    )
    guard(FINAL)


def downgrade() -> None:
    """Drop the tables, if nothing is in them."""
    drop_empty_tables("submissions", "audit_ends", "audit_rows", "tokens", "accounts")
