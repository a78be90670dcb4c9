"""Accounts for whoever looks after the service at the machine itself: opened, listed, let in again.

An account and its owner's token come into being together, and two processes that open accounts at
the same moment wait for each other: by the turn to write on SQLite, by a lock on PostgreSQL.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import NamedTuple
from uuid import UUID, uuid4

from sqlalchemy import Connection, and_, func, select

from api.store.accounts import issue_token
from api.store.caller import Caller
from api.store.engine import SQLITE
from api.store.errors import AlreadyThere, NotFound
from api.store.models import Account, Token, table_of
from api.store.store import Store
from api.store.writing_session import WritingSession
from estimator.errors import fault, quoted

_OPENING_LOCK = 8_765_002
_ROWS_AT_A_TIME = 500
_ACCOUNTS, _TOKENS = table_of(Account), table_of(Token)


@dataclass(frozen=True)
class TokenTerms:
    """What a new token is to be.

    Parameters
    ----------
    holder : str
        Who gets it.
    role : str
        `owner`, `bookkeeper`, `crew` or `lender`.
    expires_at : datetime
        In UTC.
    """

    holder: str
    role: str
    expires_at: datetime


class OpenedAccount(NamedTuple):
    """A new account: its id and its owner's token, which is shown this once."""

    account_id: UUID
    token: str


class Known(NamedTuple):
    """An account as a list shows it; `tokens` are those that are valid now."""

    account_id: UUID
    name: str
    created_at: datetime
    tokens: int


def open_with_owner(
    store: Store, name: str, owner: TokenTerms, at: datetime, *, only_as_first: bool = False
) -> OpenedAccount | None:
    """Return a new account with its owner's token, or None if it is not the first and must be.

    Raises
    ------
    AlreadyThere
        If an account has that name.
    """
    caller = Caller(uuid4())
    with store.unit_of_work(caller, at) as work:
        connection = work.connection()
        _one_opening_at_a_time(connection)
        if only_as_first and _ids(connection, 1):
            return None
        if _ids_named(connection, name):
            raise fault(AlreadyThere, f"there is an account {quoted(name)}", "choose another name")
        work.add(Account(id=caller.account_id, name=name, created_at=at))
        token = _token(work, owner)
        work.commit()
    return OpenedAccount(caller.account_id, token)


def token_for(store: Store, account_id: UUID, terms: TokenTerms, at: datetime) -> str:
    """Return the text of a new token of an account, which is shown this once."""
    with store.unit_of_work(Caller(account_id), at) as work:
        text = _token(work, terms)
        work.commit()
    return text


def known_accounts(store: Store, at: datetime) -> Iterator[Known]:
    """Yield every account in the order they were opened."""
    is_valid = and_(
        _TOKENS.c.account_id == _ACCOUNTS.c.id,
        _TOKENS.c.revoked_at.is_(None),
        _TOKENS.c.expires_at > at,
    )
    shown = (_ACCOUNTS.c.id, _ACCOUNTS.c.name, _ACCOUNTS.c.created_at)
    statement = (
        select(*shown, func.count(_TOKENS.c.id))
        .select_from(_ACCOUNTS.outerjoin(_TOKENS, is_valid))
        .group_by(*shown)
        .order_by(_ACCOUNTS.c.created_at, _ACCOUNTS.c.id)
        .execution_options(yield_per=_ROWS_AT_A_TIME)
    )
    with store.across_accounts() as connection:
        for row in connection.execute(statement):
            yield Known(*row)


def account_of(store: Store, name_or_id: str) -> UUID:
    """Return the id of the account that has a name or an id.

    Raises
    ------
    NotFound
        If there is none, or several have the name.
    """
    with store.across_accounts() as connection:
        account_id = _as_id(name_or_id)
        if account_id is not None and connection.scalar(
            select(_ACCOUNTS.c.id).where(_ACCOUNTS.c.id == account_id)
        ):
            return account_id
        ids = _ids_named(connection, name_or_id)
    if len(ids) == 1:
        return ids[0]
    if ids:
        raise fault(NotFound, f"{len(ids)} accounts are called {quoted(name_or_id)}", "give an id")
    remedy = "'groundsill account list' shows them"
    raise fault(NotFound, f"there is no account {quoted(name_or_id)}", remedy)


def account_ids(store: Store, most: int) -> list[UUID]:
    """Return the ids of some accounts, no more than `most`."""
    with store.across_accounts() as connection:
        return _ids(connection, most)


def _token(work: WritingSession, terms: TokenTerms) -> str:
    _, text = issue_token(work, terms.holder, terms.role, terms.expires_at)
    return text


def _one_opening_at_a_time(connection: Connection) -> None:
    """Wait until nobody else opens an account; on SQLite the unit of work has seen to it."""
    if connection.dialect.name != SQLITE:
        connection.execute(select(func.pg_advisory_xact_lock(_OPENING_LOCK)))


def _ids(connection: Connection, most: int) -> list[UUID]:
    return list(connection.scalars(select(_ACCOUNTS.c.id).limit(most)))


def _ids_named(connection: Connection, name: str) -> list[UUID]:
    statement = select(_ACCOUNTS.c.id).where(_ACCOUNTS.c.name == name)
    return list(connection.scalars(statement))


def _as_id(text: str) -> UUID | None:
    try:
        return UUID(text)
    except ValueError:
        return None
