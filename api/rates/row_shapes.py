"""Shapes of the rows of rate tables, of a version or of a project's own quotes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Annotated, Any
from uuid import UUID

import marshmallow as ma

from api.contract.commands import several
from api.contract.example_ids import QUOTE, ROW
from api.contract.fields import REMEDY, Choice, Id, Whole, Words, YesNo
from api.contract.lists import Page, PageQuery
from api.contract.schemas import Answer
from api.rates.rows import ROW_KEY_LENGTH
from api.store.models.base import HIGHEST_POSITION

# As estimator/rates/folders.py has them, which is not imported before it is needed.
FILES = (
    "resources.csv", "rents.csv", "crews.csv", "assemblies.csv", "assembly_inputs.csv",
    "assembly_lines.csv", "own_material.csv", "markups.csv", "densities.csv", "unit_precision.csv",
    "cautions.csv",
)  # fmt: skip
MOST_ROWS_AT_ONCE = 1_000
LONGEST_CELL = 2_000

_STONE = {
    "code": "stone-ballast", "name": "Ballast stone", "kind": "material", "unit": "ton",
    "rate": "29.50", "date": "2026-02-20", "paid": "yes", "source": "invented quote",
}  # fmt: skip
EXAMPLE_ADDITIONS: dict[str, Any] = {"rows": [{"file": "resources.csv", "cells": _STONE}]}
EXAMPLE_ROW: dict[str, Any] = {"cells": {"rate": "30.25", "note": "by telephone"}}
EXAMPLE_ROW_CHANGES: dict[str, Any] = {"rows": [{"id": ROW, "version": 1, "removed": True}]}
EXAMPLE_QUOTE_CHANGES: dict[str, Any] = {
    "rows": [{"id": QUOTE, "version": 1, "cells": {"rate": "28.75"}}]
}

_CELLS = "Text by column; docs/rate-tables.md describes the columns."
_KEY = "Key of the row in its file, or its beginning, such as a code."


class CellsField(ma.fields.Field[Any]):
    """The cells of a row: texts by column."""

    default_error_messages = {  # noqa: RUF012
        "required": "is missing",
        "null": "is null; give texts by column",
    }

    def __init__(self, **options: Any) -> None:
        text = {"type": "string", "maxLength": LONGEST_CELL}
        metadata = {
            "type": "object", "additionalProperties": text, "minProperties": 1,
            "description": _CELLS,
        }  # fmt: skip
        super().__init__(metadata=metadata, **options)

    def _deserialize(self, value: Any, *_: Any, **__: Any) -> Any:
        if not isinstance(value, Mapping) or not value:
            raise ma.ValidationError(f"is not a row{REMEDY}give texts by column")
        faults = {name: [wrong] for name, cell in value.items() if (wrong := _cell_fault(cell))}
        if faults:
            raise ma.ValidationError(faults)
        return dict(value)


def _cell_fault(cell: Any) -> str:
    if not isinstance(cell, str):
        return f"is not text{REMEDY}write it in quotes"
    if len(cell) > LONGEST_CELL:
        return f"has {len(cell):,} letters{REMEDY}up to {LONGEST_CELL:,} are taken"
    if not cell.isprintable():
        return f"has control characters{REMEDY}type the text again, on one line"
    return ""


@dataclass(frozen=True, kw_only=True)
class NewRow:
    """A new row of a table."""

    file: Annotated[str, Choice(*FILES)]
    cells: Annotated[Mapping[str, str], CellsField()]


@dataclass(frozen=True, kw_only=True)
class NewRows:
    """New rows, all of them or none."""

    rows: Annotated[Sequence[NewRow], several(NewRow, 1, MOST_ROWS_AT_ONCE)]


@dataclass(frozen=True, kw_only=True)
class CellsChange:
    """Other cells of a row; those that are left out stay."""

    cells: Annotated[Mapping[str, str], CellsField()]


@dataclass(frozen=True, kw_only=True)
class RowEdit:
    """One of several changes: other cells, or the row is taken away."""

    id: Annotated[UUID, Id()]
    version: Annotated[int, Whole(1, HIGHEST_POSITION)]
    cells: Annotated[Mapping[str, str] | None, CellsField()] = None
    removed: Annotated[bool, YesNo()] = False


@dataclass(frozen=True, kw_only=True)
class RowChanges:
    """Changes of several rows, all of them or none."""

    rows: Annotated[Sequence[RowEdit], several(RowEdit, 1, MOST_ROWS_AT_ONCE)]


@dataclass(frozen=True, kw_only=True)
class RowQuery(PageQuery):
    """Which rows are listed."""

    file: Annotated[str | None, Choice(*FILES)] = None
    key: Annotated[str | None, Words(ROW_KEY_LENGTH), _KEY] = None


class RowAnswer(Answer):
    """A row of a table."""

    id = ma.fields.UUID(required=True)
    file = ma.fields.String(required=True)
    key = ma.fields.String(required=True, attribute="row_key")
    cells = ma.fields.Dict(keys=ma.fields.String(), values=ma.fields.String(), required=True)
    version = Whole(1, HIGHEST_POSITION, required=True)


class RowsAnswer(Answer):
    """Rows that were added or changed; those that were taken away are not among them."""

    rows = ma.fields.List(ma.fields.Nested(RowAnswer), required=True)


class RateRowPage(Page):
    """Some rows, file by file in their order."""

    rows = ma.fields.List(ma.fields.Nested(RowAnswer), required=True)
