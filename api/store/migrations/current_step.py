"""At which step a database stands, and whether that is the one this program needs.

Asked at every start, and so without the library that applies the steps: it is large, and rarely
needed.
"""

from __future__ import annotations

import re
from importlib.resources import files
from pathlib import Path

import sqlalchemy as sa
from sqlalchemy import Connection

from api.store.engine import SQLITE
from api.store.errors import StoreUnfit
from estimator.errors import fault, quoted

STEP_TABLE = "alembic_version"
OLDEST_POSTGRESQL = 15

_FILE = re.compile(r"v([0-9]{4})_\w+\.py", re.ASCII)


def newest_step() -> str:
    """Return the name of the newest step that this program knows."""
    return max(_known())


def step_of(connection: Connection) -> str | None:
    """Return the name of the step a database stands at, None for an empty one."""
    if not sa.inspect(connection).has_table(STEP_TABLE):
        return None
    step: str | None = connection.scalar(
        sa.select(sa.column("version_num")).select_from(sa.table(STEP_TABLE))
    )
    return step


def is_known(step: str, folder: str | None = None) -> bool:
    """Whether this program, or a further folder of steps, has a step of that name."""
    return step in _known(folder)


def check_step(connection: Connection) -> None:
    """Refuse a database that is not at the newest step.

    Raises
    ------
    StoreUnfit
        Saying whether the database or the program is the older one.
    """
    check_server(connection)
    step, newest = step_of(connection), newest_step()
    if step == newest:
        return
    if step is None:
        raise fault(StoreUnfit, "the database is empty", "run 'groundsill database upgrade'")
    if is_known(step):
        raise fault(
            StoreUnfit,
            f"the database stands at step {step}, this program needs {newest}",
            "run 'groundsill database upgrade'",
        )
    raise too_new(step)


def too_new(step: str) -> Exception:
    """Return the refusal of a database of a newer program."""
    return fault(
        StoreUnfit,
        f"the database stands at step {quoted(step)}, which this program does not know",
        "use the program that made it, or a newer one",
    )


def check_server(connection: Connection) -> None:
    """Refuse a PostgreSQL that is too old, or a database that cannot hold every letter."""
    if connection.dialect.name == SQLITE:
        return
    version, *_ = connection.dialect.server_version_info or (0,)
    if int(version) < OLDEST_POSTGRESQL:
        raise fault(
            StoreUnfit, f"PostgreSQL {version} is too old", f"use {OLDEST_POSTGRESQL} or later"
        )
    encoding = connection.exec_driver_sql("SHOW server_encoding").scalar()
    if encoding != "UTF8":
        raise fault(
            StoreUnfit,
            f"the database keeps text as {encoding}",
            "make it with 'createdb --encoding=UTF8 --template=template0'",
        )


def _known(folder: str | None = None) -> set[str]:
    """Return the names of the steps, which their files are numbered by."""
    names = [one.name for one in (files("api.store.migrations") / "versions").iterdir()]
    names += [one.name for one in Path(folder).iterdir()] if folder else []
    matches = (_FILE.fullmatch(name) for name in names)
    return {match[1] for match in matches if match}
