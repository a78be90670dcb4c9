"""A connection that each thread keeps, for reads of one statement that most requests begin with.

One statement sees one state of the database by itself, so it needs no transaction around it, and
none of the steps that lend a connection from the pool and take it back.
"""

from __future__ import annotations

from collections.abc import Sequence
from threading import Lock, local
from typing import Any

from sqlalchemy import Engine
from sqlalchemy.exc import DBAPIError

from api.store.engine import SQLITE
from api.store.refusals import told_plainly


class StandingConnections:
    """The connections of all threads, opened when a thread first asks.

    Parameters
    ----------
    engine : Engine
        What opens them.
    """

    def __init__(self, engine: Engine) -> None:
        self.engine = engine
        self._mine = local()
        self._all: list[Any] = []
        self._lock = Lock()

    def first_row(self, sql: str, sent: Any) -> Sequence[Any] | None:
        """Return the first row of a statement in the driver's words, None if there is none.

        Where the connection turns out to be gone, as after a restart of the database, the statement
        is sent once more on a new one.
        """
        errors: Any = self.engine.dialect.loaded_dbapi.Error
        with told_plainly():
            try:
                return self._first_row(sql, sent, errors)
            except errors as error:
                raise DBAPIError.instance(
                    sql, None, error, errors, dialect=self.engine.dialect
                ) from error

    def close(self) -> None:
        """Close all of them; who asks again gets a new one."""
        with self._lock:
            closing, self._all = self._all, []
            self._mine = local()
        for lent in closing:
            lent.close()

    def forget(self) -> list[Any]:
        """Use none of them any longer and return them, still open."""
        forgotten, self._all = self._all, []
        self._mine, self._lock = local(), Lock()
        return forgotten

    def _first_row(self, sql: str, sent: Any, errors: Any) -> Sequence[Any] | None:
        connection = getattr(self._mine, "connection", None)
        if connection is None:
            return _asked(self._opened(), sql, sent)
        try:
            return _asked(connection, sql, sent)
        except errors as error:
            if not self.engine.dialect.is_disconnect(error, connection, None):
                raise
        self._drop()
        return _asked(self._opened(), sql, sent)

    def _opened(self) -> Any:
        lent = self.engine.raw_connection()
        connection: Any = lent.driver_connection
        lent.detach()  # from the pool; it closes its connection when nobody holds it any longer
        if self.engine.dialect.name != SQLITE:
            connection.autocommit = True
        with self._lock:
            self._all.append(lent)
        self._mine.lent, self._mine.connection = lent, connection
        return connection

    def _drop(self) -> None:
        lent, self._mine.lent, self._mine.connection = self._mine.lent, None, None
        with self._lock:
            if lent in self._all:
                self._all.remove(lent)
        lent.close()


def _asked(connection: Any, sql: str, sent: Any) -> Sequence[Any] | None:
    cursor = connection.execute(sql, sent)
    row: Sequence[Any] | None = cursor.fetchone()
    cursor.close()  # or the rows behind the first would keep the state of the database in use
    return row
