"""The rows of one CSV file, with the faults of the file, its heading and its cells."""

from __future__ import annotations

import csv
import io
from collections import Counter
from collections.abc import Iterator, Sequence
from pathlib import Path

from estimator.errors import Faults, did_you_mean, how_many, quoted
from estimator.rates.rows import LONGEST_CELL, Origin, Row

LARGEST_FILE_BYTES = 20_000_000
# Columns that tables had not from the beginning.
LATER_COLUMNS = frozenset({"brought_by"})

_OTHER_SEPARATORS = {";": "semicolons", "\t": "tabs"}


def csv_file_rows(path: Path, kind: str, columns: Sequence[str], faults: Faults) -> Iterator[Row]:
    """Yield the rows of a CSV file that are not blank.

    Parameters
    ----------
    path : Path
        The file; missing is a fault.
    kind : str
        What it is, or which set it belongs to, for messages: `index file`, `quotes`.
    columns : sequence of str
        All of them, in any order.
    faults : Faults
        Where faults are noted, each with file and row as a spreadsheet counts.
    """
    text = _file_text(path, f"{kind} {path.name}", faults)
    if text is not None:
        yield from csv_text_rows(text, path.name, kind, columns, faults)


def csv_text_rows(
    text: str, file: str, kind: str, columns: Sequence[str], faults: Faults
) -> Iterator[Row]:
    """Yield the rows of the text of a CSV file that are not blank.

    Parameters
    ----------
    text : str
        What the file holds.
    file : str
        Its name.
    kind, columns, faults : str, sequence of str, Faults
        As for `csv_file_rows`.
    """
    place = f"{kind} {file}"
    reader = csv.reader(io.StringIO(text.removeprefix("\ufeff"), newline=None), strict=True)
    number = 1
    try:
        header = [cell.strip() for cell in next(reader, [])]
        if not _header_fits(header, columns, place, faults):
            return
        for number, cells in enumerate(reader, start=2):
            origin = Origin(kind, file, number)
            if any(cell.strip() for cell in cells) and _cells_fit(cells, header, origin, faults):
                stripped = (cell.strip() for cell in cells)
                cells_of = dict(zip(header, stripped, strict=True))
                yield Row(dict.fromkeys(columns, "") | cells_of, origin, faults)
    except csv.Error as error:
        faults.add(f"{place} after row {number}", f"is not CSV: {error}")


def _file_text(path: Path, place: str, faults: Faults) -> str | None:
    if not path.is_file():
        faults.add(place, "is not there")
        return None
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
    if len(header) == 1 and any(sign in header[0] for sign in _OTHER_SEPARATORS):
        sign = next(words for sign, words in _OTHER_SEPARATORS.items() if sign in header[0])
        faults.add(place, f"separates its columns by {sign}", "save it as CSV with commas")
        return False
    return heading_fits(header, columns, f"{place} row 1", faults)


def heading_fits(
    heading: Sequence[str], columns: Sequence[str], where: str, faults: Faults
) -> bool:
    """Whether a heading names each column once and no other, noting all that is wrong with it.

    A later column may be missing, and is then empty: tables that were kept stay readable.
    """
    needed = [column for column in columns if column not in LATER_COLUMNS]
    missing = [column for column in needed if column not in heading]
    strange = [column for column in heading if column not in columns]
    twice = sorted(column for column, times in Counter(heading).items() if times > 1)
    for column in missing:
        faults.add(where, f"has no column {quoted(column)}")
    for column in strange:
        remedy = did_you_mean(column, columns)
        faults.add(where, f"has an unknown column {quoted(column)}", remedy)
    for column in twice:
        faults.add(where, f"names the column {quoted(column)} twice")
    return not (missing or strange or twice)


def _cells_fit(cells: list[str], header: Sequence[str], origin: Origin, faults: Faults) -> bool:
    if len(cells) != len(header):
        of_table = how_many(len(header), "column")
        what = f"has {how_many(len(cells), 'cell')} where the table has {of_table}"
        faults.add(str(origin), what)
        return False
    for column, cell in zip(header, cells, strict=True):
        if len(cell) > LONGEST_CELL:
            faults.add(str(origin), f"{column} is longer than {LONGEST_CELL} characters")
            return False
        if not cell.strip().isprintable():
            faults.add(str(origin), f"{column} has control characters", "type the text again")
            return False
    return True
