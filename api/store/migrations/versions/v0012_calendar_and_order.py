"""Calendar and crew of a project, order of phases and items; null in all of before."""

from __future__ import annotations

from api.store.columns import Json
from api.store.migrations.schema import add_columns, drop_empty_columns

revision = "0012"
down_revision = "0011"

ADDED = {
    "projects": {name: Json() for name in ("calendar", "crew")},
    "phases": {name: Json() for name in ("wait", "starts_with", "along")},
    "items": {name: Json() for name in ("after", "wait", "starts_with", "along", "duration")},
}


def upgrade() -> None:
    """Add the columns."""
    for table, kinds in ADDED.items():
        add_columns(table, kinds)


def downgrade() -> None:
    """Drop the columns, if nothing is in them."""
    drop_empty_columns(ADDED)
