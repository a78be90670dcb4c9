"""The database on this computer for the commands of the books: made and brought up when needed."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from api.store.caller import Caller
    from api.store.store import Store


@contextmanager
def own_books() -> Iterator[tuple[Store, Caller, datetime]]:
    """Open the database with the one account that is there, and tell the time [UTC].

    Raises
    ------
    StoreUnfit
        If the database has several accounts: then the service is the way in.
    """
    from api.access.first_account import own_account
    from api.app import utc_now
    from api.commands.opened_store import opened_store
    from api.store.caller import Caller

    with opened_store(is_made=True) as store:
        now = utc_now()
        yield store, Caller(own_account(store, now)), now
