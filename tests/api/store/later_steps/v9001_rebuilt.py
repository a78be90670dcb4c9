"""A made step that builds a final table anew on SQLite, as a later version of the schema might."""

from __future__ import annotations

from importlib.resources import files

from api.store.migrations.guards import final_guards
from api.store.migrations.schema import rebuilt

STEPS = files("api.store.migrations") / "versions"

revision = "9001"
down_revision = max(step.name[1:5] for step in STEPS.iterdir() if step.name.startswith("v"))

GUARDS = final_guards("estimates", ("id",), ("project_id", "number"))


def upgrade() -> None:
    with rebuilt("estimates", GUARDS) as batch:
        batch.create_check_constraint("made_rule", "line_count >= 0")


def downgrade() -> None:
    with rebuilt("estimates", GUARDS) as batch:
        batch.drop_constraint("made_rule", type_="check")
