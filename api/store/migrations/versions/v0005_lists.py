"""Indexes for lists in the order they are shown in, which large accounts need."""

from __future__ import annotations

from alembic import op

revision = "0005"
down_revision = "0004"

INDEXES = (
    ("ix_audit_rows_subject_id", "audit_rows", ["subject_id"]),
    (
        "ix_items_project_id_phase_id_position_id",
        "items",
        ["project_id", "phase_id", "position", "id"],
    ),
    ("ix_phases_project_id_position_id", "phases", ["project_id", "position", "id"]),
    ("ix_project_shares_project_id", "project_shares", ["project_id"]),
    ("ix_projects_account_id_created_at_id", "projects", ["account_id", "created_at", "id"]),
    ("ix_quotes_project_id_file_position_id", "quotes", ["project_id", "file", "position", "id"]),
    (
        "ix_rate_rows_rate_version_id_file_position_id",
        "rate_rows",
        ["rate_version_id", "file", "position", "id"],
    ),
    ("ix_submissions_created_at", "submissions", ["created_at"]),
    ("ix_tokens_account_id_created_at_id", "tokens", ["account_id", "created_at", "id"]),
)


def upgrade() -> None:
    """Create the indexes."""
    for name, table, columns in INDEXES:
        op.create_index(name, table, columns)


def downgrade() -> None:
    """Drop the indexes."""
    for name, table, _ in INDEXES:
        op.drop_index(name, table)
