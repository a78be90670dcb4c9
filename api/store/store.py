"""The store: one database, opened once a process, read and written one account at a time."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager, nullcontext
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property
from time import sleep
from typing import Any, TypeVar

from sqlalchemy import Connection, Engine, Row
from sqlalchemy.exc import DBAPIError

from api.store.account_limits import Statement, limit_values, limited
from api.store.caller import Caller
from api.store.engine import (
    SQLITE,
    for_reading,
    locking,
    make_engine,
    read_url,
    sqlite_file,
)
from api.store.errors import ChangedMeanwhile, StoreBusy, StoreUnfit
from api.store.migrations.current_step import check_step
from api.store.refusals import CLASHES, sql_state, store_errors
from api.store.sessions import AccountSession
from api.store.single_reads import SingleReads
from api.store.write_turn import WriteTurns
from api.store.writing_session import WritingSession
from estimator.errors import fault

LONGEST_WAIT_S = 10.0
MOST_TRIES = 5
_FIRST_PAUSE_S = 0.02

Done = TypeVar("Done")


@dataclass(frozen=True)
class Store:
    """A database with its connections.

    Parameters
    ----------
    engine : Engine
        From `make_engine`.
    turns : WriteTurns or None
        The queue of writers; PostgreSQL needs none.
    """

    engine: Engine
    turns: WriteTurns | None

    @contextmanager
    def reading(self, caller: Caller) -> Iterator[AccountSession]:
        """Open a session that reads the caller's account as it is at one moment."""
        with store_errors(), AccountSession(self._reader, caller) as session:
            yield session

    def row(self, caller: Caller, statement: Statement, **values: object) -> Row[Any] | None:
        """Return the one row that a select of columns yields in the caller's account, if any.

        Parameters
        ----------
        caller : Caller
        statement : Select
            Written once: it is limited to an account once, and executed as it is.
        **values
            Its parameters.
        """
        limits = limit_values(caller)
        return self.row_across_accounts(limited(statement, caller), **{**values, **limits})

    def row_across_accounts(self, statement: Statement, **values: object) -> Row[Any] | None:
        """Return the one row that a select yields in all accounts, if any: for sign-in only."""
        with store_errors():
            return self._single_reads.first(statement, values)

    @contextmanager
    def unit_of_work(self, caller: Caller, at: datetime) -> Iterator[WritingSession]:
        """Open a session that writes, and undo all it did unless its `commit` was called.

        Writers of one account wait for each other from here on, so what is read inside stays
        true until the commit.

        Parameters
        ----------
        caller : Caller
            Who writes, in the audit trail too.
        at : datetime
            When, in UTC.

        Raises
        ------
        StoreBusy
            If the turn to write does not come in time; asking again is safe.
        """
        with store_errors(), self.write_turn(), WritingSession(self.engine, caller, at) as session:
            session.open_trail()
            yield session

    def carry_out(
        self,
        caller: Caller,
        at: datetime,
        change: Callable[[WritingSession], Done],
        prepare: Callable[[], None] | None = None,
    ) -> Done:
        """Return what `change` returns, done in a unit of work that is committed after it.

        If the database calls two changes off because they clashed, or the change finds that what
        it was prepared from was changed, it is tried again, five times at most; so it must do
        nothing but write to its session.

        Parameters
        ----------
        caller, at, change
            As for a unit of work, and what is done in it.
        prepare : callable, optional
            What takes long and writes nothing: done before each try, while others may write.
            `change` raises `ChangedMeanwhile` where it no longer holds.
        """
        for tries_left in reversed(range(MOST_TRIES)):
            try:
                if prepare is not None:
                    prepare()
                with self.unit_of_work(caller, at) as work:
                    done = change(work)
                    work.commit()
                    return done
            except StoreBusy as error:
                cause = error.__cause__
                clashed = isinstance(error, ChangedMeanwhile) or (
                    isinstance(cause, DBAPIError) and sql_state(cause) in CLASHES
                )
                if not clashed or not tries_left:
                    raise
                sleep(_FIRST_PAUSE_S * (MOST_TRIES - tries_left))
        raise AssertionError

    @contextmanager
    def across_accounts(self, *, writes: bool = False) -> Iterator[Connection]:
        """Open a connection that no account limits: for sign-in, checks and copies only."""
        engine = self.engine if writes else self._reader
        turn, lock = (self.write_turn(), locking()) if writes else (nullcontext(), nullcontext())
        with store_errors(), turn, engine.connect() as connection:
            with lock:
                transaction = connection.begin()
            with transaction:
                yield connection

    def write_turn(self) -> AbstractContextManager[None]:
        """Return the turn to write, waited for where the database does not see to that itself."""
        return self.turns.turn() if self.turns else nullcontext()

    def check(self) -> None:
        """Refuse if the database cannot be reached or is not at the newest step."""
        with self.across_accounts() as connection:
            check_step(connection)

    def close(self) -> None:
        """Close the connections."""
        self._single_reads.close()
        self.engine.dispose()

    @cached_property
    def _reader(self) -> Engine:
        return for_reading(self.engine)

    @cached_property
    def _single_reads(self) -> SingleReads:
        return SingleReads(self.engine)


def open_store(
    url: str, *, longest_wait_s: float = LONGEST_WAIT_S, pool_size: int = 5, is_checked: bool = True
) -> Store:
    """Return the store at a database URL.

    Parameters
    ----------
    url : str
        `sqlite:////folder/file.sqlite3` or `postgresql+psycopg://user@host/database`.
    longest_wait_s : float
        [s] To wait for the turn to write.
    pool_size : int
        Connections of this process.
    is_checked : bool
        Whether the database must be there and at the newest step.

    Raises
    ------
    StoreUnfit
        If it is not.
    """
    parsed = read_url(url)
    if parsed.drivername != SQLITE:
        store = Store(make_engine(parsed, longest_wait_s, pool_size), None)
    else:
        file = sqlite_file(parsed)
        if is_checked and not file.is_file():
            raise fault(StoreUnfit, "is not there", "run 'groundsill database upgrade'", str(file))
        turns = WriteTurns(file.with_name(f"{file.name}.turns"), longest_wait_s)
        store = Store(make_engine(parsed, longest_wait_s, pool_size), turns)
    try:
        if is_checked:
            store.check()
    except BaseException:
        store.close()
        raise
    return store
