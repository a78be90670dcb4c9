"""The first account and its owner's token, for whoever starts the service at the machine itself."""

from __future__ import annotations

from datetime import datetime, timedelta
from uuid import UUID

from sqlalchemy import select

from api.store.accounts import issue_token, open_account
from api.store.caller import Caller
from api.store.errors import StoreUnfit
from api.store.models import Account, table_of
from api.store.models.access import OWNER
from api.store.store import Store
from estimator.errors import fault

VALID_FOR = timedelta(days=365)
ACCOUNT_NAME = "Own account"
HOLDER = "owner"

_ACCOUNTS = table_of(Account)


def first_token(store: Store, now: datetime) -> str | None:
    """Return the owner's token of a new account if there is no account yet, else None."""
    if _account_ids(store):
        return None
    return _owner_token(store, open_account(store, ACCOUNT_NAME, now), now)


def further_token(store: Store, now: datetime) -> str:
    """Return a new owner's token of the only account: the one at hand was lost or has run out.

    Raises
    ------
    StoreUnfit
        If there are several accounts, so that it could open the wrong one.
    """
    accounts = _account_ids(store)
    if len(accounts) != 1:
        raise fault(StoreUnfit, f"there are {len(accounts)} accounts, not one", "ask their owners")
    return _owner_token(store, accounts[0], now)


def _account_ids(store: Store) -> list[UUID]:
    with store.across_accounts() as connection:
        return list(connection.scalars(select(_ACCOUNTS.c.id).limit(2)))


def _owner_token(store: Store, account_id: UUID, now: datetime) -> str:
    with store.unit_of_work(Caller(account_id), now) as work:
        _, text = issue_token(work, HOLDER, OWNER, now + VALID_FOR)
        work.commit()
    return text
