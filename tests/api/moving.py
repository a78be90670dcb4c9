"""One engine for many databases, so that statements are compiled once and not for each test."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from sqlalchemy import Engine, event

from api.store.engine import SQLITE, make_engine, read_url
from api.store.store import LONGEST_WAIT_S, Store, open_store
from tests.api.service import Account, Service


@dataclass
class Moving:
    """A store that is pointed at one database after another.

    Parameters
    ----------
    first : str
        The URL of a migrated database.
    """

    first: str
    url: str = ""
    engine: Engine = field(init=False)

    def __post_init__(self) -> None:
        self.engine = make_engine(read_url(self.first), LONGEST_WAIT_S)
        event.listen(self.engine, "do_connect", self._point)

    def at(self, url: str) -> Store:
        """Return the store of a database; the store of the one before it is closed."""
        self.engine.dispose()
        self.url, self.engine.url = url, read_url(url)
        return replace(open_store(url, is_checked=False), engine=self.engine)

    def _point(self, _dialect: Any, _record: Any, arguments: list[Any], named: Any) -> None:
        place = read_url(self.url).database
        if arguments:
            arguments[0] = place
        else:
            named["dbname"] = place


@dataclass
class MovingAccount(Moving):
    """A store whose databases are copies of the first, in which an account was opened.

    What the copies lose in a power cut is nobody's, so SQLite waits for no disk here.

    Parameters
    ----------
    folder : Path
        For the service that opens the account.
    """

    folder: Path = Path()
    account: Account = field(init=False)

    def __post_init__(self) -> None:
        store = open_store(self.first)
        self.account = Service(store, self.folder).own
        store.close()
        super().__post_init__()
        if self.engine.dialect.name == SQLITE:
            event.listen(self.engine, "connect", _hurry)


def _hurry(connection: Any, _record: Any) -> None:
    connection.execute("PRAGMA synchronous=OFF")
