"""What an estimate was made for, in words; null where nobody said, and in all of before."""

from __future__ import annotations

from api.store.columns import ShortText
from api.store.migrations.guards import final_guards
from api.store.migrations.schema import add_columns, drop_empty_columns

revision = "0005"
down_revision = "0004"

KIND = {"note": ShortText(4000)}
WATCHED = final_guards("estimates", ("id",), ("project_id", "number"))


def upgrade() -> None:
    """Add the column."""
    add_columns("estimates", KIND)


def downgrade() -> None:
    """Drop the column, if nothing is in it."""
    drop_empty_columns({"estimates": KIND}, WATCHED)
