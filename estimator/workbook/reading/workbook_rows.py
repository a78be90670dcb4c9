"""The sheets of a workbook as rows of text cells, read safely: guarded, in a process of its own."""

from __future__ import annotations

import json
import sys
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field
from importlib.util import find_spec
from pathlib import Path
from typing import Any, NamedTuple

from estimator.errors import WorkbookRefused, fault
from estimator.workbook.reading.guard import refuse_hostile
from estimator.workbook.reading.limits import USUAL_LIMITS, ReadingLimits
from estimator.workbook.reading.watched import run_watched

_ROOT = Path(__file__).resolve().parents[3]
_CHILD = (
    "import sys; sys.path += sys.argv.pop(1), sys.argv.pop(1); "
    "from estimator.workbook.reading.child import main; sys.exit(main())"
)


class Cell(NamedTuple):
    """What a cell shows, as text.

    Parameters
    ----------
    text : str
        `20`, `70 %`, `2026-03-02`, `TRUE`.
    kind : str
        `text`, `number`, `percent`, `date`, `boolean`, `error` (its text is the error), or
        `formula`: one whose result the file does not hold.
    sheet : str
        File and sheet, `barn.xlsx Items`.
    row, column : int
        From 1.
    """

    text: str
    kind: str
    sheet: str
    row: int
    column: int

    @property
    def where(self) -> str:
        """File, sheet and address: `barn.xlsx Items D5`."""
        return f"{self.sheet} {column_letters(self.column)}{self.row}"


@dataclass(frozen=True)
class SheetRow:
    """A row with content: its number as the spreadsheet counts, its cells by column from 1."""

    number: int
    cells: Mapping[int, Cell]
    where: str


@dataclass
class Sheet:
    """A sheet: its rows that are not blank, and the ranges of cells that are merged.

    Sheets that are not needed have their name only.
    """

    name: str
    where: str
    rows: list[SheetRow] = field(default_factory=list)
    merged: list[str] = field(default_factory=list)


def read_sheets(
    content: bytes, name: str, wanted: Collection[str], limits: ReadingLimits = USUAL_LIMITS
) -> tuple[Sheet, ...]:
    """Return all sheets of a workbook, those that are wanted with their rows.

    Parameters
    ----------
    content : bytes
        The file.
    name : str
        What to call the file in messages.
    wanted : collection of str
        Names of the sheets to read; capitals do not matter.
    limits : ReadingLimits
        Time and memory to read it in.

    Raises
    ------
    WorkbookRefused
        If it is damaged, too large or built to do harm, with one sentence.

    Notes
    -----
    Hidden rows, columns and sheets are read like others. Formulas are not worked out: their stored
    results are taken.
    """
    refuse_hostile(content, name, wanted)
    return _sheets(_child_rows(content, name, wanted, limits), name)


def _child_rows(
    content: bytes, name: str, wanted: Collection[str], limits: ReadingLimits
) -> list[Any]:
    """Return the rows that the reading process writes; no environment reaches into it."""
    names = sorted(word.lower() for word in wanted)
    folders = (str(_ROOT), _folder_of("openpyxl"))
    child = run_watched(
        [sys.executable, "-I", "-S", "-c", _CHILD, *folders, *names], content, limits
    )
    if child is None:
        raise _too_costly(name)
    ending = child.output.rstrip().rpartition(b"\n")[2]
    if child.exit_code == 1 and ending.startswith(b'["refused"'):
        raise fault(WorkbookRefused, json.loads(ending)[1], where=name)
    if child.exit_code or ending != b'["end"]':
        raise _too_costly(name)
    return list(json.loads(b"[" + b",".join(child.output.splitlines()) + b"]"))


def _folder_of(package: str) -> str:
    """Return the folder that a package is installed in, without loading it."""
    spec = find_spec(package)
    if spec is None or spec.origin is None:
        raise ModuleNotFoundError(name=package)
    return str(Path(spec.origin).parents[1])


def _too_costly(name: str) -> Exception:
    return fault(
        WorkbookRefused,
        "is damaged, or takes too much time or memory to read",
        "open it in a spreadsheet program and save it again",
        where=name,
    )


def _sheets(parts: Sequence[Any], name: str) -> tuple[Sheet, ...]:
    sheets: list[Sheet] = []
    for kind, *what in parts:
        if kind == "sheet":
            sheets.append(Sheet(what[0], f"{name} {what[0]}"))
        elif kind == "merged":
            sheets[-1].merged.append(what[0])
        elif kind == "row":
            sheets[-1].rows.append(_row(sheets[-1], *what))
    return tuple(sheets)


def _row(sheet: Sheet, number: int, parts: Sequence[Sequence[Any]]) -> SheetRow:
    cells = {
        column: Cell(text, kind, sheet.where, number, column)
        for column, kind, text in parts
        if text.strip()
    }
    return SheetRow(number, cells, f"{sheet.where} row {number}")


def column_letters(column: int) -> str:
    """Return the letters of a column, which count from 1.

    Examples
    --------
    >>> column_letters(4), column_letters(60)
    ('D', 'BH')
    """
    letters = ""
    while column:
        column, rest = divmod(column - 1, 26)
        letters = chr(65 + rest) + letters
    return letters
