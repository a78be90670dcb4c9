"""What holds a statement to one account: conditions that are added to it, whatever it asks.

A lender's statements are held to what is shared with them besides. What cannot be held is refused,
with a message for the developer.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from sqlalchemy import Column, Select, Table, false, select
from sqlalchemy.orm import with_loader_criteria

from api.store.caller import Caller
from api.store.models import (
    Account,
    OfAccount,
    OfProject,
    Private,
    ProjectHead,
    ProjectShare,
    table_of,
)

Statement = Select[*tuple[Any, ...]]


class BypassRefused(Exception):
    """A statement that cannot be held to one account: a developer's mistake, never a user's."""


def limits_of(caller: Caller) -> list[Any]:
    """Return the conditions that every statement of a session gets, whatever it asks."""
    account_id = caller.account_id
    limits = [
        with_loader_criteria(
            OfAccount, lambda cls: cls.account_id == account_id, include_aliases=True
        ),
        with_loader_criteria(Account, lambda cls: cls.id == account_id, include_aliases=True),
    ]
    if caller.is_lender:
        shares = table_of(ProjectShare)
        shared = (
            select(shares.c.project_id)
            .where(shares.c.account_id == account_id, shares.c.token_id == caller.token_id)
            .scalar_subquery()
        )
        limits += [
            with_loader_criteria(
                OfProject, lambda cls: cls.project_id.in_(shared), include_aliases=True
            ),
            with_loader_criteria(ProjectHead, lambda cls: cls.id.in_(shared), include_aliases=True),
            with_loader_criteria(Private, lambda _cls: false(), include_aliases=True),
        ]
    return limits


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
