"""Adding, changing and removing rows of tables: of a draft, or of a project's own quotes."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Any, TypeVar
from uuid import UUID

from sqlalchemy import Select, func, select

from api.contract.bodies import check_how_many
from api.contract.errors import FieldsFaulty
from api.contract.places import pointer
from api.rates.row_shapes import NewRow, RowAnswer, RowEdit, RowQuery
from api.rates.rows import ProjectQuote, RateRow
from api.rates.stored_tables import Cells, row_key
from api.rates.table_rows import fitting_cells, refuse_repeated
from api.store.sessions import AccountSession
from api.store.writing_session import WritingSession
from estimator.errors import Faults, fault

Row = TypeVar("Row", RateRow, ProjectQuote)

_ROWS = "rows"


def new_rows(
    session: AccountSession, model: type[Row], of: Mapping[str, UUID], entries: Sequence[NewRow]
) -> list[Row]:
    """Return new rows behind those that are there, not stored yet.

    Parameters
    ----------
    session : AccountSession
    model : type
        `RateRow` or `ProjectQuote`.
    of : mapping of str to UUID
        What they belong to: the column and its value.
    entries : sequence of NewRow

    Raises
    ------
    FieldsFaulty, AlreadyThere
        With every fault at its pointer.
    """
    places = [pointer(_ROWS, number, "cells") for number in range(len(entries))]
    faults, fresh = Faults(), []
    for one, place in zip(entries, places, strict=True):
        fresh.append((one.file, fitting_cells(one.file, one.cells, place, faults)))
    faults.raise_if_any(FieldsFaulty)
    there = session.execute(select(model.file, model.row_key).where(*_belongs(model, of))).all()
    check_how_many(len(there) + len(fresh), "set of tables", "rows")
    refuse_repeated([(file, key) for file, key in there], fresh, places)
    begun = session.scalar(select(func.max(model.position)).where(*_belongs(model, of))) or 0
    return [
        model(file=file, row_key=row_key(file, cells), cells=cells, position=begun + step, **of)
        for step, (file, cells) in enumerate(fresh, start=1)
    ]


def changed_rows(
    session: AccountSession,
    model: type[Row],
    of: Mapping[str, UUID],
    entries: Sequence[RowEdit],
    place_of: Callable[[int], str] = lambda number: pointer(_ROWS, number),
) -> tuple[list[tuple[Row, Cells]], list[Row]]:
    """Return rows that are to change with their new cells, and those that are to go.

    Parameters
    ----------
    session, model, of
        As for new rows.
    entries : sequence of RowChange
    place_of : callable
        Returns the pointer to the change of a number.

    Raises
    ------
    NotFound, VersionStale, FieldsFaulty, AlreadyThere
        With every fault of that kind.
    """
    faults, going, places = Faults(), list[Row](), list[str]()
    changed = list[tuple[Row, Cells]]()
    for number, one in enumerate(entries):
        row = session.existing(model, one.id, **of)
        session.expect(row, one.version)
        if one.removed:
            going.append(row)
        elif one.cells is None:
            faults.add(place_of(number), "changes nothing", "give cells, or 'removed'")
        else:
            place = f"{place_of(number)}/cells"
            fits = fitting_cells(row.file, {**row.cells, **one.cells}, place, faults)
            changed.append((row, fits))
            places.append(place)
    faults.raise_if_any(FieldsFaulty)
    _refuse_twice(entries)
    named = {one.id for one in entries}
    columns = select(model.id, model.file, model.row_key)
    there = session.execute(columns.where(*_belongs(model, of))).all()
    stay = [(file, key) for row_id, file, key in there if row_id not in named]
    refuse_repeated(stay, [(row.file, cells) for row, cells in changed], places)
    return changed, going


def change_rows(
    work: WritingSession, changed: Iterable[tuple[Row, Cells]], going: Iterable[Row]
) -> list[Row]:
    """Return rows that `changed_rows` has read, with their new cells, once the others are gone."""
    work.delete_all(going)
    columns = [
        (row, {"cells": cells, "row_key": row_key(row.file, cells)}) for row, cells in changed
    ]
    work.put_all(columns)
    return [row for row, _ in columns]


def rows_statement(model: type[Row], of: Mapping[str, UUID], query: RowQuery) -> Select[Any]:
    """Return the select of the rows that the filters of a list choose."""
    statement = select(model).where(*_belongs(model, of))
    if query.file is not None:
        statement = statement.where(model.file == query.file)
    if query.key is not None:
        statement = statement.where(model.row_key.startswith(query.key, autoescape=True))
    return statement


def rows_json(rows: Sequence[RateRow | ProjectQuote]) -> dict[str, Any]:
    """Return several rows as JSON."""
    return {"rows": RowAnswer(many=True).dump(rows)}


def _belongs(model: type[Row], of: Mapping[str, UUID]) -> list[Any]:
    return [getattr(model, name) == owner for name, owner in of.items()]


def _refuse_twice(entries: Sequence[RowEdit]) -> None:
    seen: set[UUID] = set()
    for number, one in enumerate(entries):
        if one.id in seen:
            raise fault(FieldsFaulty, "names a row twice", where=pointer(_ROWS, number, "id"))
        seen.add(one.id)
