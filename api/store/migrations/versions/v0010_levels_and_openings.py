"""Level of a fill and opening that its work goes through; null in all of before."""

from __future__ import annotations

from api.store.columns import Json
from api.store.migrations.schema import add_columns, drop_empty_columns

revision = "0010"
down_revision = "0009"

KINDS = {name: Json() for name in ("level", "opening")}


def upgrade() -> None:
    """Add the columns."""
    add_columns("items", KINDS)


def downgrade() -> None:
    """Drop the columns, if nothing is in them."""
    drop_empty_columns({"items": KINDS})
