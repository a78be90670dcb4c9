"""Recalculates a workbook with LibreOffice, so that its formulas are judged by another program."""

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
    """Return what a workbook shows once its formulas are calculated anew.

    The values that came with the formulas are thrown away first, so that none can be taken over.

    Parameters
    ----------
    source : Path
        The workbook.
    folder : Path
        For a copy, and for a profile of its own: two runs must not share one.
    changes : mapping of (sheet, address) to float
        Cells that are overwritten first.
    """
    program = shutil.which("soffice")
    if program is None:
        pytest.skip("LibreOffice (soffice) is not installed, and only it can recalculate a file")
    folder.mkdir(parents=True, exist_ok=True)
    bare = _without_values(source, folder / "bare.xlsx", changes or {})
    subprocess.run(
        [
            program,
            f"-env:UserInstallation={(folder / 'profile').as_uri()}",
            "--headless",
            "--convert-to",
            "xlsx",
            "--outdir",
            str(folder / "calculated"),
            str(bare),
        ],
        check=True,
        capture_output=True,
        timeout=240,
    )
    return shown(folder / "calculated" / "bare.xlsx")


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
