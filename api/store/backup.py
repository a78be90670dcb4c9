"""Backup, restore and move. What comes out is verified before it takes its name.

A backup is always one SQLite file, of a PostgreSQL database too, so it can be read and restored
anywhere. It is made while the service runs and holds one moment. The file is written under
another name first, so a backup that is there is whole.
"""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory

from api.store.copying import Progress, copy_rows, refuse_filled
from api.store.engine import POSTGRESQL, SQLITE, make_engine, read_url, sqlite_file
from api.store.errors import CopyRefused
from api.store.migrations.steps import upgrade
from api.store.store import LONGEST_WAIT_S, Store, open_store
from api.store.verify import Verified, verify, verify_connection
from estimator.errors import fault

_HEADER = b"SQLite format 3\x00"
_OWNER_ONLY = 0o600


def back_up(store: Store, file: Path, progress: Progress) -> Verified:
    """Write a backup of a store, which may be in use, and return what was verified of it.

    Raises
    ------
    CopyRefused
        If the file is there already.
    StoreFaulty
        If the copy does not hold together; no file is left then.
    """
    with _new_file(file) as unfinished:
        if store.engine.dialect.name == SQLITE:
            with store.engine.connect() as connection:
                source = connection.connection.driver_connection
                assert isinstance(source, sqlite3.Connection)
                _copy_file(source, unfinished)
        else:
            with (
                _opened(unfinished) as target,
                store.across_accounts() as here,
                target.across_accounts(writes=True) as there,
            ):
                copy_rows(here, there, progress)
        return _verified_file(unfinished)


def restore(backup: Path, url: str, progress: Progress) -> Verified:
    """Fill a new database from a backup, and return what was verified of it.

    A backup of an older program is brought up to date on the way.

    Parameters
    ----------
    backup : Path
        The file.
    url : str
        The database: a file that is not there, or a PostgreSQL database without rows.
    progress : callable
        Told how many more rows were copied.

    Raises
    ------
    CopyRefused
        If the backup cannot be read, or the database holds something.
    StoreFaulty
        If the backup does not hold together; nothing is restored then.
    """
    target = read_url(url)
    if target.drivername == SQLITE:
        with _new_file(sqlite_file(target)) as unfinished:
            _copy_backup(backup, unfinished)
            return _verified_file(unfinished)
    with TemporaryDirectory(prefix="groundsill-") as folder:
        copy = Path(folder) / "backup.sqlite3"
        _copy_backup(backup, copy)
        _verified_file(copy)
        with _opened(copy) as source:
            return move(source, url, progress)


def move(store: Store, url: str, progress: Progress) -> Verified:
    """Copy a store into an empty PostgreSQL database, and return what was verified of it.

    Nothing can be written to the store meanwhile; it stays as it was.

    Raises
    ------
    CopyRefused
        If the target is not PostgreSQL, or not empty.
    StoreFaulty
        If the store or the copy does not hold together.
    """
    target_url = read_url(url)
    if target_url.get_backend_name() != POSTGRESQL or store.engine.dialect.name != SQLITE:
        raise fault(
            CopyRefused,
            "a move goes from SQLite to PostgreSQL only",
            "for any other, make a backup and restore it",
        )
    engine = make_engine(target_url, LONGEST_WAIT_S)
    try:
        upgrade(engine)
        target = Store(engine, None)
        with (
            store.across_accounts(writes=True) as here,
            target.across_accounts(writes=True) as there,
        ):
            refuse_filled(there)
            copy_rows(here, there, progress)
            verified = verify_connection(there)
            if verify_connection(here) != verified:
                raise fault(
                    CopyRefused, "the copy does not match what was copied", "nothing was kept"
                )
            return verified
    finally:
        engine.dispose()


@contextmanager
def _new_file(file: Path) -> Iterator[Path]:
    """Give a name to write to, and if all goes well put what was written in its place."""
    for taken in (file, *(file.with_name(f"{file.name}{end}") for end in ("-wal", "-shm"))):
        if taken.exists():
            raise fault(
                CopyRefused,
                "is there already, and nothing is ever written over it",
                "name another, or move it away yourself",
                str(taken),
            )
    if not file.absolute().parent.is_dir():
        raise fault(CopyRefused, "there is no such folder", "make it", str(file.absolute().parent))
    with TemporaryDirectory(prefix=".unfinished-", dir=file.absolute().parent) as folder:
        unfinished = Path(folder) / "groundsill.sqlite3"
        yield unfinished
        unfinished.chmod(_OWNER_ONLY)
        _flush(unfinished)
        _put(unfinished, file)
        if os.name == "posix":  # elsewhere a folder cannot be opened
            _flush(file.absolute().parent)


def _put(unfinished: Path, file: Path) -> None:
    """Give a file its name, never in the place of another."""
    try:
        os.link(unfinished, file)
    except FileExistsError:
        raise fault(CopyRefused, "has just been made by somebody else", where=str(file)) from None
    except OSError:  # a disk that knows no links: take the name first, then fill it
        file.touch(exist_ok=False)
        unfinished.replace(file)


def _flush(path: Path) -> None:
    opened = os.open(path, os.O_RDONLY if path.is_dir() else os.O_RDWR)
    try:
        os.fsync(opened)
    finally:
        os.close(opened)


def _copy_backup(backup: Path, target: Path) -> None:
    """Copy a backup and bring the copy up to the newest step."""
    try:
        with backup.open("rb") as opened:
            is_database = opened.read(len(_HEADER)) == _HEADER
    except FileNotFoundError:
        raise fault(CopyRefused, "there is no such file", where=str(backup)) from None
    if not is_database:
        raise fault(CopyRefused, "is not a backup", "give a file from 'backup'", str(backup))
    address = f"{backup.absolute().as_uri()}?mode=ro"
    try:
        with closing(sqlite3.connect(address, uri=True)) as source:
            _copy_file(source, target)
        _upgrade_file(target)
    except sqlite3.DatabaseError as error:
        raise fault(CopyRefused, f"is damaged: {error}", where=str(backup)) from error


def _copy_file(source: sqlite3.Connection, file: Path) -> None:
    """Copy a database through SQLite's own backup, in one step, so that it holds one moment."""
    with closing(sqlite3.connect(file)) as target:
        source.backup(target, pages=-1)
        target.execute("PRAGMA journal_mode=DELETE")


def _upgrade_file(file: Path) -> None:
    engine = make_engine(read_url(f"sqlite:///{file}"), LONGEST_WAIT_S)
    try:
        upgrade(engine)
    finally:
        engine.dispose()


def _verified_file(file: Path) -> Verified:
    """Verify a file and leave it as one file, without a log beside it."""
    store = open_store(f"sqlite:///{file}")
    try:
        verified = verify(store)
    finally:
        store.close()
    with closing(sqlite3.connect(file)) as connection:
        connection.execute("PRAGMA journal_mode=DELETE")
    return verified


@contextmanager
def _opened(file: Path) -> Iterator[Store]:
    """Open a file that nobody else knows, made with the whole schema if it is not there."""
    _upgrade_file(file)
    store = open_store(f"sqlite:///{file}")
    try:
        yield store
    finally:
        store.close()
