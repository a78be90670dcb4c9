"""The store that the environment names, for the commands that look after it."""

from __future__ import annotations

import os
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from sqlalchemy import Engine

    from api.settings import Settings
    from api.store.store import Store

_FOLDER_MODE = 0o700


@contextmanager
def opened_store(
    environ: Mapping[str, str] | None = None, *, is_made: bool = False
) -> Iterator[Store]:
    """Open the store, and close it after use.

    Parameters
    ----------
    environ : mapping of str to str, optional
        In the place of the environment.
    is_made : bool
        Whether an embedded database is made, or brought up to date, first.
    """
    import api.subjects  # noqa: F401 (all tables, and what is checked of them)
    from api.settings import read_settings
    from api.store.store import open_store

    settings = read_settings(os.environ if environ is None else environ)
    if is_made and settings.is_embedded:
        bring_up(settings)
    store = open_store(settings.database_url, longest_wait_s=settings.longest_wait_s)
    try:
        yield store
    finally:
        store.close()


def bring_up(settings: Settings) -> None:
    """Make the embedded database, or bring it up to what this program needs."""
    from api.store.engine import make_engine, read_url, sqlite_file

    url = read_url(settings.database_url)
    file = sqlite_file(url)
    file.parent.mkdir(parents=True, exist_ok=True, mode=_FOLDER_MODE)
    engine = make_engine(url, settings.longest_wait_s)
    try:
        # A connection would make the file for everybody to read; a step makes it the owner's own.
        if not file.is_file() or not _is_up_to_date(engine):
            from api.store.migrations.steps import upgrade

            upgrade(engine)
    finally:
        engine.dispose()


def _is_up_to_date(engine: Engine) -> bool:
    from api.store.migrations.current_step import newest_step, step_of

    with engine.connect() as connection:
        return step_of(connection) == newest_step()
