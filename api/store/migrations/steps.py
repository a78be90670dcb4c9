"""Applying the numbered steps: to the newest, or to a named one.

Steps run in one transaction, all or none, and one process at a time, so that several workers may
start at once. On SQLite keys are checked when all is done, because a table that is built anew is
missing for a moment.
"""

from __future__ import annotations

from contextlib import suppress
from importlib.resources import files
from io import StringIO
from pathlib import Path
from typing import Any

import sqlalchemy as sa
from alembic import command
from alembic.config import Config
from sqlalchemy import Connection, Engine

from api.store.engine import SQLITE, locking, sqlite_file
from api.store.errors import StoreFaulty, StoreUnfit
from api.store.migrations.current_step import check_server, is_known, step_of, too_new
from api.store.refusals import store_errors
from estimator.errors import fault, quoted

NEWEST = "head"
EMPTY = "base"
_ADVISORY_LOCK = 8_765_001


def upgrade(engine: Engine, step: str = NEWEST, folder: str | None = None) -> str:
    """Bring a database up to a step, all or nothing, and return the step's name.

    Parameters
    ----------
    engine : Engine
        From `make_engine`.
    step : str
        Its name; the newest if left out.
    folder : str, optional
        A further folder of steps.

    Raises
    ------
    StoreUnfit
        If the database is newer than this program.
    """
    return _moved(engine, step, folder, up=True)


def downgrade(engine: Engine, step: str, folder: str | None = None) -> str:
    """Bring a database down to a step, all or nothing; refused where rows would be lost."""
    return _moved(engine, step, folder, up=False)


def check_schema(engine: Engine) -> None:
    """Raise Alembic's error if the schema is not what the models say."""
    with engine.connect() as connection:
        command.check(_config(connection))


def _moved(engine: Engine, step: str, folder: str | None, *, up: bool) -> str:
    if engine.dialect.name == SQLITE:
        _owner_only(sqlite_file(engine.url))
    with store_errors(), engine.connect() as connection:
        try:
            _loosen_keys(connection)
            with locking():
                transaction = connection.begin()
            with transaction:
                _one_at_a_time(connection)
                after = _applied(connection, step, folder, up=up)
        finally:
            if connection.dialect.name == SQLITE:
                connection.invalidate()  # the next to ask gets one that checks its keys
    return after or EMPTY


def _loosen_keys(connection: Connection) -> None:
    """Leave keys of SQLite unchecked until all is done: rebuilding a table drops the old one."""
    if connection.dialect.name == SQLITE:
        driver: Any = connection.connection
        driver.execute("PRAGMA foreign_keys=OFF")


def _owner_only(file: Path) -> None:
    """Begin a file that only its owner reads, whatever its folder allows."""
    with suppress(OSError):  # where it cannot be made, the database says so itself
        file.touch(mode=0o600)


def _applied(connection: Connection, step: str, folder: str | None, *, up: bool) -> str | None:
    check_server(connection)
    before, config = step_of(connection), _config(connection, folder)
    if before is None:
        _refuse_strange_tables(connection)
    elif not is_known(before, folder):
        raise too_new(before)
    (command.upgrade if up else command.downgrade)(config, step)
    _check_keys(connection)
    return step_of(connection)


def _config(connection: Connection | None = None, folder: str | None = None) -> Config:
    place = str(files("api.store.migrations"))
    config = Config(stdout=StringIO())
    config.set_main_option("script_location", place.replace("%", "%%"))
    config.set_main_option("path_separator", "newline")
    folders = [f"{place}/versions", *([folder] if folder else [])]
    config.set_main_option("version_locations", "\n".join(folders).replace("%", "%%"))
    config.attributes["connection"] = connection
    return config


def _refuse_strange_tables(connection: Connection) -> None:
    tables = sa.inspect(connection).get_table_names()
    if set(tables) - {"alembic_version"}:
        raise fault(
            StoreUnfit,
            f"the database holds tables that are not ours, such as {quoted(min(tables))}",
            "give a database of its own",
        )


def _one_at_a_time(connection: Connection) -> None:
    if connection.dialect.name != SQLITE:
        connection.execute(sa.select(sa.func.pg_advisory_xact_lock(_ADVISORY_LOCK)))


def _check_keys(connection: Connection) -> None:
    if connection.dialect.name != SQLITE:
        return
    broken = connection.exec_driver_sql("PRAGMA foreign_key_check").first()
    if broken is not None:
        raise fault(StoreFaulty, f"table {broken[0]} names a row of {broken[2]} that is not there")
