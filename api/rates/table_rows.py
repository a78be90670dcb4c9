"""Rows of rate tables as they come in: texts of CSV, a workbook, or cells by column."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from api.calculations.rate_tables import sent_folders
from api.contract.bodies import check_how_many, upload_limits
from api.contract.places import pointer
from api.rates.stored_tables import Cells, row_key
from api.store.errors import AlreadyThere
from estimator.errors import Faults, TablesFaulty, did_you_mean, quoted

Rows = dict[str, list[dict[str, str]]]


def rows_of_texts(texts: Mapping[str, str]) -> Rows:
    """Return the rows of texts of CSV by file, in their order.

    Raises
    ------
    TablesFaulty
        If a name is no table's or a text no table; what the cells say is not looked at.
    """
    from estimator.rates.folders import COLUMNS, table_rows

    faults = Faults()
    for name in texts:
        if name not in COLUMNS:
            faults.add("", f"{quoted(name)} is not a rate table", did_you_mean(name, COLUMNS))
    faults.raise_if_any(TablesFaulty)
    tables: Rows = {}
    for file in sorted(texts):
        rows = table_rows(sent_folders({"sent": texts}), file, faults)
        tables[file] = [{name: row.cells[name] for name in COLUMNS[file]} for row in rows]
    faults.raise_if_any(TablesFaulty)
    return tables


def rows_of_workbook(content: bytes) -> Rows:
    """Return the rows of a workbook of rate tables, read by a process of its own and checked.

    Raises
    ------
    TablesFaulty, WorkbookRefused
        With every fault by sheet and row.
    """
    from estimator.rates.folders import COLUMNS
    from estimator.workbook.rates.rates_reader import read_rates_workbook

    tables = read_rates_workbook(content, "rates.xlsx", upload_limits())
    check_how_many(sum(map(len, tables.values())), "workbook", "rows")
    return {
        file: [{name: cells.get(name, "") for name in COLUMNS[file]} for cells in rows.values()]
        for file, rows in tables.items()
    }


def blank_texts() -> dict[str, str]:
    """Return every table with its columns and no row, to be filled in."""
    from estimator.rates.folders import COLUMNS
    from estimator.rates.written_folder import table_text

    return {file: table_text(columns, []) for file, columns in COLUMNS.items()}


def fitting_cells(file: str, cells: Cells, place: str, faults: Faults) -> dict[str, str]:
    """Return the cells of a row with every column of its table, and note what does not fit.

    Parameters
    ----------
    file : str
        The table.
    cells : mapping of str to str
        By column; what is left out is empty.
    place : str
        The pointer to the cells.
    faults : Faults
        Where faults are noted.
    """
    from estimator.rates.folders import COLUMNS
    from estimator.studies.difference.rates_difference import KEYS

    columns = COLUMNS[file]
    for name in cells:
        if name not in columns:
            what = f"{quoted(name)} is not a column of {file}"
            faults.add(pointer(name, of=place), what, did_you_mean(name, columns))
    for name in KEYS[file]:
        if not cells.get(name, "").strip():
            faults.add(pointer(name, of=place), "is missing: it tells the row from others")
    return {name: cells.get(name, "").strip() for name in columns}


def refuse_repeated(
    there: Iterable[tuple[str, str]], fresh: Sequence[tuple[str, Cells]], places: Sequence[str]
) -> None:
    """Refuse rows that say the same of themselves as others: of the same code and date.

    Parameters
    ----------
    there : iterable of (str, str)
        File and key of the rows that stay.
    fresh : sequence of (str, mapping)
        File and cells of the rows that come.
    places : sequence of str
        The pointer to each of these.

    Raises
    ------
    AlreadyThere
        Naming all of them.
    """
    known, faults = set(there), Faults()
    for (file, cells), place in zip(fresh, places, strict=True):
        key = file, row_key(file, cells)
        if key in known:
            faults.add(place, f"{file} has a row {quoted(key[1])} already", "change that one")
        known.add(key)
    faults.raise_if_any(AlreadyThere)
