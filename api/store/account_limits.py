"""What holds a statement to one account: conditions that are added to it, whatever it asks.

The statements of lenders and crews are held to what is shared with them besides. What cannot be
held is refused, with a message for the developer.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import lru_cache
from typing import Any

from sqlalchemy import Column, Select, Table, Uuid, bindparam, false, select
from sqlalchemy.orm import with_loader_criteria
from sqlalchemy.orm.context import FromStatement
from sqlalchemy.sql.base import ExecutableOption

from api.store.caller import Caller
from api.store.models import (
    Account,
    OfAccount,
    OfProject,
    OfSite,
    Private,
    ProjectHead,
    ProjectShare,
    table_of,
)
from api.store.models.access import BOOKKEEPER, CREW, LENDER, OWNER

Statement = Select[*tuple[Any, ...]]


class BypassRefused(Exception):
    """A statement that cannot be held to one account: a developer's mistake, never a user's."""


_ACCOUNT_ID = bindparam("caller_account_id", type_=Uuid())
_TOKEN_ID = bindparam("caller_token_id", type_=Uuid())
_SHARES = table_of(ProjectShare)
_SHARED = (
    select(_SHARES.c.project_id)
    .where(_SHARES.c.account_id == _ACCOUNT_ID, _SHARES.c.token_id == _TOKEN_ID)
    .scalar_subquery()
)

_OF_ACCOUNT = (
    with_loader_criteria(
        OfAccount, lambda cls: cls.account_id == _ACCOUNT_ID, include_aliases=True
    ),
    with_loader_criteria(Account, lambda cls: cls.id == _ACCOUNT_ID, include_aliases=True),
)
_OF_SHARED = (
    *_OF_ACCOUNT,
    with_loader_criteria(OfProject, lambda cls: cls.project_id.in_(_SHARED), include_aliases=True),
    with_loader_criteria(ProjectHead, lambda cls: cls.id.in_(_SHARED), include_aliases=True),
    with_loader_criteria(Private, lambda _cls: false(), include_aliases=True),
)
_OF_LENDER = (
    *_OF_SHARED,
    with_loader_criteria(OfSite, lambda _cls: false(), include_aliases=True),
)
_OF_CREW = (
    *_OF_SHARED,
    with_loader_criteria(OfSite, lambda cls: cls.project_id.in_(_SHARED), include_aliases=True),
)
_LIMITS = {OWNER: _OF_ACCOUNT, BOOKKEEPER: _OF_ACCOUNT, CREW: _OF_CREW, LENDER: _OF_LENDER}


def limited(statement: Any, caller: Caller) -> Any:
    """Return a statement held to what a caller sees, to be executed with their `limit_values`.

    Raises
    ------
    BypassRefused
        If it is no select of models, or names a table without its model.
    """
    return _limited(statement, caller.role)


@lru_cache(maxsize=100)  # a statement that is written once is limited once
def _limited(statement: Any, role: str) -> Any:
    refuse_all_but_selects(statement)
    refuse_bare_tables(statement)
    return statement.options(*limits_of(role))


def limits_of(role: str) -> Iterable[ExecutableOption]:
    """Return the conditions that every statement of a role gets, whatever it asks."""
    return _LIMITS[role]


def limit_values(caller: Caller) -> dict[str, Any]:
    """Return who is asking, as the parameters of a limited statement."""
    return {"caller_account_id": caller.account_id, "caller_token_id": caller.token_id}


def refuse_all_but_selects(statement: Any) -> None:
    """Refuse what conditions cannot be added to.

    Raises
    ------
    BypassRefused
        If it is raw SQL, or changes rows.
    """
    if not statement.is_select or isinstance(statement, FromStatement):
        raise BypassRefused(
            "only select() of models is limited to an account; change rows by their attributes, "
            "so that the audit trail sees it"
        )


def refuse_bare_tables(statement: Any) -> None:
    """Refuse a statement that names a table without its model.

    Raises
    ------
    BypassRefused
        Naming the table.
    """
    for table in _bare_tables(statement):
        raise BypassRefused(f"ask for the model of {table}, not for the bare table")


def _bare_tables(statement: Any) -> Iterator[str]:
    """Yield names of tables that a statement names without their model, at any depth."""
    waiting, seen = [statement], set()
    while waiting:
        part = waiting.pop()
        if id(part) in seen or "parententity" in part._annotations:
            continue
        seen.add(id(part))
        if isinstance(part, Table):
            yield part.name
        elif isinstance(part, Column):
            waiting += [] if part.table is None else [part.table]
        elif isinstance(part, Select):  # whose children leave out what it selects from
            waiting += super(Select, part).get_children()
        else:
            waiting += part.get_children()
