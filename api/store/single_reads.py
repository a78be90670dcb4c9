"""Reads of one row by one statement: what sign-in and a summary wait for."""

from __future__ import annotations

from collections.abc import Mapping
from threading import local
from typing import Any

from sqlalchemy import Connection, Engine, NullPool, Row, Select, create_engine, event

from api.store.engine import SQLITE, set_up_sqlite


class SingleReads:
    """The way to one row, without a session and without a transaction.

    On SQLite each thread has a connection of its own that stays open: taking one from the pool,
    with a transaction begun and undone, takes longer than such a statement. On PostgreSQL, where
    a connection costs the server a process, they are taken from the pool.

    Parameters
    ----------
    engine : Engine
        From `make_engine`.
    """

    def __init__(self, engine: Engine) -> None:
        self._stays_open = engine.dialect.name == SQLITE
        self._of_thread = local()
        if self._stays_open:
            self._engine = create_engine(engine.url, poolclass=NullPool, hide_parameters=True)
            event.listen(self._engine, "connect", set_up_sqlite)
        else:
            self._engine = engine.execution_options(isolation_level="AUTOCOMMIT")

    def first(
        self, statement: Select[*tuple[Any, ...]], values: Mapping[str, Any]
    ) -> Row[Any] | None:
        """Return the first row that a select of columns yields, if any."""
        if not self._stays_open:
            with self._engine.connect() as connection:
                return connection.execute(statement, values).first()
        try:
            return self._connection().execute(statement, values).first()
        except BaseException:
            self.close()  # whatever state it is in
            raise

    def close(self) -> None:
        """Close the connection of this thread."""
        connection = self._of_thread.__dict__.pop("connection", None)
        if connection is not None:
            connection.close()

    def _connection(self) -> Connection:
        connection: Connection | None = getattr(self._of_thread, "connection", None)
        if connection is None:
            connection = self._of_thread.connection = self._engine.connect()
        return connection
