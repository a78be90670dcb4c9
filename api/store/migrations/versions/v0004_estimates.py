"""Estimates with lines, tables and studies, and those accepted as the budget."""

from __future__ import annotations

import sqlalchemy as sa

from api.store.columns import Digest, Document, Flag, IntRange, Json, OneOf, ShortText, UtcTime
from api.store.migrations.guards import final_guards
from api.store.migrations.schema import (
    account_column,
    create_table,
    drop_empty_tables,
    guard,
    key_columns,
    of_estimate,
    of_project,
    project_column,
    required,
)

revision = "0004"
down_revision = "0003"

FINAL = (
    *final_guards("estimates", ("id",), ("project_id", "number")),
    *final_guards("estimate_lines", ("estimate_id", "position"), ("estimate_id", "item", "line")),
    *final_guards("table_contents", ("account_id", "digest")),
    *final_guards("estimate_tables", ("estimate_id", "position")),
    *final_guards("accepted_estimates", ("id",), ("estimate_id",), ("project_id", "number")),
    *final_guards("estimate_studies", ("id",), ("estimate_id", "kind", "number")),
)


def upgrade() -> None:
    """Create the tables."""
    create_table(
        "estimates",
        *key_columns(of_project=True),
        required("number", IntRange(1, 10**9)),
        required("created_at", UtcTime()),
        required("created_by", ShortText(200)),
        required("pricing_date", sa.Date()),
        required("digest", Digest()),
        required("scope_digest", Digest()),
        required("tables_digest", Digest()),
        required("lines_digest", Digest()),
        required("line_count", IntRange(0, 10**9)),
        required("direct_cents", IntRange()),
        required("markup_cents", IntRange()),
        required("cash_cents", IntRange()),
        required("own_cents", IntRange()),
        required("full_cents", IntRange()),
        required("scope", Document()),
        required("document", Document()),
        sa.PrimaryKeyConstraint("id"),
        sa.UniqueConstraint("account_id", "project_id", "id"),
        sa.UniqueConstraint("project_id", "number"),
        sa.CheckConstraint("full_cents = cash_cents + own_cents", name="full_adds_up"),
        sa.CheckConstraint("cash_cents = direct_cents + markup_cents", name="cash_adds_up"),
        of_project(),
    )

    create_table(
        "estimate_lines",
        account_column(),
        project_column(),
        required("estimate_id", sa.Uuid()),
        required("position", IntRange(1, 10**9)),
        required("phase", ShortText(40)),
        required("item", ShortText(81)),
        required("line", IntRange(1, 10**9)),
        required("assembly", ShortText(200)),
        required("resource", ShortText(200)),
        required("name", ShortText(4000)),
        required("kind", ShortText(40)),
        required("unit", ShortText(40)),
        required("decimals", IntRange(0, 6)),
        required("net", IntRange()),
        required("waste", IntRange()),
        required("left_over", IntRange()),
        required("ordered", IntRange()),
        required("rate", IntRange()),
        required("source", ShortText(4000, least=0)),
        required("rate_row", ShortText(4000, least=0)),
        required("is_paid", Flag()),
        required("cents", IntRange()),
        sa.PrimaryKeyConstraint("estimate_id", "position"),
        sa.UniqueConstraint("estimate_id", "item", "line"),
        sa.CheckConstraint("ordered = net + waste + left_over", name="order_adds_up"),
        of_estimate(),
    )

    create_table(
        "table_contents",
        account_column(),
        required("digest", Digest()),
        required("files", Document()),
        sa.PrimaryKeyConstraint("account_id", "digest"),
    )

    create_table(
        "estimate_tables",
        account_column(),
        project_column(),
        required("estimate_id", sa.Uuid()),
        required("position", IntRange(1, 10**9)),
        required("name", ShortText(200)),
        required("content_digest", Digest()),
        sa.PrimaryKeyConstraint("estimate_id", "position"),
        sa.ForeignKeyConstraint(
            ["account_id", "content_digest"], ["table_contents.account_id", "table_contents.digest"]
        ),
        of_estimate(),
    )

    create_table(
        "accepted_estimates",
        *key_columns(of_project=True),
        required("estimate_id", sa.Uuid()),
        required("number", IntRange(1, 10**9)),
        required("accepted_at", UtcTime()),
        required("accepted_by", ShortText(200)),
        sa.PrimaryKeyConstraint("id"),
        sa.UniqueConstraint("estimate_id"),
        sa.UniqueConstraint("project_id", "number"),
        of_estimate(),
    )

    create_table(
        "estimate_studies",
        *key_columns(of_project=True),
        required("estimate_id", sa.Uuid()),
        required("kind", OneOf("comparison", "ranges")),
        required("number", IntRange(1, 10**9)),
        required("created_at", UtcTime()),
        required("created_by", ShortText(200)),
        required("asked", Json()),
        required("digest", Digest()),
        required("document", Document()),
        sa.PrimaryKeyConstraint("id"),
        sa.UniqueConstraint("estimate_id", "kind", "number"),
        of_estimate(),
    )
    guard(FINAL)


def downgrade() -> None:
    """Drop the tables, if nothing is in them."""
    drop_empty_tables(
        "estimate_studies",
        "accepted_estimates",
        "estimate_tables",
        "table_contents",
        "estimate_lines",
        "estimates",
    )
