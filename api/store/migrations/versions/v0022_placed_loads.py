"""Tickets of loads that were placed as they came are found by an index of their own."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0022"
down_revision = "0021"

_INDEX, _TABLE = "ix_book_entries_placed", "book_entries"
_IS_PLACED: sa.ColumnElement[bool] = sa.literal_column(
    """replace(fields, '"is_placed":true', '') <> fields""", sa.Boolean
)


def upgrade() -> None:
    """Add the index."""
    op.create_index(
        _INDEX, _TABLE, ["project_id"], sqlite_where=_IS_PLACED, postgresql_where=_IS_PLACED
    )


def downgrade() -> None:
    """Drop it."""
    op.drop_index(_INDEX, _TABLE)
