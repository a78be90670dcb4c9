"""A sheet as a table: headings in its first row that is not blank, then rows of fields."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from estimator.errors import Faults, did_you_mean, is_near, quoted
from estimator.workbook.reading.workbook_rows import Cell, Sheet, SheetRow, column_letters

_SPOILED = {
    "formula": (
        "is a formula whose result the file does not hold",
        "open it in a spreadsheet program and save it again, or type the result",
    ),
    "boolean": ("holds {text} as a yes-or-no value", "format the cell as text and type it again"),
    "error": ("holds {text}, which is not a value", "type what should stand there"),
}


@dataclass(frozen=True)
class Layout:
    """The columns of a sheet.

    Parameters
    ----------
    required : tuple of str
        Headings that must be there, in lower case.
    optional : tuple of str
        Headings that may be there.
    numbered : tuple of str
        Headings that repeat with a number from 1 to 99: `input` stands for `input 1`, `input 2` ...
    """

    required: tuple[str, ...]
    optional: tuple[str, ...] = ()
    numbered: tuple[str, ...] = ()

    @property
    def usual(self) -> tuple[str, ...]:
        """Headings for suggestions."""
        return (*self.required, *self.optional, *(f"{word} 1" for word in self.numbered))

    def knows(self, heading: str) -> bool:
        """Whether a heading, in lower case, belongs to the sheet."""
        word, _, number = heading.rpartition(" ")
        is_numbered = word in self.numbered and bool(re.fullmatch("[1-9][0-9]?", number))
        return is_numbered or heading in self.required or heading in self.optional


@dataclass(frozen=True)
class HeadedRow:
    """The fields of a row by heading, in the order of columns; blank cells are not among them.

    Not whole if a cell holds no value that can be read; it is not among the fields either.
    """

    fields: Mapping[str, Cell]
    where: str
    is_whole: bool = True


def headed_rows(
    sheet: Sheet, layout: Layout, faults: Faults, notes: list[str]
) -> Iterator[HeadedRow]:
    """Yield the rows below the headings, noting faults of headings and cells.

    A cell that holds no value that can be read is noted and left out. Columns that are not of the
    layout are somebody's own: they are set aside, which `notes` says.
    """
    for cells in sheet.merged:
        remedy = "unmerge them, and write into each row what belongs to it"
        faults.add(sheet.where, f"merges the cells {cells}", remedy)
    if not sheet.rows:
        remedy = "its first row names the columns: " + ", ".join(layout.required)
        faults.add(sheet.where, "is empty", remedy)
        return
    headings = _headings(sheet.rows[0], layout, faults, notes)
    own = {cell for row in sheet.rows[1:] for cell in row.cells if cell not in headings}
    if own:
        columns = ", ".join(map(column_letters, sorted(own)))
        notes.append(f"{sheet.where}: without a heading, so not read: {columns}")
    for row in sheet.rows[1:]:
        before = faults.count
        fields = dict(_fields(row, headings, faults))
        yield HeadedRow(fields, row.where, faults.count == before)


def has_headings(sheet: Sheet, layout: Layout) -> bool:
    """Tell whether a sheet has all headings that it must have."""
    first = sheet.rows[0].cells.values() if sheet.rows else ()
    return {*layout.required} <= {_heading(cell) for cell in first}


def _heading(cell: Cell) -> str:
    return " ".join(cell.text.lower().split())


def _headings(row: SheetRow, layout: Layout, faults: Faults, notes: list[str]) -> dict[int, str]:
    """Return the headings by column; empty for those that are wrong or somebody's own."""
    headings: dict[int, str] = {}
    for column, cell in row.cells.items():
        heading = _heading(cell)
        if not layout.knows(heading) and is_near(heading, layout.usual):
            remedy = did_you_mean(heading, layout.usual)
            faults.add(cell.where, f"has the unknown heading {quoted(cell.text)}", remedy)
            heading = ""
        elif not layout.knows(heading):
            notes.append(f"{cell.where}: the column {quoted(cell.text)} is not read")
            heading = ""
        elif heading in headings.values():
            faults.add(cell.where, f"repeats the heading {quoted(cell.text)}")
            heading = ""
        headings[column] = heading
    for missing in layout.required:
        if missing not in headings.values():
            faults.add(row.where, f"has no heading {quoted(missing)}")
    return headings


def _fields(
    row: SheetRow, headings: Mapping[int, str], faults: Faults
) -> Iterator[tuple[str, Cell]]:
    for column, cell in row.cells.items():
        if not headings.get(column):
            continue
        if cell.kind in _SPOILED:
            what, remedy = _SPOILED[cell.kind]
            faults.add(cell.where, what.format(text=quoted(cell.text)), remedy)
        else:
            yield headings[column], cell
