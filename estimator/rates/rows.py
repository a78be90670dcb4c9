"""One row of a table, read field by field, with every fault noted at its file and row."""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from estimator.errors import Faults, InputFaulty, Remedy, did_you_mean, how_many, quoted
from estimator.quantity.formulas import Formula, read_formula
from estimator.quantity.units import UNREADABLE, Unit, unit

LONGEST_CELL = 2000
EARLIEST = date(1950, 1, 1)
LATEST = date(2199, 12, 31)
WITHIN = f"give a day from {EARLIEST.year} to {LATEST.year}"

_NUMBER = re.compile(r"(\d{1,12}|\d{1,3}(,\d{3}){1,3})(\.\d{1,9})?", re.ASCII)
_CODE = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*", re.ASCII)
_NAME = re.compile(r"[a-z][a-z0-9_]*", re.ASCII)
_DATE = re.compile(r"\d{4}-\d{2}-\d{2}", re.ASCII)
_OTHER_DAY = re.compile(
    r"((?P<year_first>\d{4})[./-])?(?P<a>\d{1,2})[./-](?P<b>\d{1,2})"
    r"(?(year_first)|[./-](?P<year>\d{4}))",
    re.ASCII,
)


def day_remedy(text: str) -> str:
    """Return how to write a day, in the program's way, that a text says in another.

    Examples
    --------
    >>> day_remedy("15.4.2026"), day_remedy("4/15/2026"), day_remedy("soon")
    ('write it as 2026-04-15', 'write it as 2026-04-15', 'write it as 2026-03-02')
    >>> day_remedy("4/5/2026")
    'write it as 2026-04-05 or 2026-05-04, whichever it is'
    """
    match = _OTHER_DAY.fullmatch(text.strip())
    if match is None:
        return "write it as 2026-03-02"
    if match["year_first"]:
        orders = [(match["year_first"], match["a"], match["b"])]
    else:
        orders = [(match["year"], match["a"], match["b"]), (match["year"], match["b"], match["a"])]
    days = [f"{year}-{int(month):02}-{int(day):02}" for year, month, day in orders]
    known = dict.fromkeys(day for day in days if _is_day(day))
    if len(known) == 2:
        return f"write it as {' or '.join(known)}, whichever it is"
    return f"write it as {next(iter(known), '2026-03-02')}"


def _is_day(text: str) -> bool:
    try:
        return EARLIEST <= date.fromisoformat(text) <= LATEST
    except ValueError:
        return False


@dataclass(frozen=True)
class Origin:
    """Where a row stands: the set of tables, the file, and the row as a spreadsheet counts it.

    What stands in the scope itself has row 0: `scope item 20.010`.
    """

    tables: str
    file: str
    row: int

    def __str__(self) -> str:
        place = f"{self.tables} {self.file}"
        return f"{place} row {self.row}" if self.row else place

    @staticmethod
    def read(text: str) -> Origin:
        """Return the place that `str` of it names.

        Examples
        --------
        >>> Origin.read("Valley 3 resources.csv row 12")
        Origin(tables='Valley 3', file='resources.csv', row=12)
        >>> Origin.read("scope item 20.010")
        Origin(tables='scope item', file='20.010', row=0)
        """
        place, has_row, row = text.rpartition(" row ")
        tables, _, file = (place if has_row else text).rpartition(" ")
        return Origin(tables, file, int(row) if has_row else 0)


class Row:
    """A row of text cells; each reader returns a value or notes a fault and returns a stand-in.

    The stand-ins let reading go on, so that all faults are found; whoever reads a table raises the
    collected faults before any value is used.

    Parameters
    ----------
    cells : mapping of str to str
        Column name to text, already stripped.
    origin : Origin
        Where the row stands.
    faults : Faults
        Where faults are noted.
    """

    def __init__(self, cells: Mapping[str, str], origin: Origin, faults: Faults) -> None:
        self.cells = cells
        self.origin = origin
        self.faults = faults

    def fault(self, what: str, remedy: Remedy = "") -> None:
        """Note a fault of this row."""
        self.faults.add(str(self.origin), what, remedy)

    def text(self, column: str, *, required: bool = True) -> str:
        """Return the text of a cell."""
        value = self.cells.get(column, "")
        if required and not value:
            self.fault(f"{column} is missing")
        return value

    def code(self, column: str, *, required: bool = True) -> str:
        """Return a code: lower-case words joined by hyphens."""
        return self._matching(column, _CODE, "lower-case words joined by hyphens", required)

    def name(self, column: str) -> str:
        """Return an input's name: lower-case words joined by underscores."""
        return self._matching(column, _NAME, "lower-case words joined by underscores", True)

    def _matching(self, column: str, pattern: re.Pattern[str], form: str, required: bool) -> str:
        value = self.text(column, required=required)
        if value and not pattern.fullmatch(value):
            self.fault(f"{column} {quoted(value)} is not a code", f"write {form}")
        return value

    def choice(self, column: str, known: Collection[str]) -> str:
        """Return one of the known words."""
        value = self.text(column)
        if value and value not in known:
            self.fault(f"{column} {quoted(value)} is not known", did_you_mean(value, known))
        return value

    def words(self, column: str) -> tuple[str, ...]:
        """Return the words of a list cell, which are separated by semicolons."""
        parts = (part.strip() for part in self.text(column, required=False).split(";"))
        return tuple(part for part in parts if part)

    def decimal(self, column: str, *, decimals: int, required: bool = True) -> Decimal | None:
        """Return a non-negative decimal with at most so many decimals, or None if it is empty."""
        value = self.text(column, required=required)
        if not value:
            return None
        plain = value.replace(",", "")
        if value.startswith("-"):
            self.fault(f"{column} {quoted(value)} is negative", "enter it without the minus sign")
        elif not _NUMBER.fullmatch(value):
            self.fault(f"{column} {quoted(value)} is not a plain number", "write it as 1234.50")
        elif len(plain.partition(".")[2].rstrip("0")) > decimals:
            most = f"has more than {how_many(decimals, 'decimal')}"
            self.fault(f"{column} {quoted(value)} {most if decimals else 'is not a whole number'}")
        else:
            return Decimal(plain)
        return None

    def day(self, column: str, *, required: bool = True) -> date | None:
        """Return an ISO date from 1950 to 2199, or None if it is empty."""
        value = self.text(column, required=required)
        if not value:
            return None
        try:
            day = date.fromisoformat(value) if _DATE.fullmatch(value) else None
        except ValueError:
            day = None
        if day is None:
            self.fault(f"{column} {quoted(value)} is not a date", day_remedy(value))
        elif not EARLIEST <= day <= LATEST:
            self.fault(f"{column} {quoted(value)} is out of range", WITHIN)
            return None
        return day

    def unit(self, column: str) -> Unit:
        """Return a unit of measure, `UNREADABLE` if it is none."""
        value = self.text(column)
        try:
            return unit(value) if value else UNREADABLE
        except InputFaulty as error:
            self.faults.take(f"{self.origin}, {column}", error)
            return UNREADABLE

    def formula(self, column: str, *, required: bool = True) -> Formula | None:
        """Return a formula, or None if the cell is empty."""
        value = self.text(column, required=required)
        if not value:
            return None
        try:
            return read_formula(value)
        except InputFaulty as error:
            self.faults.take(f"{self.origin}, {column}", error)
            return None

    def source(self) -> str:
        """Return where the row's fact comes from; a row without a source is a fault."""
        return self.text("source")
