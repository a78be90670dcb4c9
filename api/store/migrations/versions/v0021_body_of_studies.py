"""The body of the request for a study is called so; it was `asked`."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

from api.store.columns import Json
from api.store.errors import StillNeeded
from api.store.migrations.guards import final_guards
from api.store.migrations.schema import rename_column
from estimator.errors import fault

revision = "0021"
down_revision = "0020"

TABLE = "estimate_studies"
GUARDS = final_guards(TABLE, ("id",), ("estimate_id", "kind", "number"))


def upgrade() -> None:
    """Rename the column; what the trail says of rows of before stays."""
    rename_column(TABLE, "asked", "body", Json(), GUARDS)


def downgrade() -> None:
    """Rename the column back, if the trail tells of no study by its new name."""
    rows = sa.table("audit_rows", sa.column("subject"), sa.column("after"))
    newer = sa.select(sa.literal(1)).where(
        rows.c.subject == TABLE, rows.c.after.not_like('%,"asked":%')
    )
    if op.get_bind().scalar(newer.limit(1)):
        raise fault(
            StillNeeded,
            f"table {TABLE} holds rows that the audit trail tells as this program does",
            "make a backup and restore it with the older program",
        )
    rename_column(TABLE, "body", "asked", Json(), GUARDS)
