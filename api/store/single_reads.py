"""Reads of one row by one statement: what sign-in and a summary wait for."""

from __future__ import annotations

from collections.abc import Mapping
from threading import Lock
from typing import Any

from sqlalchemy import Connection, Engine, Row, Select, create_engine

from api.store.engine import SQLITE


class SingleReads:
    """The way to one row, without a session and without a transaction.

    On SQLite one connection of the pool stays open, for one thread after the other: taking one
    from the pool, with a transaction begun and undone, takes longer than such a statement, and
    threads that read side by side spend as long again on handing the interpreter to each other.
    On PostgreSQL connections are taken from the pool.

    Parameters
    ----------
    engine : Engine
        From `make_engine`.
    """

    def __init__(self, engine: Engine) -> None:
        self._stays_open = engine.dialect.name == SQLITE
        self._engine = engine
        if not self._stays_open:
            self._engine = engine.execution_options(isolation_level="AUTOCOMMIT")
        self._one_at_a_time = Lock()
        self._connection: Connection | None = None

    def first(
        self, statement: Select[*tuple[Any, ...]], values: Mapping[str, Any]
    ) -> Row[Any] | None:
        """Return the first row that a select of columns yields, if any."""
        if not self._stays_open:
            with self._engine.connect() as connection:
                return connection.execute(statement, values).first()
        with self._one_at_a_time:
            try:
                if self._connection is None:
                    self._connection = self._opened()
                return self._connection.execute(statement, values).first()
            except BaseException:
                self._drop()  # whatever state it is in
                raise

    def close(self) -> None:
        """Close the connection that stays open."""
        with self._one_at_a_time:
            self._drop()

    def _opened(self) -> Connection:
        # of the same pool, without the listener that begins a transaction
        engine = create_engine(self._engine.url, pool=self._engine.pool, hide_parameters=True)
        return engine.connect()

    def _drop(self) -> None:
        connection, self._connection = self._connection, None
        if connection is not None:
            connection.close()
