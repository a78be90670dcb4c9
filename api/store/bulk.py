"""Many rows at once, the way that each database takes them soonest."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from sqlalchemy import Connection, Table, insert
from sqlalchemy.exc import DBAPIError

from api.store.engine import SQLITE

Rows = Sequence[Mapping[str, Any]]


def insert_rows(connection: Connection, table: Table, rows: Rows) -> None:
    """Add rows to a table: on PostgreSQL by COPY, in a fourth of the time of so many INSERTs.

    Parameters
    ----------
    connection : Connection
        In a transaction.
    table : Table
    rows : sequence of mapping
        Values by column: all columns, in the same order in each.
    """
    if not rows:
        return
    if connection.dialect.name == SQLITE or len(rows) == 1:
        connection.execute(insert(table), rows)
        return
    import psycopg  # which an embedded database does without

    try:
        _copy(connection, table, rows)
    except psycopg.Error as error:
        what = f"COPY {table.name}"
        raise DBAPIError.instance(what, None, error, psycopg.Error, hide_parameters=True) from error


def _copy(connection: Connection, table: Table, rows: Rows) -> None:
    from psycopg import sql

    kinds = {name: table.c[name].type.dialect_impl(connection.dialect) for name in rows[0]}
    ways = {name: kind.bind_processor(connection.dialect) for name, kind in kinds.items()}
    command = sql.SQL("COPY {} ({}) FROM STDIN").format(
        sql.Identifier(table.name), sql.SQL(", ").join(map(sql.Identifier, ways))
    )
    driver: Any = connection.connection
    with driver.cursor() as cursor, cursor.copy(command) as copy:
        for row in rows:
            copy.write_row([way(row[name]) if way else row[name] for name, way in ways.items()])
