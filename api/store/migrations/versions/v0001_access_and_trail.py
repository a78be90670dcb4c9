"""Accounts, tokens, the audit trail and submissions."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

from api.store.columns import Digest, Document, IntRange, Json, OneOf, ShortText, UtcTime
from api.store.migrations.guards import final_guards
from api.store.migrations.schema import (
    account_column,
    create_table,
    drop_empty_tables,
    guard,
    key_columns,
    required,
    version_column,
)

revision = "0001"
down_revision = None

FINAL = (*final_guards("audit_rows", ("account_id", "number")),)


def upgrade() -> None:
    """Create the tables."""
    create_table(
        "accounts",
        required("id", sa.Uuid()),
        version_column(),
        required("name", ShortText(200)),
        required("created_at", UtcTime()),
        sa.PrimaryKeyConstraint("id"),
    )

    create_table(
        "tokens",
        *key_columns(),
        version_column(),
        required("holder", ShortText(200)),
        required("role", OneOf("owner", "bookkeeper", "lender")),
        required("digest", Digest()),
        required("created_at", UtcTime()),
        required("expires_at", UtcTime()),
        sa.Column("revoked_at", UtcTime()),
        sa.PrimaryKeyConstraint("id"),
        sa.UniqueConstraint("account_id", "id"),
        sa.UniqueConstraint("digest"),
        sa.CheckConstraint("expires_at > created_at", name="expires_later"),
    )

    create_table(
        "audit_rows",
        account_column(),
        required("number", IntRange(1, 10**12)),
        required("at", UtcTime()),
        required("actor", ShortText(200)),
        required("action", OneOf("created", "changed", "deleted")),
        required("subject", ShortText(63)),
        required("subject_id", sa.Uuid()),
        sa.Column("before", Document()),
        sa.Column("after", Document()),
        required("digest", Digest()),
        sa.PrimaryKeyConstraint("account_id", "number"),
    )

    create_table(
        "audit_ends",
        account_column(),
        required("number", IntRange(0, 10**12)),
        required("digest", Digest()),
        sa.PrimaryKeyConstraint("account_id"),
    )

    create_table(
        "submissions",
        *key_columns(),
        required("actor", ShortText(200)),
        required("key", ShortText(255)),
        required("route", ShortText(200)),
        required("body_digest", Digest()),
        required("state", OneOf("in flight", "answered")),
        required("claim", sa.Uuid()),
        required("created_at", UtcTime()),
        required("claimed_until", UtcTime()),
        sa.Column("status", IntRange(100, 599)),
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
