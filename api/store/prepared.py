"""Reads that most requests begin with: compiled once, then handed to the driver as they are.

A read through a session takes some 0.3 ms, nearly all of it to make the same statement anew.
What is prepared here is held to one account by the same conditions, and takes a tenth of that. It
is for single rows that are asked for all the time; everything else goes through a session.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any
from uuid import UUID

from sqlalchemy import Dialect
from sqlalchemy.types import TypeEngine

from api.store.account_limits import Asked, limited
from api.store.caller import Caller
from api.store.models import Base
from api.store.models.access import LENDER, OWNER
from api.store.sessions import not_kept
from api.store.store import Store

Found = Mapping[str, Any]
Convert = Callable[[Any], Any]

# They stand in a statement for the account and the token of whoever will ask.
_ANY_ACCOUNT = UUID(int=2**128 - 1)
_ANY_TOKEN = UUID(int=2**128 - 2)


class Prepared:
    """A select of columns, of which the one row is asked for often.

    Parameters
    ----------
    model : type
        What the row is of.
    asked : Select
        Of columns of models; `bindparam("key")` is the id of the row, and each other value that a
        request brings has a `bindparam` too.
    """

    def __init__(self, model: type[Base], asked: Asked) -> None:
        self._model = model
        self._asked = asked
        self._sent = cache(self._made)

    def existing(self, store: Store, caller: Caller, key: UUID, **values: Any) -> Found:
        """Return the columns of the row by name; arguments as for `first`.

        Raises
        ------
        NotKept
            If the caller sees no such row, in the same words as a session has for it.
        """
        found = self.first(store, caller, key=key, **values)
        if found is None:
            raise not_kept(self._model, key)
        return found

    def first(self, store: Store, caller: Caller, **values: Any) -> Found | None:
        """Return the columns of the first row by name, or None if the caller sees none.

        Parameters
        ----------
        store, caller : Store, Caller
            Where, and whose rows are seen; the same as a session would show.
        **values
            By the names of the select's `bindparam`s.
        """
        sent = self._sent(store.engine.dialect, caller.role == LENDER)
        return sent.first(
            store, values, {_ANY_ACCOUNT: caller.account_id, _ANY_TOKEN: caller.token_id}
        )

    def _made(self, dialect: Dialect, is_lender: bool) -> _Sent:
        anybody = Caller(_ANY_ACCOUNT, LENDER if is_lender else OWNER, _ANY_TOKEN)
        return _sent(limited(self._asked, anybody), dialect)


class PreparedAcross:
    """The same for a statement that no account limits: for sign-in only."""

    def __init__(self, asked: Asked) -> None:
        self._asked = asked
        self._sent = cache(lambda dialect: _sent(asked, dialect))

    def first(self, store: Store, **values: Any) -> Found | None:
        """Return the columns of the first row by name, or None."""
        sent: _Sent = self._sent(store.engine.dialect)
        return sent.first(store, values, {})


@dataclass(frozen=True)
class _Sent:
    """A statement in the words of a driver.

    `binds` has the parameters in the driver's order: name, value where the statement fixes it, and
    how the driver takes it; `columns` has name and how it is read, None where it is as it is.
    """

    sql: str
    is_by_position: bool
    binds: Sequence[tuple[str, Any, Convert]]
    columns: Sequence[tuple[str, Convert | None]]

    def first(
        self, store: Store, values: Mapping[str, Any], whose: Mapping[Any, Any]
    ) -> Found | None:
        given = [
            (name, take(values[name] if name in values else whose.get(fixed, fixed)))
            for name, fixed, take in self.binds
        ]
        sent = [value for _, value in given] if self.is_by_position else dict(given)
        row = store.standing.first_row(self.sql, sent)
        if row is None:
            return None
        return {
            name: value if read is None or value is None else read(value)
            for (name, read), value in zip(self.columns, row, strict=True)
        }


def _sent(asked: Asked, dialect: Dialect) -> _Sent:
    compiled: Any = asked.compile(dialect=dialect)
    binds = {name: bind for bind, name in compiled.bind_names.items()}
    order = compiled.positiontup if compiled.positional else list(binds)
    return _Sent(
        sql=str(compiled),
        is_by_position=bool(compiled.positional),
        binds=[(name, binds[name].value, _taken(binds[name].type, dialect)) for name in order],
        columns=[(str(one.key), _read(one.type, dialect)) for one in asked.selected_columns],
    )


def _taken(kind: TypeEngine[Any], dialect: Dialect) -> Convert:
    return kind.dialect_impl(dialect).bind_processor(dialect) or (lambda value: value)


def _read(kind: TypeEngine[Any], dialect: Dialect) -> Convert | None:
    return kind.dialect_impl(dialect).result_processor(dialect, None)
