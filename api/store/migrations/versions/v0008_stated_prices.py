"""Prices that items state as a sum, and alternates; null in all of before."""

from __future__ import annotations

from typing import Any

from api.store.columns import Json, ShortText
from api.store.migrations.schema import add_columns, drop_empty_columns

revision = "0008"
down_revision = "0007"

KINDS: dict[str, dict[str, Any]] = {
    "items": {name: Json() for name in ("subcontract", "lump_sum", "allowance")}
    | {"alternate": ShortText(40)},
    "projects": {"alternates": Json()},
}


def upgrade() -> None:
    """Add the columns."""
    for table, kinds in KINDS.items():
        add_columns(table, kinds)


def downgrade() -> None:
    """Drop the columns, if nothing is in them."""
    drop_empty_columns(KINDS)
