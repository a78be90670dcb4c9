"""Recalculates workbooks with LibreOffice, so that their formulas are judged by another program."""

import shutil
import subprocess
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook

Change = Mapping[tuple[str, str], float]
Rows = list[tuple[Any, ...]]


def recalculated(source: Path, folder: Path, changes: Change | None = None) -> dict[str, Rows]:
    """Return what one workbook shows once its formulas are calculated anew."""
    return all_recalculated({"one": (source, changes or {})}, folder)["one"]


def all_recalculated(
    books: Mapping[str, tuple[Path, Change]], folder: Path
) -> dict[str, dict[str, Rows]]:
    """Return what workbooks show once their formulas are calculated anew, by one start of it.

    The values that came with the formulas are thrown away first, so that none can be taken over.

    Parameters
    ----------
    books : mapping of str to (Path, mapping of (sheet, address) to float)
        Each workbook by a name, and its cells that are overwritten first.
    folder : Path
        For copies, and for a profile of its own: two runs must not share one.
    """
    program = shutil.which("soffice")
    if program is None:
        pytest.skip("LibreOffice (soffice) is not installed, and only it can recalculate a file")
    folder.mkdir(parents=True, exist_ok=True)
    bare = [
        _without_values(source, folder / f"bare {name}.xlsx", changes)
        for name, (source, changes) in books.items()
    ]
    subprocess.run(
        [
            program,
            f"-env:UserInstallation={(folder / 'profile').as_uri()}",
            "--headless",
            "--convert-to",
            "xlsx",
            "--outdir",
            str(folder / "calculated"),
            *map(str, bare),
        ],
        check=True,
        capture_output=True,
        timeout=240,
    )
    return {name: shown(folder / "calculated" / f"bare {name}.xlsx") for name in books}


def _without_values(source: Path, target: Path, changes: Change) -> Path:
    workbook = load_workbook(source)
    for (sheet, address), value in changes.items():
        workbook[sheet][address] = value
    workbook.save(target)
    return target


def shown(path: Path) -> dict[str, Rows]:
    """Return the values that stand in a workbook, by sheet."""
    workbook = load_workbook(path, data_only=True)
    return {sheet.title: list(sheet.iter_rows(values_only=True)) for sheet in workbook}


def row_of(rows: Rows, label: object, column: int = 0) -> tuple[Any, ...]:
    """Return the first row with a label in a column, counted from 0."""
    return next(row for row in rows if row[column] == label)


def cents(value: float | None) -> int:
    """Return dollars that a sheet shows as whole cents; a sum may sit a hair beside them."""
    amount = round((value or 0) * 100)
    assert abs((value or 0) * 100 - amount) < 1e-4, f"{value} is not a whole number of cents"
    return amount
