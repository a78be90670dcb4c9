"""By which of its methods an item is priced; null where it names none, and in all of before."""

from __future__ import annotations

from api.store.columns import ShortText
from api.store.migrations.schema import add_columns, drop_empty_columns

revision = "0006"
down_revision = "0005"

KIND = {"method": ShortText(200)}


def upgrade() -> None:
    """Add the column."""
    add_columns("items", KIND)


def downgrade() -> None:
    """Drop the column, if nothing is in it."""
    drop_empty_columns({"items": KIND})
