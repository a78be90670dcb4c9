"""The sheet of the ledger as it comes back: what each of its lines shows, for whoever compares it.

It is a report, and nobody fills it in; but who types into it ought to hear of it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from datetime import date, timedelta
from functools import lru_cache
from typing import NamedTuple

from estimator.tracking.ledger_lines import RENT, LedgerLine
from estimator.workbook.reading.long_sheet import long_sheet_rows
from estimator.workbook.reading.workbook_rows import column_letters
from estimator.workbook.sheets.ledger_sheet import COLUMNS, TITLE
from estimator.workbook.writing.safe_text import clean_text

_LETTERS = tuple(column_letters(number) for number in range(1, len(COLUMNS) + 1))
_HEADINGS = tuple(" ".join(one.heading.split()) for one in COLUMNS)
_ROW, _DAY, _WORDS, _AMOUNTS = _LETTERS[0], _LETTERS[1], _LETTERS[2:8], _LETTERS[8:]
NAMES = tuple(one.removesuffix(" [$]") for one in _HEADINGS[1:])
_DAY_ZERO = date(1899, 12, 30)
_SERIAL = re.compile(r"\d{1,6}")
_AMOUNT = re.compile(r"-?\d{1,13}(?:\.\d{0,20})?(?:[Ee]-\d{1,3})?")

Values = tuple[str | int, ...]
"""Day, entry, party, document, note, code and kind; billed, accrued and paid in cents.

An amount that is no number is the text that stands in its place; a rent has nothing accrued.
"""


class ShownLine(NamedTuple):
    """A line of the sheet.

    Parameters
    ----------
    number : int or None
        The row of the books that it names.
    values : tuple
        What it shows, in the order of `NAMES`.
    sheet_row : int
        Where it stands.
    """

    number: int | None
    values: Values
    sheet_row: int

    def where(self, name: str, column: int) -> str:
        """Return file, sheet and address of one of the values: `tracking.xlsx Ledger I17`."""
        return f"{name} {TITLE} {_LETTERS[column + 1]}{self.sheet_row}"


def shown_ledger(content: bytes) -> Iterator[ShownLine]:
    """Yield the lines below the headings of the sheet; none where it has other headings.

    Parameters
    ----------
    content : bytes
        A workbook that `read_entries` has read.
    """
    rows = long_sheet_rows(content, TITLE)
    for _, cells in rows:
        if tuple(" ".join(cells.get(one, "").split()) for one in _LETTERS) == _HEADINGS:
            break
    for sheet_row, cells in rows:
        named = cells.get(_ROW, "")
        if named or any(one in cells for one in _AMOUNTS):
            number = int(named) if _SERIAL.fullmatch(named) else None
            yield ShownLine(number, _values(cells), sheet_row)


def _values(cells: Mapping[str, str]) -> Values:
    words = [cells.get(one, "") for one in _WORDS]
    billed, accrued, paid = (_cents(cells.get(one, "")) for one in _AMOUNTS)
    if words[0] == RENT and not isinstance(accrued, str):
        accrued = 0  # it grows from day to day
    return (_day(cells.get(_DAY, "")), *words, billed, accrued, paid)


@lru_cache(maxsize=1_000)
def _day(text: str) -> str:
    is_serial = _SERIAL.fullmatch(text)
    return (_DAY_ZERO + timedelta(int(text))).isoformat() if is_serial else text


@lru_cache(maxsize=1_000)
def _cents(text: str) -> str | int:
    if not text:
        return 0
    return round(float(text) * 100) if _AMOUNT.fullmatch(text) else text


def values_of(line: LedgerLine) -> Values:
    """Return what the sheet shows of a line of the books.

    Parameters
    ----------
    line : LedgerLine
        As `write_ledger` writes it.
    """
    spent = line.spent
    return (
        line.happened.isoformat(), line.entry, line.party, line.document, line.note, *line.place,
        spent.billed_cents, spent.accrued_cents, spent.paid_cents,
    )  # fmt: skip


def first_difference(shown: Values, known: Values) -> int | None:
    """Return the place of the first value that is another; None where all are the same.

    Parameters
    ----------
    shown, known : tuple
        Of the sheet, and of the books. Blanks that a program put elsewhere make no difference.
    """
    if shown == known:
        return None
    alike = (_plain(one) == _plain(other) for one, other in zip(shown, known, strict=True))
    return next((place for place, is_same in enumerate(alike) if not is_same), None)


def _plain(value: str | int) -> str | int:
    return " ".join(clean_text(value).split()) if isinstance(value, str) else value
