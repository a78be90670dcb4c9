"""For whom and by whom an estimate is made, of which building; null in all of before."""

from __future__ import annotations

from api.store.columns import ShortText
from api.store.migrations.schema import add_columns, drop_empty_columns

revision = "0009"
down_revision = "0008"

KINDS = {name: ShortText(200) for name in ("address", "prepared_for", "prepared_by", "revision")}


def upgrade() -> None:
    """Add the columns."""
    add_columns("projects", KINDS)


def downgrade() -> None:
    """Drop the columns, if nothing is in them."""
    drop_empty_columns({"projects": KINDS})
