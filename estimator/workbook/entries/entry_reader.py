"""Entries of the books that were typed into a workbook, as bodies with the cells they stand in.

Only the sheets of entries are read; what they mean is for whoever posts them to check.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from estimator.errors import Faults, LedgerFaulty
from estimator.money import exact_arithmetic
from estimator.workbook.entries.entry_layouts import (
    ENTRY_SHEETS,
    NO,
    SEVERAL,
    WHOLE,
    YES,
    YES_NO,
    EntryColumn,
    EntrySheet,
    Joins,
)
from estimator.workbook.reading.headed_rows import HeadedRow, headed_rows
from estimator.workbook.reading.limits import USUAL_LIMITS, ReadingLimits
from estimator.workbook.reading.workbook_rows import Cell, Sheet, read_sheets

_COSTS = "costs"
_ADDED_UP = ("net", "tax")
_JOINS = {one.kind: one.joins for one in ENTRY_SHEETS}
_AMOUNT = re.compile(r"-?\d{1,12}(\.\d{1,2})?", re.ASCII)
_DIGITS = 10
_CLOCK = re.compile("([0-9]{1,2}):([0-9]{2})(?::00)?")


@dataclass(frozen=True)
class TypedEntry:
    """An entry as it was typed in.

    Parameters
    ----------
    kind : str
        Name of its list in `Books`.
    body : dict
        What the route of its kind takes; what a row of the books is needed for (the tickets of a
        bill, the bill of a payment) by its name, as it was typed in.
    where : str
        File, sheet and row.
    cells : mapping of str to str
        Where each field stands.
    """

    kind: str
    body: dict[str, Any]
    where: str
    cells: Mapping[str, str]


@dataclass(frozen=True)
class TypedEntries:
    """All that was typed in, and what was passed over."""

    entries: tuple[TypedEntry, ...]
    notes: tuple[str, ...]


def read_entries(content: bytes, name: str, limits: ReadingLimits = USUAL_LIMITS) -> TypedEntries:
    """Return the entries on the sheets of a workbook, in the order in which they are posted.

    Parameters
    ----------
    content : bytes
        An .xlsx file, such as `tracking.xlsx` filled in.
    name : str
        What to call the file in messages.
    limits : ReadingLimits
        Time and memory to read it in.

    Raises
    ------
    WorkbookRefused
        If the file is damaged, too large or built to do harm.
    LedgerFaulty
        If none of the sheets is there, or with every fault of headings and cells at once.

    Notes
    -----
    Rows of costs with the same day, vendor and document are one bill, split over their codes: net
    and tax are those of the whole bill, the sums of its rows. Rows of changes with the same day,
    number, reason and state are one change; rows of a day are one day sheet.
    """
    faults, notes = Faults(), list[str]()
    layouts = {one.title.lower(): one for one in ENTRY_SHEETS}
    sheets = [
        one
        for one in read_sheets(content, name, layouts, limits)
        if one.name.strip().lower() in layouts
    ]
    if not sheets:
        titles = ", ".join(one.title for one in ENTRY_SHEETS)
        faults.add(name, "has no sheet of entries", f"they are called {titles}")
    entries = [
        entry
        for sheet in sheets
        for entry in _entries(layouts[sheet.name.strip().lower()], sheet, faults, notes)
    ]
    turns = {one.kind: one.turn for one in ENTRY_SHEETS}
    in_turn = sorted(_joined(entries, faults), key=lambda one: turns[one.kind])
    faults.raise_if_any(LedgerFaulty)
    return TypedEntries(tuple(in_turn), tuple(notes))


def _entries(
    layout: EntrySheet, sheet: Sheet, faults: Faults, notes: list[str]
) -> Iterable[TypedEntry]:
    for row in headed_rows(sheet, layout.layout, faults, notes):
        if row.fields:
            yield _entry(layout, row, faults)


def _entry(layout: EntrySheet, row: HeadedRow, faults: Faults) -> TypedEntry:
    for heading, cell in row.fields.items():
        if layout.column(heading).offers == YES_NO and cell.text.strip().lower() not in (YES, NO):
            faults.add(cell.where, "is neither yes nor no", "write one of them")
    named = {heading: _field(heading) for heading in row.fields}
    body = {
        named[heading]: _value(cell, layout.column(heading)) for heading, cell in row.fields.items()
    }
    cells = {named[heading]: cell.where for heading, cell in row.fields.items()}
    return TypedEntry(layout.kind, body, row.where, cells)


def _field(heading: str) -> str:
    return heading.replace(" ", "_")


def _value(cell: Cell, column: EntryColumn) -> Any:
    text = cell.text.strip()
    if column.offers == YES_NO:
        return text.lower() == YES
    if column.reads == SEVERAL:
        return [one.strip() for one in text.split(",") if one.strip()]
    if column.reads == WHOLE and text.removeprefix("-").isdecimal() and len(text) < _DIGITS:
        return int(text)
    # a cell of a time of day shows its seconds; by hand one writes 7:02
    clock = _CLOCK.fullmatch(text)
    return f"{clock[1]:0>2}:{clock[2]}" if clock else text


def _joined(entries: Iterable[TypedEntry], faults: Faults) -> Iterable[TypedEntry]:
    """Yield the entries with the rows put together that are one."""
    together: dict[tuple[Any, ...], list[TypedEntry]] = {}
    for one in entries:
        joins = _JOINS[one.kind]
        key: tuple[Any, ...] = (one.where,)
        if joins is not None and (not joins.needs or joins.needs in one.body):
            key = (one.kind, *(one.body.get(field) for field in joins.by))
        together.setdefault(key, []).append(one)
    for rows in together.values():
        joins = _JOINS[rows[0].kind]
        yield rows[0] if joins is None else _one_entry(rows, joins, faults)


def _one_entry(rows: list[TypedEntry], joins: Joins, faults: Faults) -> TypedEntry:
    """Return the rows as one entry; net and tax of a bill are the sums of its rows."""
    is_bill = rows[0].kind == _COSTS and len(rows) > 1
    of_a_row = {*joins.parts, *(_ADDED_UP if is_bill else ())}
    body = _stated_once(rows, of_a_row, ", ".join(joins.by), faults)
    parts = [_part(one, joins) for one in rows]
    if is_bill:
        body |= _sums(rows)
        for part, one in zip(parts, rows, strict=True):
            part["amount"] = one.body.get("net", "0")
    body[joins.into] = [one for one in parts if one]
    return TypedEntry(rows[0].kind, body, rows[0].where, _cells(rows, joins))


def _part(row: TypedEntry, joins: Joins) -> dict[str, Any]:
    return {part: row.body[field] for field, part in joins.parts.items() if field in row.body}


def _stated_once(
    rows: list[TypedEntry], of_a_row: set[str], by: str, faults: Faults
) -> dict[str, Any]:
    """Return what the rows say of all of the entry, noting where they contradict each other."""
    body: dict[str, Any] = {}
    for one in rows:
        for field, value in one.body.items():
            if field not in of_a_row and body.setdefault(field, value) != value:
                remedy = f"rows of the same {by} are one entry: write it once"
                faults.add(one.cells[field], "is not what another row of the entry says", remedy)
    return body


def _cells(rows: list[TypedEntry], joins: Joins) -> dict[str, str]:
    """Return where each field stands, and each field of a part under its number."""
    cells = {field: where for one in reversed(rows) for field, where in one.cells.items()}
    with_part = [one for one in rows if _part(one, joins)]
    for place, one in enumerate(with_part):
        for field, part in joins.parts.items():
            cells[f"{joins.into}/{place}/{part}"] = one.cells.get(field, one.where)
    first = next((field for field in joins.parts if field in cells), "")
    return {**cells, joins.into: cells.get(first, rows[0].where)}


@exact_arithmetic
def _sums(rows: list[TypedEntry]) -> dict[str, str]:
    """Return net and tax of a bill: the sums of its rows, or what one of them has for a number."""
    sums = {}
    for field in _ADDED_UP:
        texts = [one.body[field] for one in rows if field in one.body]
        wrong = next((one for one in texts if not _AMOUNT.fullmatch(one)), None)
        sums[field] = f"{sum(map(Decimal, texts), Decimal(0)):f}" if wrong is None else wrong
    return {field: text for field, text in sums.items() if text != "0"}
