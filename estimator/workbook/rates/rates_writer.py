"""Rate tables as a workbook: one sheet a table, its rows where the CSV file has them.

Row 12 of a sheet is row 12 of the file, so a problem is at the same place in both.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from pathlib import Path

from estimator.errors import Faults, TablesFaulty
from estimator.rates.folders import COLUMNS, TableFolder, check_folder, table_rows
from estimator.rates.rows import EARLIEST
from estimator.workbook.rates.column_numbers import day_of
from estimator.workbook.rates.rate_sheet import Table, write_table_sheet
from estimator.workbook.writing.workbook_bytes import workbook_bytes
from estimator.written_files import write_files


def write_rates_workbook(folder: TableFolder, path: Path, *, force: bool = False) -> None:
    """Write all tables of a folder as a workbook; the same tables give the same bytes.

    Parameters
    ----------
    folder : TableFolder
        A set of tables; it need not hold all of them.
    path : Path
        The file; its folder must exist. One that the program wrote before is replaced.
    force : bool
        Whether to write over a file that the program did not make, or that was changed since.

    Raises
    ------
    TablesFaulty
        If a table cannot be read row by row. Rows whose cells are wrong are written as they are.
    FileNotWritten
        If the file cannot or may not be written.
    """
    write_files({path: rates_workbook_bytes(folder)}, force=force)


def rates_workbook_bytes(folder: TableFolder) -> bytes:
    """Return the workbook of a folder of tables as the bytes of a file.

    Notes
    -----
    It is dated with the newest date in the tables, so that it does not depend on the clock.
    """
    from openpyxl import Workbook

    tables = _tables(folder)
    workbook: Workbook = Workbook()
    workbook.remove(workbook.worksheets[0])
    for table in tables:
        write_table_sheet(workbook.create_sheet(Path(table.file).stem), table, folder.name)
    workbook.properties.title = f"Rate tables: {folder.name}"
    return workbook_bytes(workbook, _newest_day(tables))


def _tables(folder: TableFolder) -> list[Table]:
    faults = Faults()
    check_folder(folder, faults)
    tables = [
        Table(file, tuple(table_rows([folder], file, faults)))
        for file in COLUMNS
        if folder.has(file)
    ]
    faults.raise_if_any(TablesFaulty)
    return tables


def _newest_day(tables: Sequence[Table]) -> date:
    days = [day_of(row.cells.get("date", "")) for table in tables for row in table.rows]
    return max((day for day in days if day is not None), default=EARLIEST)
