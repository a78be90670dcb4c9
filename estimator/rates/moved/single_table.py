"""One CSV table that stands by itself, outside of a folder of rate tables."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Sequence
from pathlib import Path

from estimator.errors import Faults
from estimator.rates.folders import _cells_fit, _file_text, _header_fits
from estimator.rates.rows import Origin, Row


def single_table_rows(
    path: Path, kind: str, columns: Sequence[str], faults: Faults
) -> Iterator[Row]:
    """Yield the rows of a CSV file, noting the faults of its file, columns and cells.

    Parameters
    ----------
    path : Path
        The file; missing is a fault.
    kind : str
        What it is, for messages: `index file`.
    columns : sequence of str
        All of them, in any order.
    faults : Faults
        Where faults are noted.
    """
    place = f"{kind} {path.name}"
    if not path.is_file():
        faults.add(place, "is not there")
        return
    text = _file_text(path, place, faults)
    if text is None:
        return
    reader = csv.reader(io.StringIO(text, newline=""), strict=True)
    number = 1
    try:
        header = [cell.strip() for cell in next(reader, [])]
        if not _header_fits(header, columns, place, faults):
            return
        for number, cells in enumerate(reader, start=2):
            origin = Origin(kind, path.name, number)
            if any(cell.strip() for cell in cells) and _cells_fit(cells, header, origin, faults):
                stripped = (cell.strip() for cell in cells)
                yield Row(dict(zip(header, stripped, strict=True)), origin, faults)
    except csv.Error as error:
        faults.add(f"{place} after row {number}", f"is not CSV: {error}")
