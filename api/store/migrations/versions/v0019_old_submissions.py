"""Old submissions of an account are found by its index, not among all it sent within a day."""

from __future__ import annotations

from alembic import op

revision = "0019"
down_revision = "0018"

_BEFORE, _NOW = "ix_submissions_created_at", "ix_submissions_account_id_created_at"


def upgrade() -> None:
    """Put the account in front of the time."""
    op.create_index(_NOW, "submissions", ["account_id", "created_at"])
    op.drop_index(_BEFORE, "submissions")


def downgrade() -> None:
    """Take it away again."""
    op.create_index(_BEFORE, "submissions", ["created_at"])
    op.drop_index(_NOW, "submissions")
