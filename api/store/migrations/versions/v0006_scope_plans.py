"""What a scope says of phases and risk: what a phase waits for, how long it takes, how sure it is.

All of it is null where the scope says nothing, so rows of before stay as they are.
"""

from __future__ import annotations

from api.store.columns import Json
from api.store.migrations.schema import add_columns, drop_empty_columns

revision = "0006"
down_revision = "0005"

COLUMNS = {"projects": ("risk",), "phases": ("after", "duration"), "items": ("risk",)}


def upgrade() -> None:
    """Add the columns."""
    for table, names in COLUMNS.items():
        add_columns(table, {name: Json() for name in names})


def downgrade() -> None:
    """Drop the columns, if nothing is in them."""
    drop_empty_columns(
        {table: {name: Json() for name in names} for table, names in COLUMNS.items()}
    )
