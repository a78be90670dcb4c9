"""The first account and its owner's token, for whoever starts the service at the machine itself."""

from __future__ import annotations

from datetime import datetime, timedelta
from uuid import UUID

from api.access.opened_accounts import TokenTerms, account_ids, open_with_owner, token_for
from api.store.errors import StoreUnfit
from api.store.models.access import OWNER
from api.store.store import Store
from estimator.errors import fault

VALID_FOR = timedelta(days=365)
ACCOUNT_NAME = "Own account"
HOLDER = "owner"


def first_token(store: Store, now: datetime) -> str | None:
    """Return the owner's token of a new account if there is no account yet, else None.

    Of several hosts that start at the same moment, one opens the account.
    """
    if account_ids(store, 1):
        return None
    opened = open_with_owner(store, ACCOUNT_NAME, _owner(now), now, only_as_first=True)
    return opened.token if opened else None


def further_token(store: Store, now: datetime) -> str:
    """Return a new owner's token of the only account: the one at hand was lost or has run out.

    Raises
    ------
    StoreUnfit
        If there are several accounts, so that it could open the wrong one.
    """
    accounts = account_ids(store, 2)
    if len(accounts) != 1:
        raise fault(
            StoreUnfit,
            "there is more than one account",
            "'groundsill account token NAME' prints a token for the one you name",
        )
    return token_for(store, accounts[0], _owner(now), now)


def own_account(store: Store, now: datetime) -> UUID:
    """Return the only account, opened if there is none yet.

    Raises
    ------
    StoreUnfit
        If there are several: whose books they are is then for a token to say.
    """
    first_token(store, now)
    accounts = account_ids(store, 2)
    if len(accounts) != 1:
        what = "there are several accounts in the database"
        raise fault(StoreUnfit, what, "use the service with a token of the one you mean")
    return accounts[0]


def _owner(now: datetime) -> TokenTerms:
    return TokenTerms(HOLDER, OWNER, now + VALID_FOR)
