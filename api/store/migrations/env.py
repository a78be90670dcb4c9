"""Run by Alembic: applies steps on the connection that `api.store.migrations.steps` gives."""

from __future__ import annotations

from alembic import context

from api.store.models import Base

connection = context.config.attributes["connection"]
context.configure(
    connection=connection,
    target_metadata=Base.metadata,
    render_as_batch=connection.dialect.name == "sqlite",
    transactional_ddl=True,
    compare_type=True,
)
with context.begin_transaction():
    context.run_migrations()
