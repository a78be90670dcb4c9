"""The store that the environment names, for the commands that look after it."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from api.store.store import Store


@contextmanager
def opened_store() -> Iterator[Store]:
    """Open the store, and close it after use."""
    import api.subjects  # noqa: F401 (all tables, and what is checked of them)
    from api.settings import read_settings
    from api.store.store import open_store

    settings = read_settings(os.environ)
    store = open_store(settings.database_url, longest_wait_s=settings.longest_wait_s)
    try:
        yield store
    finally:
        store.close()
