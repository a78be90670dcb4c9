"""A process of its own that reads the sheets of a workbook and writes their cells as JSON lines.

It runs apart from the program that asks, which watches the memory and time that it takes
(`watched.py`): should a workbook get past the guard and still do harm, only this process ends.

In: the workbook on standard input; as arguments the names of the sheets to read (lower case).
Out: `["sheet", name]` for every sheet; for those to be read also `["row", number, [[column, kind,
text], ...]]` for rows with content and `["merged", "A1:B2"]`; at the end `["end"]`. A workbook
that cannot be read gives `["refused", what]` and the exit code 1.
"""

from __future__ import annotations

import io
import json
import re
import sys
import warnings
import zipfile
from collections.abc import Callable, Iterator, Sequence
from typing import TYPE_CHECKING, Any
from xml.etree.ElementTree import ParseError

from estimator.workbook.reading.shown_value import MOST_COLUMNS, MOST_ROWS, shown_value

if TYPE_CHECKING:
    from openpyxl import Workbook

MOST_CHARACTERS = 20_000_000
LONGEST_TEXT = 32_767

# What openpyxl would load if it is there: slow to start, large, and of no use for reading cells.
_NOT_LOADED = ("numpy", "lxml", "PIL")

_MERGED = re.compile(rb"""<(?:[\w.-]+:)?mergeCell\s[^<>]*?ref\s*=\s*["']([\w:$]{0,20})""")
_ROW = re.compile(rb"<(?:[\w.-]+:)?row(?=[\s/>])([^<>]*)")
_ROW_NUMBER = re.compile(rb"""\sr\s*=\s*["'](\d{1,7})["']""")
_FORMULA = re.compile(rb"<(?:[\w.-]+:)?f[\s/>]")


class Refused(Exception):
    """The workbook cannot be read; says why, in the words that follow its name."""


def read(content: bytes, wanted: set[str], tell: Callable[..., None]) -> None:
    """Tell every sheet of a workbook, and the cells of the wanted ones.

    Raises
    ------
    Refused
        Saying what is wrong with the workbook.
    """
    try:
        with warnings.catch_warnings(action="ignore"):
            _read(content, wanted, tell)
    except (Refused, MemoryError):
        raise
    except Exception as error:
        raise Refused(_why(error)) from error


def _why(error: Exception) -> str:
    if isinstance(error, ParseError):
        return "is damaged: it is not XML inside"
    if isinstance(error, KeyError):
        return "is damaged: a part of it is missing"
    if isinstance(error, IndexError):
        return "is damaged: a text inside is missing"
    if isinstance(error, OSError):
        return "is an archive, but not a workbook"
    return "is damaged: something inside is not what it should be"


def _read(content: bytes, wanted: set[str], tell: Callable[..., None]) -> None:
    values = _loaded(content, data_only=True)
    formulas: Workbook | None = None
    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        for number, sheet in enumerate(values.worksheets):
            tell("sheet", sheet.title)
            if sheet.title.strip().lower() not in wanted:
                continue
            # openpyxl reads row by row only without merged ranges; they are searched for instead.
            data = archive.read(sheet._worksheet_path)  # type: ignore[attr-defined]
            _refuse_disorder(data)
            with_formulas = None
            if _FORMULA.search(data):
                formulas = formulas or _loaded(content, data_only=False)
                with_formulas = formulas.worksheets[number]
            _tell_rows(sheet, with_formulas, tell)
            for merged in _MERGED.findall(data):
                tell("merged", merged.decode())
    for chart in values.chartsheets:
        tell("sheet", chart.title)
    tell("end")


def _refuse_disorder(data: bytes) -> None:
    """Refuse rows that stand twice or before their place: openpyxl would leave them out unsaid."""
    last = 0
    for row in _ROW.finditer(data):
        match = _ROW_NUMBER.search(row[1])
        number = int(match[1]) if match else last + 1
        if number <= last:
            raise Refused(f"is damaged: its row {number} is not in its place")
        last = number


def _loaded(content: bytes, *, data_only: bool) -> Workbook:
    from openpyxl import load_workbook

    return load_workbook(io.BytesIO(content), read_only=True, data_only=data_only, keep_links=False)


def _tell_rows(sheet: Any, with_formulas: Any, tell: Callable[..., None]) -> None:
    """Tell the rows of a sheet; its twin, if any, holds formulas in place of their results."""
    twins = _rows(sheet if with_formulas is None else with_formulas)
    for number, (row, twin) in enumerate(zip(_rows(sheet), twins, strict=True), start=1):
        cells = [
            (column, *shown)
            for column, (cell, other) in enumerate(zip(row, twin, strict=True), start=1)
            if (shown := _shown(cell, other, number, column)) is not None
        ]
        if cells:
            tell("row", number, cells)


def _rows(sheet: Any) -> Iterator[Sequence[Any]]:
    """Return the rows in reach and what stands just beyond; the extent may be a lie."""
    sheet.reset_dimensions()
    return iter(sheet.iter_rows(max_row=MOST_ROWS + 1, max_col=MOST_COLUMNS + 1))


def _shown(cell: Any, twin: Any, row: int, column: int) -> tuple[str, str] | None:
    value = cell.value
    if value is None:
        # A formula whose result is the empty text has the kind of a text, and no value.
        is_open = twin.data_type == "f" and cell.data_type != "str"
        return ("formula", "formula") if is_open else None
    if row > MOST_ROWS or column > MOST_COLUMNS:
        raise Refused(f"reaches beyond {MOST_ROWS:,} rows and {MOST_COLUMNS} columns")
    if cell.row != row:
        raise Refused("is damaged: a cell is not in its place")
    if cell.data_type == "e":
        return "error", str(value)
    if isinstance(value, str) and len(value) > LONGEST_TEXT:
        raise Refused("holds more text in a cell than a cell can hold")
    return shown_value(value, cell.number_format)


def _teller() -> Callable[..., None]:
    encode = json.JSONEncoder(separators=(",", ":")).encode
    characters = 0

    def tell(*what: object) -> None:
        nonlocal characters
        line = encode(what)
        characters += len(line)
        if characters > MOST_CHARACTERS:
            raise Refused("holds too much text to be a scope")
        sys.stdout.write(line + "\n")

    return tell


def main() -> int:
    """Read a workbook from standard input; return the exit code."""
    sys.modules.update(dict.fromkeys(_NOT_LOADED))  # type: ignore[arg-type]
    try:
        read(sys.stdin.buffer.read(), set(sys.argv[1:]), _teller())
    except Refused as refusal:
        sys.stdout.write(json.dumps(["refused", str(refusal)]) + "\n")
        return 1
    return 0


if __name__ == "__main__":
    sys.exit(main())
