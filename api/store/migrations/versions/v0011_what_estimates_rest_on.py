"""Sales of salvage and what the totals of an estimate rest on; null in all of before."""

from __future__ import annotations

from api.store.columns import IntRange, Json
from api.store.migrations.guards import final_guards
from api.store.migrations.schema import add_columns, drop_empty_columns

revision = "0011"
down_revision = "0010"

KINDS = {"sales_cents": IntRange(), "rests_on": Json()}
WATCHED = final_guards("estimates", ("id",), ("project_id", "number"))


def upgrade() -> None:
    """Add the columns."""
    add_columns("estimates", KINDS)


def downgrade() -> None:
    """Drop the columns, if nothing is in them."""
    drop_empty_columns({"estimates": KINDS}, WATCHED)
