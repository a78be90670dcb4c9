"""Bank and card exports as CSV: lines of a statement by the columns that were named."""

from __future__ import annotations

import csv
import hashlib
import io
import re
from collections import Counter
from collections.abc import Iterator, Mapping
from datetime import date

from estimator.errors import Faults, LedgerFaulty, fault, quoted
from estimator.tracking.bank_lines import BankLine
from estimator.tracking.bank_terms import BankTerms
from estimator.tracking.bank_words import COMMA, DAY_FIRST, ISO, POSITIVE, US
from estimator.workbook.writing.safe_text import clean_text

MOST_BYTES = 10_000_000
MOST_LINES = 3_000
MOST_LETTERS = 200
_DELIMITERS = ",;\t|"
_ROWS_ABOVE = 30  # that a bank may write above the headings
_SWAPPED = str.maketrans(",.", ".,")
_AMOUNT = re.compile(
    r"(\(|-)?\s?\$?\s?(-)?([0-9]{1,3}(?:,[0-9]{3})+|[0-9]{1,9})(\.[0-9]{1,2})?(\))?"
)
_ISO = re.compile(r"([0-9]{4})-?([0-9]{2})-?([0-9]{2})(?:[T ].*)?")
_SLASHED = re.compile(r"([0-9]{1,2})[/.-]([0-9]{1,2})[/.-]([0-9]{4}|[0-9]{2})")
_CENTURY = 100

Row = tuple[int, Mapping[str, str]]


def csv_lines(content: bytes, name: str, terms: BankTerms) -> list[BankLine]:
    """Return the lines of a CSV export.

    Parameters
    ----------
    content : bytes
        Of the file: UTF-8, UTF-16 or cp1252; commas, semicolons, tabs or bars between its columns.
    name : str
        What to call the file in messages.
    terms : BankTerms
        Which columns are meant, and how dates and amounts are written.

    Raises
    ------
    LedgerFaulty
        If it has no such columns, or with every faulty cell.

    Notes
    -----
    A line is known again by its day, amount, description and reference, and its running number
    among those that agree in all of them.
    """
    faults, lines, seen = Faults(), list[BankLine](), Counter[str]()
    for number, cells in _rows(content, name, terms):
        before, where = faults.count, f"{name} line {number}"
        day = _day(cells[terms.date_column], terms, f"{where}, {terms.date_column}", faults)
        cents = _moved(cells, terms, where, faults)
        if day is None or faults.count > before:
            continue
        words = cells[terms.description_column][:MOST_LETTERS]
        reference = cells.get(terms.reference_column, "")[:MOST_LETTERS]
        same = hashlib.sha256(f"{day} {cents} {words} {reference}".encode()).hexdigest()[:20]
        seen[same] += 1
        lines.append(BankLine(number, day, cents, words, reference, f"{same} {seen[same]}"))
    faults.raise_if_any(LedgerFaulty)
    if not lines:
        raise fault(LedgerFaulty, "has headings and no line", "export other days", name)
    return lines


def statement_text(content: bytes, name: str) -> str:
    """Return the text of a statement, whatever it is encoded in.

    Raises
    ------
    LedgerFaulty
        If it is empty, too long, or no text.
    """
    if len(content) > MOST_BYTES:
        what = f"is longer than {MOST_BYTES:,} bytes"
        raise fault(LedgerFaulty, what, "export fewer days at once", name)
    if content.startswith(b"PK"):
        raise fault(LedgerFaulty, "is a workbook", "save the transactions as CSV", name)
    text = _decoded(content)
    if not text.strip():
        raise fault(LedgerFaulty, "is empty", "export it again", name)
    if "\0" in text:
        raise fault(LedgerFaulty, "is not text", "export the transactions as CSV or OFX", name)
    return text


def _decoded(content: bytes) -> str:
    if content.startswith((b"\xff\xfe", b"\xfe\xff")):
        return content.decode("utf-16", "replace")
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError:
        return content.decode("cp1252", "replace")


