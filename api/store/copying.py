"""Copying all rows from one database to another of either kind, every value unchanged."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterator
from typing import Any

from sqlalchemy import Connection, Table, func, insert, select

from api.store.columns import canonical_json
from api.store.engine import POSTGRESQL
from api.store.errors import CopyRefused
from api.store.migrations.final import guards
from api.store.migrations.guards import create_guards, drop_guards
from api.store.models import Base
from api.store.trail import plain
from estimator.errors import fault, how_many

_AT_ONCE = 1_000  # rows, unless the table's `info` says otherwise: contents of files are large

# Told how many more rows were copied.
Progress = Callable[[int], None]


def row_counts(connection: Connection) -> dict[str, int]:
    """Return how many rows each table has."""
    return {
        table.name: connection.scalar(select(func.count()).select_from(table)) or 0
        for table in Base.metadata.sorted_tables
    }


def refuse_filled(connection: Connection) -> None:
    """Refuse a target that holds anything.

    Raises
    ------
    CopyRefused
        Naming a table that has rows.
    """
    for name, count in row_counts(connection).items():
        if count:
            raise fault(
                CopyRefused,
                f"the target holds {how_many(count, 'row')} in {name}, and nothing is ever "
                "written over",
                "name an empty database",
            )


def copy_rows(source: Connection, target: Connection, progress: Progress) -> None:
    """Copy all rows into an empty database and compare them.

    The triggers that guard final rows are away meanwhile, in the same transaction.

    Raises
    ------
    CopyRefused
        If the target is not empty, or does not hold the very same values afterwards.
    """
    for connection in (source, target):
        _wait_in_peace(connection)
    refuse_filled(target)
    drop_guards(target, guards())
    for table in Base.metadata.sorted_tables:
        for rows in _batches(source, table):
            target.execute(insert(table), rows)
            progress(len(rows))
    create_guards(target, guards())
    here, there = contents(source), contents(target)
    for name, digest in here.items():
        if there[name] != digest:
            raise fault(CopyRefused, f"table {name} did not arrive unchanged", "nothing was kept")


def _wait_in_peace(connection: Connection) -> None:
    """Let one side of a long copy wait for the other."""
    if connection.dialect.name == POSTGRESQL:
        connection.exec_driver_sql("SET LOCAL idle_in_transaction_session_timeout = 0")


def contents(connection: Connection) -> dict[str, str]:
    """Return a SHA-256 of all values of each table, the same on either kind of database."""
    return {table.name: _digest(connection, table) for table in Base.metadata.sorted_tables}


def _digest(connection: Connection, table: Table) -> str:
    total = hashlib.sha256()
    for rows in _batches(connection, table):
        for row in rows:
            texts = {name: _plain(value) for name, value in row.items()}
            total.update(f"{canonical_json(texts)}\n".encode())
    return total.hexdigest()


def _plain(value: Any) -> Any:
    return value.hex() if isinstance(value, bytes) else plain(value)


def _batches(connection: Connection, table: Table) -> Iterator[list[dict[str, Any]]]:
    """Yield the rows of a table in the order of its key."""
    statement = select(table).order_by(*table.primary_key.columns)
    at_once = table.info.get("at_once", _AT_ONCE)
    with connection.execute(statement, execution_options={"yield_per": at_once}) as result:
        for rows in result.partitions(at_once):
            yield [dict(row._mapping) for row in rows]
