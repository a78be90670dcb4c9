"""Stores with accounts that have something in every table: filled once, copied for each test."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path

import pytest

from api.store.engine import read_url
from api.store.store import Store, open_store
from tests.api.store.made import Made, filled

SQLITE, POSTGRESQL = "sqlite", "postgresql"


@pytest.fixture(scope="session")
def filled_once(
    request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory
) -> Callable[..., tuple[str, list[Made]]]:
    """A way to get the URL of a database of a kind that has accounts of these names, and those."""

    @cache
    def once(kind: str, *names: str) -> tuple[str, list[Made]]:
        if kind == SQLITE:
            template = request.getfixturevalue("sqlite_template")
            url = f"sqlite:///{shutil.copy(template, tmp_path_factory.mktemp('filled'))}"
        else:
            url = request.getfixturevalue("server").migrated()
        store = open_store(url)
        accounts = [filled(store, name) for name in names]
        store.close()
        return url, accounts

    return once


def copied(
    request: pytest.FixtureRequest, folder: Path, kind: str, *names: str
) -> Iterator[tuple[Store, *tuple[Made, ...]]]:
    """Yield a store on a copy of such a database, and its accounts."""
    url, accounts = request.getfixturevalue("filled_once")(kind, *names)
    template = read_url(url).database
    if kind == SQLITE:
        copy = f"sqlite:///{shutil.copy(template, folder / 'groundsill.sqlite3')}"
    else:
        copy = request.getfixturevalue("server").migrated(template)
    store = request.getfixturevalue(f"moving_{kind}").at(copy)
    yield store, *accounts
    store.close()


@pytest.fixture(params=[SQLITE, POSTGRESQL])
def one(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[tuple[Store, Made]]:
    """A store of each kind in turn, and its account."""
    yield from copied(request, tmp_path, request.param, "Rail & Kiln")


@pytest.fixture
def one_sqlite(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[tuple[Store, Made]]:
    """A store in an SQLite file, and its account."""
    yield from copied(request, tmp_path, SQLITE, "Rail & Kiln")


@pytest.fixture(params=[SQLITE, POSTGRESQL])
def two(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[tuple[Store, Made, Made]]:
    """A store of each kind in turn, and its two accounts."""
    yield from copied(request, tmp_path, request.param, "Ours", "Theirs")
