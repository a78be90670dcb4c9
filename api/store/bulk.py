"""Many rows at once, the way that each database takes them soonest."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import lru_cache
from importlib import import_module
from typing import Any

from sqlalchemy import Connection, Insert, Table, insert
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
        connection.execute(_adding_rows(table), rows)
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


def add_amounts(connection: Connection, table: Table, rows: Rows) -> None:
    """Add to the amounts of rows, by their primary key; a row that is not there is made.

    Parameters
    ----------
    connection : Connection
        In a transaction.
    table : Table
        All columns besides its key and `account_id` are amounts.
    rows : sequence of mapping
        Values by column, all of them; no key twice.
    """
    if not rows:
        return
    connection.execute(_adding(table, connection.dialect.name), rows)


@lru_cache  # written once, not for each entry
def _adding_rows(table: Table) -> Insert:
    return insert(table)


@lru_cache
def _adding(table: Table, dialect: str) -> Any:
    add = import_module(f"sqlalchemy.dialects.{dialect}").insert  # the other takes 5 MB
    statement: Any = add(table)
    key = [column.name for column in table.primary_key]
    amounts = [one.name for one in table.columns if one.name not in (*key, "account_id")]
    sums = {name: table.c[name] + statement.excluded[name] for name in amounts}
    return statement.on_conflict_do_update(index_elements=key, set_=sums)
