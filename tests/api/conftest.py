"""Databases for the tests: a fresh one of either kind for each test that asks for a store."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from api.store.engine import read_url
from api.store.store import Store, open_store
from tests.api.estimates.made import PITS
from tests.api.live import Live, migrate, migrated_file, served
from tests.api.moving import Moving, MovingAccount
from tests.api.service import Service
from tests.api.store.postgres import ABSENT, Server, server_programs
from tests.commands.running import Ran, groundsill
from tests.made_once import made_once

SQLITE, POSTGRESQL = "sqlite", "postgresql"


@pytest.fixture(scope="session")
def server() -> Iterator[Server]:
    """A running PostgreSQL server with a migrated template."""
    programs = server_programs()
    if programs is None:
        pytest.skip(ABSENT)
    server = Server(programs)
    server.start()
    try:
        migrate(server.make_template())
        yield server
    finally:
        server.stop()


@pytest.fixture(scope="session")
def sqlite_template(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A migrated SQLite file that nobody has open."""
    file = tmp_path_factory.mktemp("template") / "groundsill.sqlite3"
    file.write_bytes(migrated_file())
    return file


@pytest.fixture
def sqlite_url(sqlite_template: Path, tmp_path: Path) -> str:
    """The URL of a fresh, migrated SQLite database."""
    file = tmp_path / "groundsill.sqlite3"
    shutil.copy(sqlite_template, file)
    return f"sqlite:///{file}"


@pytest.fixture(params=[SQLITE, POSTGRESQL])
def url(request: pytest.FixtureRequest) -> str:
    """The URL of a fresh, migrated database, of each kind in turn."""
    if request.param == SQLITE:
        return request.getfixturevalue("sqlite_url")
    return request.getfixturevalue("server").migrated()


@pytest.fixture(params=[SQLITE, POSTGRESQL])
def empty_url(request: pytest.FixtureRequest, tmp_path: Path) -> str:
    """The URL of an empty database, of each kind in turn."""
    if request.param == SQLITE:
        return f"sqlite:///{tmp_path}/empty.sqlite3"
    return request.getfixturevalue("server").empty()


@pytest.fixture
def opened() -> Iterator[Callable[[str], Store]]:
    """A way to open stores that are closed when the test ends."""
    stores: list[Store] = []

    def open_one(url: str) -> Store:
        stores.append(open_store(url))
        return stores[-1]

    yield open_one
    for store in stores:
        store.close()


@pytest.fixture(scope="session")
def moving_sqlite(sqlite_template: Path) -> Moving:
    """A store that moves from one empty SQLite file to the next."""
    return Moving(f"sqlite:///{sqlite_template}")


@pytest.fixture(scope="session")
def moving_postgresql(server: Server) -> Moving:
    """A store that moves from one empty PostgreSQL database to the next."""
    return Moving(server.migrated())


@pytest.fixture
def store(url: str, request: pytest.FixtureRequest) -> Iterator[Store]:
    """A fresh store, of each kind in turn."""
    moving = request.getfixturevalue(f"moving_{read_url(url).get_backend_name()}")
    yield from closed_at_last(moving.at(url))


@pytest.fixture
def sqlite_store(sqlite_url: str, moving_sqlite: Moving) -> Iterator[Store]:
    """A fresh store in an SQLite file."""
    yield from closed_at_last(moving_sqlite.at(sqlite_url))


def closed_at_last(store: Store) -> Iterator[Store]:
    """Yield a store, and close it."""
    yield store
    store.close()


@pytest.fixture(scope="session")
def moving_sqlite_account(
    sqlite_template: Path, tmp_path_factory: pytest.TempPathFactory
) -> MovingAccount:
    """A store that moves from one SQLite file with an account to the next."""
    folder = tmp_path_factory.mktemp("moving")
    file = shutil.copy(sqlite_template, folder / "groundsill.sqlite3")
    return MovingAccount(f"sqlite:///{file}", folder=folder)


@pytest.fixture(scope="session")
def moving_postgresql_account(
    server: Server, tmp_path_factory: pytest.TempPathFactory
) -> MovingAccount:
    """A store that moves from one PostgreSQL database with an account to the next."""
    return MovingAccount(server.migrated(), folder=tmp_path_factory.mktemp("moving"))


@pytest.fixture(params=[SQLITE, POSTGRESQL])
def service(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Service]:
    """The service on a fresh store with an account, of each kind in turn."""
    if request.param == SQLITE:
        yield request.getfixturevalue("embedded")
        return
    moving = request.getfixturevalue("moving_postgresql_account")
    template = read_url(moving.first).database
    yield from moved(moving, request.getfixturevalue("server").migrated(template), tmp_path)


@pytest.fixture
def embedded(moving_sqlite_account: MovingAccount, tmp_path: Path) -> Iterator[Service]:
    """The service on a fresh SQLite file, for what has nothing to do with the database."""
    moving = moving_sqlite_account
    file = shutil.copy(read_url(moving.first).database, tmp_path / "groundsill.sqlite3")
    yield from moved(moving, f"sqlite:///{file}", tmp_path)


def moved(moving: MovingAccount, url: str, folder: Path) -> Iterator[Service]:
    """Yield the service on a database that a store has moved to."""
    store = moving.at(url)
    yield Service(store, folder, own=moving.account)
    store.close()


@pytest.fixture(scope="session")
def live(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Live]:
    """The service as `groundsill serve` runs it."""
    with served(tmp_path_factory.mktemp("live")) as live:
        yield live


@pytest.fixture(scope="session")
def sample_books(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Ran]:
    """A data folder with the books of the sample, and what the command said that opened them."""

    def make(folder: Path) -> str:
        with pytest.MonkeyPatch.context() as patch:
            patch.setenv("GROUNDSILL_DATA_FOLDER", str(folder / "data"))
            patch.delenv("GROUNDSILL_DATABASE_URL", raising=False)
            ran = groundsill("books", "demo")
        assert ran.exit_code == 0, ran.err
        return ran.out

    folder, printed = made_once(tmp_path_factory, "sample", make)
    return folder / "data", Ran(0, printed, "")


@pytest.fixture(scope="session")
def pits_books(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Ran]:
    """A folder with a scope of pits and, below `data`, its books; what the command said."""

    def make(folder: Path) -> str:
        (folder / "scope.yaml").write_text(PITS)
        with pytest.MonkeyPatch.context() as patch:
            patch.setenv("GROUNDSILL_DATA_FOLDER", str(folder / "data"))
            patch.delenv("GROUNDSILL_DATABASE_URL", raising=False)
            ran = groundsill("books", "open", folder / "scope.yaml")
        assert ran.exit_code == 0, ran.err
        return ran.out

    folder, printed = made_once(tmp_path_factory, "pits", make)
    return folder, Ran(0, printed, "")
