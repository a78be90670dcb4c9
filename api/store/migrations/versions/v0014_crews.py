"""The role of a crew, which logs the work of shared projects and sees no money."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

from api.store.columns import OneOf
from api.store.errors import StillNeeded
from api.store.migrations.schema import checked_anew
from estimator.errors import fault

revision = "0014"
down_revision = "0013"

ROLES = ("owner", "bookkeeper", "lender")


def upgrade() -> None:
    """Take the role."""
    checked_anew("tokens", "role", OneOf("owner", "bookkeeper", "crew", "lender"))


def downgrade() -> None:
    """Take the role no longer, if no token has it."""
    tokens = sa.table("tokens", sa.column("role"))
    crews = sa.select(sa.literal(1)).select_from(tokens).where(tokens.c.role == "crew").limit(1)
    if op.get_bind().scalar(crews):
        what = "there are tokens of crews, which a step down would lose"
        raise fault(StillNeeded, what, "make a backup and restore it with the older program")
    checked_anew("tokens", "role", OneOf(*ROLES))