def _rows(content: bytes, name: str, terms: BankTerms) -> Iterator[Row]:
    """Yield the rows below the headings, with their line and their cells by heading."""
    text = statement_text(content, name)
    if text.lstrip().startswith("<"):
        what = "is a web page, not an export"
        raise fault(LedgerFaulty, what, "sign in, and export the transactions as CSV or OFX", name)
    for delimiter in _DELIMITERS:
        table = _table(text, delimiter, name)
        for start, (_, row) in enumerate(table[:_ROWS_ABOVE]):
            headings = [one.strip() for one in row]
            if terms.columns <= set(headings):
                for number, cells in table[start + 1 :]:
                    padded = [*cells, *[""] * (len(headings) - len(cells))]
                    yield number, dict(zip(headings, map(_cell, padded), strict=False))
                return
    needed = ", ".join(map(quoted, sorted(terms.columns)))
    remedy = f"it begins with {quoted(text.strip().splitlines()[0][:100])}"
    raise fault(LedgerFaulty, f"has no row of headings with {needed}", remedy, name)


def _table(text: str, delimiter: str, name: str) -> list[tuple[int, list[str]]]:
    reader = csv.reader(io.StringIO(text), delimiter=delimiter)
    try:
        table = [(reader.line_num, row) for row in reader if any(map(str.strip, row))]
    except csv.Error as error:
        what = f"cannot be read at line {reader.line_num}: {error}"
        raise fault(LedgerFaulty, what, "export it again", name) from None
    if len(table) > MOST_LINES:
        what = f"has over {MOST_LINES:,} lines"
        raise fault(LedgerFaulty, what, "export fewer days at once", name)
    return table


def _cell(text: str) -> str:
    return " ".join(clean_text(text).split())


def _day(text: str, terms: BankTerms, where: str, faults: Faults) -> date | None:
    parts: tuple[int, ...] = ()
    if match := _ISO.fullmatch(text):
        parts = tuple(map(int, match.groups()))
    elif match := _SLASHED.fullmatch(text):
        first, second, year = map(int, match.groups())
        year += 2000 if year < _CENTURY else 0
        parts = {US: (year, first, second), DAY_FIRST: (year, second, first)}.get(terms.dates, ())
        if not parts:
            what = f"{quoted(text)} may be month first or day first"
            faults.add(where, what, f"say dates={US} or dates={DAY_FIRST}")
            return None
    try:
        return date(*parts)
    except (TypeError, ValueError):
        remedy = f"dates are read as {terms.dates}, such as {_SUCH[terms.dates]}"
        faults.add(where, f"{quoted(text)} is not a date", remedy)
        return None


_SUCH = {ISO: "2026-05-23", US: "05/23/2026", DAY_FIRST: "23/05/2026"}


def _moved(cells: Mapping[str, str], terms: BankTerms, where: str, faults: Faults) -> int:
    """Return what came in [0.01 $]; below zero, what went out."""
    if terms.amount_column:
        cents = _cents(cells[terms.amount_column], terms, f"{where}, {terms.amount_column}", faults)
        return -cents if terms.out == POSITIVE else cents
    out, came = (
        abs(_cents(cells[one], terms, f"{where}, {one}", faults)) if cells[one] else 0
        for one in (terms.debit_column, terms.credit_column)
    )
    if out and came:
        faults.add(where, "has both a debit and a credit", "correct the columns that are named")
    return came - out


def _cents(text: str, terms: BankTerms, where: str, faults: Faults) -> int:
    match = _AMOUNT.fullmatch(text.translate(_SWAPPED) if terms.decimal == COMMA else text)
    if match is None or (match[1] == "(") != bool(match[5]) or (match[1] and match[2]):
        such = "1.234,50" if terms.decimal == COMMA else "1,234.50; decimal=comma reads 1.234,50"
        faults.add(where, f"{quoted(text)} is not an amount", f"write it as {such}")
        return 0
    cents = int(match[3].replace(",", "")) * 100 + int((match[4] or ".")[1:].ljust(2, "0"))
    return -cents if match[1] or match[2] else cents
