"""A made step that fails half-way."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

from api.store.errors import StoreFaulty
from estimator.errors import fault

revision = "9002"
down_revision = "9001"


def upgrade() -> None:
    op.create_table("half_made", sa.Column("id", sa.Integer(), primary_key=True))
    raise fault(StoreFaulty, "a step that fails")
