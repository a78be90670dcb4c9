"""A folder of rate tables: which files and columns there are, and how their rows are read."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from importlib.resources import files
from pathlib import Path

from estimator.errors import Faults, did_you_mean, quoted
from estimator.rates.rows import LONGEST_CELL, Origin, Row

LARGEST_FILE_BYTES = 20_000_000

COLUMNS: dict[str, tuple[str, ...]] = {
    "resources.csv": (
        "code", "name", "kind", "unit", "rate", "low", "high", "date", "valid_until", "paid",
        "source", "note",
    ),
    "crews.csv": (
        "crew", "resource", "number", "order_multiple", "ordered_per", "source", "note",
    ),
    "assemblies.csv": (
        "code", "name", "unit", "quantity", "crew", "element", "credit", "cautions", "source",
        "note",
    ),
    "assembly_inputs.csv": (
        "assembly", "input", "unit", "default", "least", "most", "formula", "meaning", "source",
        "note",
    ),
    "assembly_lines.csv": (
        "assembly", "line", "resource", "formula", "waste", "order_multiple", "ordered_per",
        "minimum", "source", "note",
    ),
    "markups.csv": ("code", "name", "order", "percent", "sum", "on", "source", "note"),
    "densities.csv": ("material", "density", "unit", "state", "date", "source", "note"),
    "unit_precision.csv": ("unit", "decimals", "source", "note"),
    "cautions.csv": ("code", "caution", "defer_to", "source", "note"),
}  # fmt: skip


@dataclass(frozen=True)
class TableFolder:
    """One set of tables: what people call it, and the folder that holds it."""

    name: str
    path: Path


def shipped_tables() -> TableFolder:
    """Return the set of tables that is installed with the program."""
    return TableFolder("shipped", Path(str(files("groundsill_rates"))))


def table_rows(folders: Sequence[TableFolder], file: str, faults: Faults) -> Iterator[Row]:
    """Yield the rows of one table from a stack of sets, lowest set first.

    Parameters
    ----------
    folders : sequence of TableFolder
        Lowest first: shipped, then regional, then project quotes.
    file : str
        One of the keys of `COLUMNS`.
    faults : Faults
        Where the faults of files and columns are noted.
    """
    for folder in folders:
        path = folder.path / file
        if path.is_file():
            yield from _file_rows(folder, path, faults)


def check_folder(folder: TableFolder, faults: Faults) -> None:
    """Note it where a folder is missing, holds no table, or a file whose name is not a table's."""
    place = f"folder {quoted(folder.path)}"
    if not folder.path.is_dir():
        faults.add(place, "is not a folder of rate tables")
        return
    found = sorted(path.name for path in folder.path.glob("*.csv"))
    if not found:
        faults.add(place, "holds no rate table", "docs/rate-tables.md lists the file names")
    for name in found:
        if name not in COLUMNS:
            faults.add(place, f"{quoted(name)} is not a rate table", did_you_mean(name, COLUMNS))


def _file_rows(folder: TableFolder, path: Path, faults: Faults) -> Iterator[Row]:
    place = f"{folder.name} {path.name}"
    text = _file_text(path, place, faults)
    if text is None:
        return
    reader = csv.reader(io.StringIO(text, newline=""), strict=True)
    number = 1
    try:
        header = [cell.strip() for cell in next(reader, [])]
        if not _header_fits(header, COLUMNS[path.name], place, faults):
            return
        for number, cells in enumerate(reader, start=2):
            if any(cell.strip() for cell in cells):
                origin = Origin(folder.name, path.name, number)
                if _cells_fit(cells, header, origin, faults):
                    stripped = (cell.strip() for cell in cells)
                    yield Row(dict(zip(header, stripped, strict=True)), origin, faults)
    except csv.Error as error:
        faults.add(f"{place} after row {number}", f"is not CSV: {error}")


def _file_text(path: Path, place: str, faults: Faults) -> str | None:
    if path.stat().st_size > LARGEST_FILE_BYTES:
        faults.add(place, "is larger than 20 MB")
        return None
    try:
        return path.read_text(encoding="utf-8-sig")
    except UnicodeDecodeError as error:
        faults.add(place, f"is not UTF-8 text at byte {error.start}", "save it as CSV UTF-8")
        return None


def _header_fits(header: Sequence[str], columns: Sequence[str], place: str, faults: Faults) -> bool:
    if not header:
        faults.add(place, "is empty", "its first row names the columns: " + ",".join(columns))
        return False
    for missing in [column for column in columns if column not in header]:
        faults.add(f"{place} row 1", f"has no column {quoted(missing)}")
    for strange in [column for column in header if column not in columns]:
        faults.add(
            f"{place} row 1", f"has an unknown column {quoted(strange)}",
            did_you_mean(strange, columns),
        )  # fmt: skip
    if len(set(header)) < len(header):
        faults.add(f"{place} row 1", "names a column twice")
    return sorted(header) == sorted(columns)


def _cells_fit(cells: list[str], header: Sequence[str], origin: Origin, faults: Faults) -> bool:
    if len(cells) != len(header):
        faults.add(str(origin), f"has {len(cells)} cells where the table has {len(header)} columns")
        return False
    for column, cell in zip(header, cells, strict=True):
        if len(cell) > LONGEST_CELL:
            faults.add(str(origin), f"{column} is longer than {LONGEST_CELL} characters")
            return False
        if not all(c.isprintable() for c in cell.strip()):
            faults.add(str(origin), f"{column} has control characters", "type the text again")
            return False
    return True
