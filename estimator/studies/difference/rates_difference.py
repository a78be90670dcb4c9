"""What changed between two sets of rate tables, row by row, as pricing would see it.

Each set is a stack of folders: a folder of your own over the shipped tables. Compared are the rows
that can price something, whatever folder they stand in: a set compared with a copy of itself has
no change, and a folder that holds only resources takes nothing away from the assemblies below it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Literal

from estimator.assemblies.tables import Tables, load_tables
from estimator.errors import Faults, RateMissing
from estimator.money import exact_arithmetic
from estimator.rates.folders import COLUMNS, TableFolder, table_rows
from estimator.rates.resources import RateTable
from estimator.rates.rows import Row

# What tells the rows of a table apart; where the highest set replaces more than one row at once,
# it does so by the first of these.
KEYS: Mapping[str, tuple[str, ...]] = {
    "resources.csv": ("code", "date"),
    "rents.csv": ("resource", "date"),
    "crews.csv": ("crew", "resource"),
    "assemblies.csv": ("code",),
    "assembly_inputs.csv": ("assembly", "input"),
    "assembly_lines.csv": ("assembly", "line"),
    "own_material.csv": ("assembly", "material"),
    "markups.csv": ("code",),
    "densities.csv": ("material",),
    "unit_precision.csv": ("unit",),
    "cautions.csv": ("code",),
}
_NUMBERS = frozenset({"rate", "low", "high"})

Cells = Mapping[str, str]
Key = tuple[str, ...]


@dataclass(frozen=True)
class FieldChange:
    """A cell of a row that both sets have."""

    column: str
    old: str
    new: str


@exact_arithmetic
@dataclass(frozen=True)
class RowChange:
    """A row that is new, gone or different.

    Parameters
    ----------
    file : str
        The table.
    key : tuple of str
        What names the row: code and date of a resource, assembly and input, and so on.
    old, new : mapping of str to str, or None
        The cells before and after; None where there is no such row.
    old_rate, new_rate : Decimal or None
        [$/unit] For a row of resources: what the resource costs on the date of the row, before
        and after, whichever row says so; None in other tables, or where the resource has no rate.
    """

    file: str
    key: Key
    old: Cells | None
    new: Cells | None
    old_rate: Decimal | None = None
    new_rate: Decimal | None = None

    @property
    def manner(self) -> Literal["added", "removed", "changed"]:
        """Whether the row is `added`, `removed` or `changed`."""
        if self.old is None:
            return "added"
        return "removed" if self.new is None else "changed"

    @property
    def fields(self) -> tuple[FieldChange, ...]:
        """The cells that differ, in the order of the table; none unless the row is `changed`."""
        if self.old is None or self.new is None:
            return ()
        return tuple(
            FieldChange(column, self.old[column], self.new[column])
            for column in COLUMNS[self.file]
            if not _is_same(column, self.old[column], self.new[column])
        )

    @property
    def rate_change(self) -> Decimal | None:
        """By how much the rate rose, as a fraction of the old; None without two rates, or from 0.

        A rate that went from 36.00 to 37.80 rose by 0.05.
        """
        if self.new_rate is None or not self.old_rate:
            return None
        return self.new_rate / self.old_rate - 1


@dataclass(frozen=True)
class RatesDifference:
    """All changes between two sets.

    Parameters
    ----------
    before, after : Tables
        Both loaded and checked.
    changes : tuple of RowChange
        By table, then in the order of the rows; those that went come last.
    """

    before: Tables
    after: Tables
    changes: tuple[RowChange, ...]


def rates_difference(
    before: Sequence[TableFolder], after: Sequence[TableFolder]
) -> RatesDifference:
    """Return what changed between two stacks of folders, each lowest first.

    Raises
    ------
    TablesFaulty
        If one of the sets has faults, with all of them.

    Notes
    -----
    Numbers are compared as numbers: 36.5 and 36.50 are the same rate.
    """
    old, new = load_tables(before), load_tables(after)
    changes = [
        change
        for file in COLUMNS
        for change in _row_changes(file, _rows_in_force(before, file), _rows_in_force(after, file))
    ]
    return RatesDifference(
        old, new, tuple(_with_rates(one, old.rates, new.rates) for one in changes)
    )


def _rows_in_force(folders: Sequence[TableFolder], file: str) -> dict[Key, Cells]:
    """Return the rows that can price something, by key, in the order of the tables."""
    rows = list(table_rows(folders, file, Faults()))
    if file == "resources.csv":
        chosen = _dated_rows_in_force(folders, rows)
    else:
        replaced_by = "assemblies.csv" if file.startswith("assembly_") else file
        winners = _winners(folders, replaced_by)
        group = KEYS[file][0]
        chosen = [row for row in rows if winners.get(row.cells[group]) == row.origin.tables]
    return {tuple(row.cells[column] for column in KEYS[file]): row.cells for row in chosen}


def _winners(folders: Sequence[TableFolder], file: str) -> dict[str, str]:
    """Return the highest set that names each code."""
    rows = table_rows(folders, file, Faults())
    return {row.cells[KEYS[file][0]]: row.origin.tables for row in rows}


def _dated_rows_in_force(folders: Sequence[TableFolder], rows: Sequence[Row]) -> list[Row]:
    """Return rows of resources that price some day: those older than every row of a higher set."""
    level = {folder.name: position for position, folder in enumerate(folders)}
    first: dict[tuple[str, int], str] = {}
    for row in rows:
        key = row.cells["code"], level[row.origin.tables]
        first[key] = min(first.get(key, row.cells["date"]), row.cells["date"])
    return [
        row
        for row in rows
        if all(
            row.cells["date"] < first.get((row.cells["code"], higher), "9999")
            for higher in range(level[row.origin.tables] + 1, len(folders))
        )
    ]


def _row_changes(
    file: str, old: Mapping[Key, Cells], new: Mapping[Key, Cells]
) -> Iterator[RowChange]:
    for key, cells in new.items():
        change = RowChange(file, key, old.get(key), cells)
        if change.manner == "added" or change.fields:
            yield change
    for key, cells in old.items():
        if key not in new:
            yield RowChange(file, key, cells, None)


def _is_same(column: str, old: str, new: str) -> bool:
    if old == new:
        return True
    return column in _NUMBERS and "" not in (old, new) and _number(old) == _number(new)


def _number(text: str) -> Decimal:
    return Decimal(text.replace(",", ""))


def _with_rates(change: RowChange, old: RateTable, new: RateTable) -> RowChange:
    """Return a change of a resource with what it costs on that day, before and after."""
    if change.file != "resources.csv":
        return change
    code, day = change.key[0], date.fromisoformat(change.key[1])
    return RowChange(
        change.file,
        change.key,
        change.old,
        change.new,
        _rate(old, code, day),
        _rate(new, code, day),
    )


def _rate(rates: RateTable, code: str, on: date) -> Decimal | None:
    try:
        return rates.rate_on(code, on).rate
    except RateMissing:
        return None
