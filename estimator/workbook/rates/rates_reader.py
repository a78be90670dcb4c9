"""A workbook of rate tables read back into a folder of CSV files, whole or not at all.

All problems are reported together, by sheet and row: first what cells hold that no table can (a
formula without a result, an error, TRUE), then everything that the tables themselves ask for, as
if the new set were laid over the shipped one.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path

from estimator.assemblies.tables import read_tables
from estimator.errors import Faults, TablesFaulty, did_you_mean, quoted
from estimator.rates.csv_file import heading_fits
from estimator.rates.folders import COLUMNS, TableFolder, shipped_tables
from estimator.rates.written_folder import refuse_occupied, table_text, write_folder
from estimator.workbook.rates.column_numbers import DAY_COLUMNS, NUMBER_COLUMNS, number_text
from estimator.workbook.reading.guard import LARGEST_BYTES
from estimator.workbook.reading.limits import USUAL_LIMITS, ReadingLimits
from estimator.workbook.reading.workbook_rows import Cell, Sheet, SheetRow, read_sheets

IMPORTED = "imported"

_FILE_OF = {Path(file).stem: file for file in COLUMNS}
_PLACE = re.compile(rf"\b{IMPORTED} ({'|'.join(_FILE_OF)})\.csv\b")
_WORD = re.compile(r"\w+")
_NO_CELL = {
    "formula": ("is a formula without a result", "let a spreadsheet program work it out and save"),
    "error": ("holds an error", "correct the formula, or type the value"),
    "boolean": ("holds TRUE or FALSE", "write yes or no as text"),
    "percent": ("is shown as a percentage", "write it as a plain number"),
    "day": ("is a day", "set the cell to text and type it again"),
}

Rows = dict[int, dict[str, str]]


def import_rates_workbook(path: Path, folder: Path) -> dict[str, int]:
    """Write the tables of a workbook to a new folder of CSV files.

    Parameters
    ----------
    path : Path
        The workbook: one sheet a table, named like the file without `.csv`, headings in row 1.
        Tables that the set leaves to others need no sheet.
    folder : Path
        Must not exist, or be empty.

    Returns
    -------
    dict of str to int
        Rows by file.

    Raises
    ------
    TablesFaulty
        With every fault by sheet and row; nothing is written.
    WorkbookRefused
        If the workbook is damaged or built to do harm.
    """
    refuse_occupied(folder)
    with path.open("rb") as file:
        content = file.read(LARGEST_BYTES + 1)
    tables = read_rates_workbook(content, path.name)
    write_folder(folder, {name: _text(name, rows.values()) for name, rows in tables.items()})
    return {name: len(rows) for name, rows in tables.items()}


def read_rates_workbook(
    content: bytes, name: str, limits: ReadingLimits = USUAL_LIMITS
) -> dict[str, Rows]:
    """Return the rows of each table, by file and by the row's number in its sheet, all checked.

    Raises
    ------
    TablesFaulty
        With every fault by sheet and row.
    WorkbookRefused
        If the workbook is damaged or built to do harm.
    """
    faults = Faults()
    tables: dict[str, Rows | None] = {}
    for sheet in read_sheets(content, name, _FILE_OF, limits):
        file = _FILE_OF.get(sheet.name.strip().lower())
        if file is None:
            what = f"sheet {quoted(sheet.name)} is not a rate table"
            faults.add(name, what, did_you_mean(sheet.name, _FILE_OF))
        elif file in tables:
            faults.add(name, f"has two sheets for {file}", "keep one")
        else:
            tables[file] = _rows(sheet, COLUMNS[file], faults)
    if not tables and not faults.entries:
        faults.add(name, "holds no rate table", f"its sheets are called {', '.join(_FILE_OF)}")
    whole = {file: rows for file in COLUMNS if (rows := tables.get(file)) is not None}
    if whole and len(whole) == len(tables):
        _check_as_tables(whole, faults)
    faults.raise_if_any(TablesFaulty)
    return whole


def _rows(sheet: Sheet, columns: Sequence[str], faults: Faults) -> Rows | None:
    """Return the rows below the heading, as text by column name; None if the heading is wrong."""
    place = f"sheet {sheet.name}"
    for merged in sheet.merged:
        faults.add(f"{place} {merged}", "cells are merged", "unmerge them")
    if not sheet.rows or sheet.rows[0].number != 1:
        faults.add(f"{place} row 1", "has no headings", "they are " + ", ".join(columns))
        return None
    heading = {n: cell.text.strip() for n, cell in sheet.rows[0].cells.items()}
    if not heading_fits(list(heading.values()), columns, f"{place} row 1", faults):
        return None
    return {row.number: _row(row, heading, place, faults) for row in sheet.rows[1:]}


def _row(row: SheetRow, heading: Mapping[int, str], place: str, faults: Faults) -> dict[str, str]:
    texts: dict[str, str] = {}
    for number, cell in row.cells.items():
        where = f"{place} row {row.number}"
        if number not in heading:
            faults.add(where, f"{quoted(cell.text)} is in a column without heading",
                       "move it under a heading, or clear the cell")  # fmt: skip
        else:
            texts[heading[number]] = _text_of(cell, heading[number], where, faults)
    return texts


def _text_of(cell: Cell, column: str, where: str, faults: Faults) -> str:
    kind = "day" if cell.kind == "date" and column not in DAY_COLUMNS else cell.kind
    if kind in _NO_CELL:
        what, remedy = _NO_CELL[kind]
        shown = "" if kind == "formula" else f": {quoted(cell.text)}"
        faults.add(where, f"{column} {what}{shown}", remedy)
        return ""
    text = cell.text.strip()
    if kind == "number" and column in NUMBER_COLUMNS:
        return number_text(column, text)
    return text


def _check_as_tables(tables: Mapping[str, Rows], faults: Faults) -> None:
    """Note what the tables are faulted for when they are laid over the shipped ones.

    A cell that is faulted already reads as empty: what else is wrong with that column of its row,
    such as that it is missing, would only follow from that, and is left out.
    """
    reported = {(one.where, one.what.partition(" ")[0]) for one in faults.entries}
    of_tables = Faults()
    texts = {
        file: _text(file, [rows.get(n, {}) for n in range(2, max(rows, default=1) + 1)])
        for file, rows in tables.items()
    }
    read_tables([shipped_tables(), TableFolder(IMPORTED, texts=texts)], of_tables)
    for one in of_tables.entries:
        where, what = _in_sheets(one.where), _in_sheets(one.what)
        if not any((where, word) in reported for word in _WORD.findall(what)):
            faults.add(where, what, one.remedy)
    faults.more += of_tables.more


def _text(file: str, rows: Iterable[Mapping[str, str]]) -> str:
    return table_text(COLUMNS[file], rows)


def _in_sheets(words: str) -> str:
    """Return words about the file that is checked as words about the sheet it comes from."""
    return _PLACE.sub(lambda match: f"sheet {match[1]}", words)
