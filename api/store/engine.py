"""Database connections: pragmas, explicit transactions, time limits.

SQLite: write-ahead log, every commit flushed to the disk, foreign keys checked, and a write
transaction that takes its lock when it begins. PostgreSQL: UTC, and limits on waiting.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from pathlib import Path
from typing import Any

from sqlalchemy import URL, Engine, create_engine, event, make_url
from sqlalchemy.exc import ArgumentError

from api.store.errors import StoreUnfit
from estimator.errors import fault, quoted

SQLITE = "sqlite"
POSTGRESQL = "postgresql"
DRIVER = "postgresql+psycopg"

_IS_LOCKING: ContextVar[bool] = ContextVar("is_locking", default=False)
# Called before a thread waits for the disk: whoever has other threads lets the next one begin.
before_disk: ContextVar[Callable[[], None]] = ContextVar("before_disk", default=lambda: None)
_POOL_WAIT_S = 10
_IDLE_LIMIT_S = 60


def read_url(text: str) -> URL:
    """Return a database URL that the store can use.

    Raises
    ------
    StoreUnfit
        If it is none, or of a database that is not supported; a password in it is not shown.
    """
    try:
        url = make_url(text)
    except ArgumentError:
        raise fault(StoreUnfit, "the database URL cannot be read", _RIGHT_URLS) from None
    if url.drivername not in (SQLITE, DRIVER):
        raise fault(
            StoreUnfit, f"databases of kind {quoted(url.drivername)} are not used", _RIGHT_URLS
        )
    if url.drivername == SQLITE and (not url.database or url.database == ":memory:"):
        raise fault(StoreUnfit, "an SQLite database needs a file", _RIGHT_URLS)
    if url.drivername == DRIVER and not url.database:
        raise fault(StoreUnfit, "the URL names no database", _RIGHT_URLS)
    return url


_RIGHT_URLS = "write sqlite:////folder/file.sqlite3 or postgresql+psycopg://user@host/database"


def sqlite_file(url: URL) -> Path:
    """Return the file of an SQLite database."""
    return Path(url.database or "")


def make_engine(url: URL, longest_wait_s: float, pool_size: int = 5) -> Engine:
    """Return an engine for a database of either kind.

    Parameters
    ----------
    url : URL
        From `read_url`.
    longest_wait_s : float
        [s] To wait for a lock.
    pool_size : int
        Connections of this process, and as many more for a moment.
    """
    pool: dict[str, Any] = {
        "pool_size": pool_size, "max_overflow": pool_size, "pool_timeout": _POOL_WAIT_S,
        "pool_use_lifo": True,  # the one used last has its pages and statements at hand
        "hide_parameters": True,  # what somebody sent has no place in the log
    }  # fmt: skip
    if url.drivername == SQLITE:
        engine = create_engine(url, connect_args={"timeout": longest_wait_s}, **pool)
        event.listen(engine, "connect", _set_up_sqlite)
        # a listener could do these; but where there is one, each statement looks for listeners
        engine.dialect.do_begin = _begin_sqlite  # type: ignore[assignment]
        engine.dialect.do_commit = _commit_sqlite  # type: ignore[assignment]
        return engine
    options = (
        f"-c timezone=UTC -c client_encoding=UTF8 -c lock_timeout={int(longest_wait_s * 1000)} "
        f"-c idle_in_transaction_session_timeout={_IDLE_LIMIT_S * 1000}"
    )
    arguments = {"options": options, "application_name": "groundsill", "connect_timeout": 10}
    return create_engine(url, connect_args=arguments, pool_pre_ping=True, **pool)


@contextmanager
def locking() -> Iterator[None]:
    """Let a transaction of SQLite that begins inside the `with` take the lock to write at once."""
    before = _IS_LOCKING.set(True)
    try:
        yield
    finally:
        _IS_LOCKING.reset(before)


def for_reading(engine: Engine) -> Engine:
    """Return the engine for transactions that read one unchanging state."""
    if engine.dialect.name == SQLITE:
        return engine
    return engine.execution_options(isolation_level="REPEATABLE READ", postgresql_readonly=True)


def _set_up_sqlite(connection: sqlite3.Connection, _record: object) -> None:
    connection.isolation_level = None  # the driver would begin too late, and never for reads
    for pragma in (
        "journal_mode=WAL",
        "synchronous=FULL",
        "foreign_keys=ON",
        "recursive_triggers=ON",
        "wal_autocheckpoint=4000",  # 16 MB: pages that many commits write are carried over once
    ):
        connection.execute(f"PRAGMA {pragma}")


def _begin_sqlite(connection: Any) -> None:
    connection.execute("BEGIN IMMEDIATE" if _IS_LOCKING.get() else "BEGIN")


def _commit_sqlite(connection: Any) -> None:
    before_disk.get()()
    connection.commit()
