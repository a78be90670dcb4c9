"""Documents of a project, and the bytes of each, kept once."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

from api.store.columns import Digest, IntRange, Json, OneOf, ShortText, UtcTime
from api.store.migrations.guards import final_guards
from api.store.migrations.schema import (
    account_column,
    create_table,
    drop_empty_tables,
    guard,
    key_columns,
    of_project,
    project_column,
    required,
)

revision = "0017"
down_revision = "0016"

_SIZE = IntRange(1, 10**9)


def upgrade() -> None:
    """Create the tables."""
    create_table(
        "document_contents",
        account_column(),
        project_column(),
        required("digest", Digest()),
        required("size", _SIZE),
        required("content", sa.LargeBinary()),
        sa.PrimaryKeyConstraint("project_id", "digest"),
        of_project(),
    )
    create_table(
        "documents",
        *key_columns(of_project=True),
        required("number", IntRange(1, 10**9)),
        required("digest", Digest()),
        required("media_type", OneOf("image/jpeg", "image/png", "application/pdf")),
        required("size", _SIZE),
        required("name", ShortText(200)),
        required("spot", ShortText(200, least=0)),
        required("spot_key", ShortText(400, least=0)),
        required("code", ShortText(81, least=0)),
        sa.Column("entry", IntRange(1, 10**9)),
        sa.Column("taken_on", sa.Date()),
        required("dated", sa.Date()),
        required("note", ShortText(4_000, least=0)),
        required("entered_at", UtcTime()),
        required("entered_by", ShortText(200)),
        required("notes", Json()),
        sa.PrimaryKeyConstraint("id"),
        sa.UniqueConstraint("project_id", "number"),
        of_project(),
        sa.ForeignKeyConstraint(
            ["project_id", "digest"], ["document_contents.project_id", "document_contents.digest"]
        ),
        sa.ForeignKeyConstraint(
            ["project_id", "entry"], ["book_entries.project_id", "book_entries.number"]
        ),
    )
    for columns in (["digest"], ["spot_key", "dated"], ["entry"]):
        name = "_".join(["ix_documents_project_id", *columns])
        op.create_index(name, "documents", ["project_id", *columns])
    guard(
        [
            *final_guards("document_contents", ("project_id", "digest")),
            *final_guards("documents", ("id",), ("project_id", "number")),
        ]
    )


def downgrade() -> None:
    """Drop the tables, if nothing is in them."""
    drop_empty_tables("documents", "document_contents")
