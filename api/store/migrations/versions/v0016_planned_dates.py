"""Planned dates of an estimate by its schedule; null in all of before."""

from __future__ import annotations

from api.store.columns import Json
from api.store.migrations.guards import final_guards
from api.store.migrations.schema import add_columns, drop_empty_columns

revision = "0016"
down_revision = "0015"

DATES = {"planned_dates": Json()}
WATCHED = final_guards("estimates", ("id",), ("project_id", "number"))


def upgrade() -> None:
    """Add the column."""
    add_columns("estimates", DATES)


def downgrade() -> None:
    """Drop the column, if nothing is in it."""
    drop_empty_columns({"estimates": DATES}, WATCHED)
