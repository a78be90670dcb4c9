"""What slows the crew of an item; null in all of before."""

from __future__ import annotations

from api.store.columns import Json
from api.store.migrations.schema import add_columns, drop_empty_columns

revision = "0020"
down_revision = "0019"

KINDS = {"delays": Json()}


def upgrade() -> None:
    """Add the column."""
    add_columns("items", KINDS)


def downgrade() -> None:
    """Drop the column, if nothing is in it."""
    drop_empty_columns({"items": KINDS})
