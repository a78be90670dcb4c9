"""Estimates with lines, tables and studies, and those accepted as the budget."""

from __future__ import annotations

import sqlalchemy as sa

from api.store.columns import Digest, Document, Json, OneOf, UtcTime, Whole, Words, YesNo
from api.store.migrations.guards import final_guards
from api.store.migrations.schema import (
    account_column,
    create_table,
    drop_empty_tables,
    guard,
    kept,
    key_columns,
    of_estimate,
    of_project,
    project_column,
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
        kept("number", Whole(1, 10**9)),
        kept("created_at", UtcTime()),
        kept("created_by", Words(200)),
        kept("pricing_date", sa.Date()),
        kept("digest", Digest()),
        kept("scope_digest", Digest()),
        kept("tables_digest", Digest()),
        kept("lines_digest", Digest()),
        kept("line_count", Whole(0, 10**9)),
        kept("direct_cents", Whole()),
        kept("markup_cents", Whole()),
        kept("cash_cents", Whole()),
        kept("own_cents", Whole()),
        kept("full_cents", Whole()),
        kept("scope", Document()),
        kept("document", Document()),
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
        kept("estimate_id", sa.Uuid()),
        kept("position", Whole(1, 10**9)),
        kept("phase", Words(40)),
        kept("item", Words(81)),
        kept("line", Whole(1, 10**9)),
        kept("assembly", Words(200)),
        kept("resource", Words(200)),
        kept("name", Words(4000)),
        kept("kind", Words(40)),
        kept("unit", Words(40)),
        kept("decimals", Whole(0, 6)),
        kept("net", Whole()),
        kept("waste", Whole()),
        kept("left_over", Whole()),
        kept("ordered", Whole()),
        kept("rate", Whole()),
        kept("source", Words(4000, least=0)),
        kept("rate_row", Words(4000, least=0)),
        kept("is_paid", YesNo()),
        kept("cents", Whole()),
        sa.PrimaryKeyConstraint("estimate_id", "position"),
        sa.UniqueConstraint("estimate_id", "item", "line"),
        sa.CheckConstraint("ordered = net + waste + left_over", name="order_adds_up"),
        of_estimate(),
    )

    create_table(
        "table_contents",
        account_column(),
        kept("digest", Digest()),
        kept("files", Document()),
        sa.PrimaryKeyConstraint("account_id", "digest"),
    )

    create_table(
        "estimate_tables",
        account_column(),
        project_column(),
        kept("estimate_id", sa.Uuid()),
        kept("position", Whole(1, 10**9)),
        kept("name", Words(200)),
        kept("content_digest", Digest()),
        sa.PrimaryKeyConstraint("estimate_id", "position"),
        sa.ForeignKeyConstraint(
            ["account_id", "content_digest"], ["table_contents.account_id", "table_contents.digest"]
        ),
        of_estimate(),
    )

    create_table(
        "accepted_estimates",
        *key_columns(of_project=True),
        kept("estimate_id", sa.Uuid()),
        kept("number", Whole(1, 10**9)),
        kept("accepted_at", UtcTime()),
        kept("accepted_by", Words(200)),
        sa.PrimaryKeyConstraint("id"),
        sa.UniqueConstraint("estimate_id"),
        sa.UniqueConstraint("project_id", "number"),
        of_estimate(),
    )

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
