"""The store loads nothing heavy until it is needed, so that an idle worker stays small."""

from __future__ import annotations

import subprocess
import sys

HEAVY = ("numpy", "pandas", "scipy", "openpyxl", "pint", "matplotlib", "flask")
MODULES = (
    "api.settings", "api.store.accounts", "api.store.backup", "api.estimates.stored_estimates",
    "api.rates.stored_tables", "api.store.store", "api.store.submissions", "api.store.verify",
)  # fmt: skip


def loaded(names, *asked):
    code = f"import sys, {', '.join(names)}; print([m for m in sys.argv[1:] if m in sys.modules])"
    done = subprocess.run(
        [sys.executable, "-c", code, *asked], capture_output=True, text=True, check=True
    )
    return done.stdout.strip()


def test_the_store_loads_without_any_heavy_library():
    assert loaded(MODULES, *HEAVY) == "[]"


def test_commands_and_settings_load_without_the_database_library():
    assert loaded(["api.commands", "api.settings"], "sqlalchemy", "alembic", "psycopg") == "[]"
