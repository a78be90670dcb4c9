"""What most routes do: list, show, create, change or remove rows of the account that asks."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import cache
from typing import Any
from uuid import UUID

from flask import Response, request

from api.access.sign_in import current_caller, cursor_key
from api.contract.answers import json_answer
from api.contract.lists import PageQuery, page_of
from api.contract.preconditions import change_row, with_tag
from api.contract.schemas import Answer
from api.contract.services import services
from api.contract.submissions import create_row, creation
from api.store.account_limits import Statement
from api.store.sessions import AccountSession, RowType
from api.store.submissions import StoredAnswer
from api.store.writing_session import WritingSession

Shape = type[Answer]


@cache
def _writer(shape: Shape) -> Answer:
    """Return what writes rows in a shape: made once, as it copies every field."""
    return shape()


def row_json(shape: Shape, row: Any) -> dict[str, Any]:
    """Return a row as plain JSON in the shape of an answer."""
    fields: dict[str, Any] = _writer(shape).dump(row)
    return fields


def row_answer(shape: Shape, row: Any) -> Response:
    """Return the answer that is one row, with the tag of its version."""
    return with_tag(json_answer(row_json(shape, row)), row.version)


def list_page(
    name: str,
    shape: Shape,
    statement: Statement,
    order: Sequence[Any],
    query: PageQuery,
    *,
    within: Callable[[AccountSession], object] = lambda _: None,
    is_newest_first: bool = False,
) -> Response:
    """Return one page of a list.

    Parameters
    ----------
    name, shape : str, type of Answer
        What the answer calls the rows, and the shape of each.
    statement, order, query, is_newest_first
        As `page_of` takes them.
    within : callable
        Refuses to list rows of what the account does not have.
    """
    with services().store.reading(current_caller()) as session:
        within(session)
        page = page_of(
            session, statement, order, query, cursor_key(), is_newest_first=is_newest_first
        )
    return json_answer({name: _writer(shape).dump(page.rows, many=True), "next": page.next})


def show_one(shape: Shape, model: type[RowType], key: UUID, **of: UUID) -> Response:
    """Return the answer that is the row with an id, which must belong to `of`."""
    with services().store.reading(current_caller()) as session:
        row = session.existing(model, key, **of)
    return row_answer(shape, row)


def create_one(shape: Shape, create: Callable[[WritingSession], Any]) -> Response:
    """Return the answer to a request that creates a row, done once for each key."""

    def work_on(work: WritingSession) -> StoredAnswer:
        row = create(work)
        return creation(f"{request.path}/{row.id}", row_json(shape, row), row.version)

    return create_row(services(), current_caller(), work_on)


def change_one(
    shape: Shape,
    model: type[RowType],
    key: UUID,
    change: Callable[[WritingSession, RowType], None],
    prepare: Callable[[AccountSession, RowType], None] | None = None,
    **of: UUID,
) -> Response:
    """Return the answer that is a row after a change of the version that the client has read."""
    row = change_row(services(), current_caller(), model, key, change, prepare, **of)
    return row_answer(shape, row)


def remove_one(
    model: type[RowType],
    key: UUID,
    remove: Callable[[WritingSession, RowType], None] = WritingSession.delete,
    prepare: Callable[[AccountSession, RowType], None] | None = None,
    **of: UUID,
) -> Response:
    """Return the empty answer to the removal of a row at the version that the client has read."""
    change_row(services(), current_caller(), model, key, remove, prepare, **of)
    return Response(status=204)
