"""The cells of one sheet, told row by row as kind and text, and numbers and days as they read.

Standard library only: this runs in the process that reads a workbook (`reading_child.py`).
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from datetime import datetime, timedelta

from estimator.workbook.xlsx_parts import Part, Refused, whole_number, with_spelled_characters

MOST_ROWS = 25_000
MOST_COLUMNS = 60
DIGITS = 15

_NUMBER = re.compile(r"-?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d{1,3})?", re.ASCII)
_LETTERS = re.compile("[A-Z]{1,3}", re.ASCII)
_FIRST_DAYS = {False: datetime(1899, 12, 30), True: datetime(1904, 1, 1)}
_DAYS_BEFORE_FALSE_LEAP_DAY = 60
_LAST_DAY = 2_958_465


class Cells(Part):
    """The cells of a sheet, told row by row.

    Parameters
    ----------
    texts : sequence of str
        The shared texts.
    kinds : sequence of str
        What numbers are, by cell style.
    from_1904 : bool
        Whether days are counted from 1904.
    tell : callable
        Is given `"row", number, [(column, kind, text), ...]` and `"merged", range`.
    """

    def __init__(
        self, texts: Sequence[str], kinds: Sequence[str], from_1904: bool, tell: Callable[..., None]
    ) -> None:
        super().__init__()
        self.shared, self.kinds, self.from_1904, self.tell = texts, kinds, from_1904, tell
        self.row = self.column = 0
        self.row_text = ""
        self.cells: list[tuple[int, str, str]] = []
        self.columns: dict[str, int] = {}
        self.type = self.style = ""
        self.value: str | None = None
        self.is_formula = self.is_reading_aid = False
        self.starts = {
            "row": self._start_row, "c": self._start_cell, "v": self._start_value,
            "t": self._start_value, "f": self._formula, "rPh": self._start_aid,
            "mergeCell": self._merged,
        }  # fmt: skip
        self.ends = {
            "v": self._end_value, "t": self._end_value, "c": self._end_cell, "row": self._end_row,
            "rPh": self._end_aid,
        }  # fmt: skip

    def _start_row(self, attributes: dict[str, str]) -> None:
        self.row = whole_number(attributes, "r") if "r" in attributes else self.row + 1
        self.row_text = str(self.row)
        self.column, self.cells = 0, []

    def _end_row(self) -> None:
        if self.cells:
            self.tell("row", self.row, self.cells)

    def _start_cell(self, attributes: dict[str, str]) -> None:
        reference = attributes.get("r")
        self.column = self.column + 1 if reference is None else self._column(reference)
        if not (0 < self.row <= MOST_ROWS and 0 < self.column <= MOST_COLUMNS):
            raise Refused(f"reaches beyond {MOST_ROWS:,} rows and {MOST_COLUMNS} columns")
        self.type, self.style = attributes.get("t", "n"), attributes.get("s", "0")
        self.value, self.is_formula = None, False

    def _column(self, reference: str) -> int:
        letters = reference.removesuffix(self.row_text)
        column = self.columns.get(letters) or column_number(letters)
        self.columns[letters] = column
        return column

    def _end_cell(self) -> None:
        kind, text = self.read()
        if text:
            self.cells.append((self.column, kind, text))

    def _start_value(self, _: dict[str, str]) -> None:
        self.is_text = not self.is_reading_aid

    def _end_value(self) -> None:
        if self.is_text:
            self.value = (self.value or "") + self.taken_text()
        self.is_text = False

    def _formula(self, _: dict[str, str]) -> None:
        self.is_formula = True

    def _start_aid(self, _: dict[str, str]) -> None:
        self.is_reading_aid = True

    def _end_aid(self) -> None:
        self.is_reading_aid = False

    def _merged(self, attributes: dict[str, str]) -> None:
        self.tell("merged", attributes.get("ref", "")[:20])

    def read(self) -> tuple[str, str]:
        """Return kind and text of the cell that has just ended."""
        if self.is_formula and (self.value is None or (not self.value and self.type != "str")):
            return "formula", "formula"
        value = self.value or ""
        if self.type == "s":
            return "text", self.shared_text(value) if value else ""
        if self.type in ("str", "inlineStr"):
            return "text", with_spelled_characters(value)
        if self.type == "b":
            return "boolean", "" if not value else "TRUE" if value.strip() == "1" else "FALSE"
        if self.type in ("e", "d"):
            return {"e": "error", "d": "date"}[self.type], value
        return self.number(value.strip()) if value.strip() else ("number", "")

    def shared_text(self, number: str) -> str:
        """Return a text by its number."""
        place = whole_number({"v": number.strip()}, "v")
        if place >= len(self.shared):
            raise Refused("is damaged: a text inside is missing")
        return self.shared[place]

    def number(self, value: str) -> tuple[str, str]:
        """Return a number as it reads in its style."""
        style = whole_number({"s": self.style}, "s")
        kind = self.kinds[style] if style < len(self.kinds) else "number"
        if kind == "number" and value.isascii() and value.isdigit() and len(value) <= DIGITS:
            return "number", value.lstrip("0") or "0"
        if not _NUMBER.fullmatch(value) or abs(float(value)) >= 10**DIGITS:
            return "error", value[:40]
        if kind == "date":
            return "date", day_text(float(value), self.from_1904)
        if kind == "percent":
            return "percent", f"{plain_text(float(value) * 100)} %"
        text = plain_text(float(value))
        return "number", text.zfill(len(kind)) if kind.startswith("0") and text.isdigit() else text


def column_number(letters: str) -> int:
    """Return the number of a column from 1: `A` is 1, `BH` is 60.

    Raises
    ------
    Refused
        If they are not one to three capitals: the cell does not stand in the row it is written in.
    """
    if not _LETTERS.fullmatch(letters):
        raise Refused("is damaged: a cell is not in its place")
    column = 0
    for letter in letters:
        column = column * 26 + ord(letter) - 64
    return column


def plain_text(value: float) -> str:
    """Return a number with the 15 digits that a spreadsheet keeps, without an exponent.

    Examples
    --------
    >>> plain_text(20.0), plain_text(0.1 + 0.2), plain_text(1e-7)
    ('20', '0.3', '0.0000001')
    """
    digits = f"{float(f'{value:.{DIGITS}g}'):.20f}" if abs(value) < 1e-4 else f"{value:.{DIGITS}g}"
    if "e" in digits:
        return f"{value:.0f}"
    return digits.rstrip("0").rstrip(".") if "." in digits else digits


def day_text(serial: float, from_1904: bool) -> str:
    """Return the date, or date and time, that a spreadsheet counts as so many days.

    Notes
    -----
    Counted from 1899-12-30, with a 29 February 1900 that never was: earlier days count one less
    (ECMA-376 part 1, section 18.17.4, from memory).

    Examples
    --------
    >>> day_text(46083, False), day_text(1, False)
    ('2026-03-02', '1900-01-01')
    """
    if not 0 <= serial <= _LAST_DAY:
        return "no date"
    is_early = not from_1904 and serial < _DAYS_BEFORE_FALSE_LEAP_DAY
    found = _FIRST_DAYS[from_1904] + timedelta(days=serial + is_early)
    whole_day = serial == int(serial)
    return found.date().isoformat() if whole_day else found.strftime("%Y-%m-%d %H:%M")
