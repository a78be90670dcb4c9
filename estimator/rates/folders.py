"""A folder of rate tables: which files and columns there are, and how their rows are read."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from importlib.resources import files
from pathlib import Path
from typing import TYPE_CHECKING

from estimator.errors import Faults, did_you_mean, quoted

if TYPE_CHECKING:
    from estimator.rates.rows import Row

SHIPPED = "shipped"
QUOTES = "quotes"

COLUMNS: dict[str, tuple[str, ...]] = {
    "resources.csv": (
        "code", "name", "kind", "unit", "rate", "low", "high", "date", "valid_until", "paid",
        "source", "note",
    ),
    "rents.csv": (
        "resource", "week", "month", "delivery", "pick_up", "brought_by", "included_hours",
        "over_hour", "date", "valid_until", "source", "note",
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
    "own_material.csv": (
        "assembly", "material", "formula", "sold_as", "bought_as", "source", "note",
    ),
    "markups.csv": ("code", "name", "order", "percent", "sum", "on", "source", "note"),
    "densities.csv": ("material", "density", "unit", "state", "date", "source", "note"),
    "unit_precision.csv": ("unit", "decimals", "source", "note"),
    "cautions.csv": ("code", "caution", "defer_to", "source", "note"),
}  # fmt: skip


@dataclass(frozen=True)
class TableFolder:
    """One set of tables: what people call it, and the folder that holds it.

    Parameters
    ----------
    name : str
        Such as `quotes`; messages name it.
    path : Path
        The folder.
    texts : mapping of str to str, optional
        Texts of CSV by file name, in place of a folder: tables that stand in a database.
    """

    name: str
    path: Path = Path()
    texts: Mapping[str, str] | None = None

    def has(self, file: str) -> bool:
        """Tell whether the set has a table."""
        return (self.path / file).is_file() if self.texts is None else file in self.texts

    def content(self, file: str) -> bytes:
        """Return what a table of the set holds, as it stands there."""
        if self.texts is None:
            return (self.path / file).read_bytes()
        return self.texts[file].encode()


def shipped_tables() -> TableFolder:
    """Return the set of tables that is installed with the program."""
    return TableFolder(SHIPPED, Path(str(files("groundsill_rates"))))


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
    # Loaded with the first table: who only names a set of tables needs no arrays.
    from estimator.rates.csv_file import csv_file_rows, csv_text_rows

    for folder in folders:
        if folder.texts is not None and file in folder.texts:
            yield from csv_text_rows(folder.texts[file], file, folder.name, COLUMNS[file], faults)
        elif folder.has(file):
            yield from csv_file_rows(folder.path / file, folder.name, COLUMNS[file], faults)


def keyed_rows(
    folders: Sequence[TableFolder], file: str, key: str, what: str, faults: Faults
) -> Iterator[tuple[str, Row]]:
    """Yield the rows of a table with their codes, noting a code that a set repeats.

    A later row wins over an earlier one of the same code, and so a higher set over a lower.

    Parameters
    ----------
    folders, file, faults : sequence of TableFolder, str, Faults
        As for `table_rows`.
    key : str
        The column of the code.
    what : str
        What a row is, for messages.
    """
    last: dict[str, Row] = {}
    for row in table_rows(folders, file, faults):
        code = row.code(key)
        known = last.get(code)
        if known and known.origin.tables == row.origin.tables:
            row.fault(f"repeats {what} {quoted(code)} of row {known.origin.row}")
        last[code] = row
        yield code, row


def check_folder(folder: TableFolder, faults: Faults) -> None:
    """Note it where a folder is missing, holds no table, or a file whose name is not a table's."""
    place = f"folder {quoted(folder.path)}" if folder.texts is None else folder.name
    if folder.texts is None and not folder.path.is_dir():
        faults.add(place, "is not a folder of rate tables")
        return
    paths = folder.path.glob("*.csv")
    names = sorted([path.name for path in paths] if folder.texts is None else folder.texts)
    if not names:
        faults.add(place, "holds no rate table", "docs/rate-tables.md lists the file names")
    for name in names:
        if name not in COLUMNS:
            faults.add(place, f"{quoted(name)} is not a rate table", did_you_mean(name, COLUMNS))
