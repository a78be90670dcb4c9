"""Lists in pages: each begins after the last row of the one before, in an order without ties."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from typing import Annotated, Any
from uuid import UUID

import marshmallow as ma
from flask import request
from sqlalchemy import Date, Uuid, literal, tuple_

from api.contract.cursors import LONGEST_CURSOR, cursor_to, place_of
from api.contract.fields import WholeInQuery, Words
from api.contract.schemas import Answer
from api.store.account_limits import Statement
from api.store.columns import UtcTime, utc_text
from api.store.sessions import AccountSession

MOST_A_PAGE, USUAL_PAGE = 200, 50

_OF_THE_PAGE = ("cursor", "limit")


@dataclass(frozen=True, kw_only=True)
class PageQuery:
    """How much of a list to return, and from where; filters are added by the list."""

    limit: Annotated[int, WholeInQuery(1, MOST_A_PAGE)] = USUAL_PAGE
    cursor: Annotated[str | None, Words(LONGEST_CURSOR)] = None

    @property
    def filters(self) -> dict[str, Any]:
        """What a list adds to this and the query states, as a cursor holds it."""
        added = {name: one for name, one in vars(self).items() if name not in _OF_THE_PAGE}
        return {name: _plain(one) for name, one in added.items() if one is not None}


class Page(Answer):
    """A part of a list; its rows stand beside this under a name of their own."""

    next = ma.fields.String(
        required=True, allow_none=True, metadata={"description": "Cursor; null on the last page."}
    )


@dataclass(frozen=True)
class RowPage:
    """Rows of one page, and the cursor to the next page, None on the last."""

    rows: Sequence[Any]
    next: str | None


def page_of(
    session: AccountSession,
    statement: Statement,
    order: Sequence[Any],
    query: PageQuery,
    key: bytes,
    *,
    is_newest_first: bool = False,
    place: Callable[[Any], Sequence[Any]] | None = None,
) -> RowPage:
    """Return one page of a list.

    Parameters
    ----------
    session : AccountSession
        Reads one account.
    statement : Select
        Of one model, or of columns, with the list's filters, without an order.
    order : sequence of columns
        Of the model, none of them null, the last one unique.
    query : PageQuery
        With the filters of the list.
    key : bytes
        From `cursor_key`.
    is_newest_first : bool
        Whether the order is turned round.
    place : callable, optional
        Returns of a row what it is ordered by, where that are not attributes of its own.

    Raises
    ------
    CursorFaulty
        If the cursor was made for another list, filter or token.
    """
    if query.cursor is not None:
        begun = place_of(query.cursor, request.path, query.filters, key)
        start = tuple_(*(_bound(column, one) for column, one in zip(order, begun, strict=True)))
        here = tuple_(*order)
        statement = statement.where(here < start if is_newest_first else here > start)
    by = [column.desc() for column in order] if is_newest_first else order
    limited = statement.order_by(*by).limit(query.limit + 1)
    fetched: Sequence[Any] = session.execute(limited).all()
    if len(statement.column_descriptions) == 1:
        fetched = [row[0] for row in fetched]
    rows = fetched[: query.limit]
    if len(fetched) == len(rows):
        return RowPage(rows, None)
    last = place(rows[-1]) if place else [getattr(rows[-1], column.key) for column in order]
    reached = [_plain(value) for value in last]
    return RowPage(rows, cursor_to(reached, request.path, query.filters, key))


def page_of_listed(
    rows: Sequence[Any], name: Callable[[Any], str], query: PageQuery, key: bytes
) -> RowPage:
    """Return one page of rows that are at hand already, such as the assemblies of a catalogue.

    Parameters
    ----------
    rows : sequence
        What the filters select.
    name : callable
        Returns of a row the text that it is ordered by, which no other has.
    query, key : PageQuery, bytes
        As for `page_of`.
    """
    listed = sorted(rows, key=name)
    if query.cursor is not None:
        (begun,) = place_of(query.cursor, request.path, query.filters, key)
        listed = [row for row in listed if name(row) > begun]
    shown = listed[: query.limit]
    if len(shown) == len(listed):
        return RowPage(shown, None)
    return RowPage(shown, cursor_to([name(shown[-1])], request.path, query.filters, key))


def _plain(value: Any) -> Any:
    if isinstance(value, datetime):
        return utc_text(value)
    if isinstance(value, UUID | Decimal):
        return str(value)
    return value.isoformat() if isinstance(value, date) else value


def _bound(column: Any, value: Any) -> Any:
    """Return a part of a place as a value of its column."""
    if isinstance(column.type, UtcTime):
        value = datetime.fromisoformat(value)
    elif isinstance(column.type, Uuid):
        value = UUID(value)
    elif isinstance(column.type, Date):
        value = date.fromisoformat(value)
    return literal(value, column.type)
