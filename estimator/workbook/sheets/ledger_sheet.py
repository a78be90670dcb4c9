"""The sheet of the ledger: a line for each code and kind of each bill, ticket and hour."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from estimator.tracking.ledger_lines import LedgerLine
from estimator.workbook.writing.book import Book, PageSetup
from estimator.workbook.writing.sheet_pen import Column, SheetPen

TITLE = "Ledger"
COLUMNS = (
    Column("Row", 7, True), Column("Happened", 11, True), Column("Entry", 10), Column("Party", 26),
    Column("Document", 18), Column("Note", 46), Column("Code", 14), Column("Kind", 12),
    Column("Billed\n[$]", 13, True), Column("Accrued\n[$]", 13, True),
    Column("Paid\n[$]", 13, True),
)  # fmt: skip
NOTE = (
    "What each row of the books adds to a cost code and kind, with tax. Paid is what was paid on "
    "the bill by the day of the report. The sheet Items adds these lines up."
)
_CODE, _KIND, _BILLED = 7, 8, 9
_RANGES = (_CODE, _KIND, *range(_BILLED, _BILLED + 3))
_SETTLED_AT_ONCE = 1_000


@dataclass(frozen=True)
class LedgerPlaced:
    """The ranges of the ledger that other sheets add up."""

    codes: str
    kinds: str
    billed: str
    accrued: str
    paid: str


def write_ledger(book: Book, lines: Iterable[LedgerLine], page: PageSetup) -> LedgerPlaced:
    """Write the sheet and return where its columns stand."""
    pen = SheetPen(book, TITLE, COLUMNS)
    pen.top(TITLE, NOTE)
    first = pen.row
    for count, line in enumerate(lines, start=1):
        _write_line(pen, line)
        if count % _SETTLED_AT_ONCE == 0:
            pen.settle()
    if pen.row == first:
        pen.text(6, "nothing has happened yet")
        pen.down()
    pen.sheet.auto_filter.ref = f"A{first - 1}:{pen.letters[-1]}{pen.row - 1}"
    ranges = [pen.column_from_elsewhere(n, first) for n in _RANGES]
    pen.finish(page)
    return LedgerPlaced(*ranges)


def _write_line(pen: SheetPen, line: LedgerLine) -> None:
    pen.number(1, line.row, "plain number")
    pen.number(2, line.happened, "plain day")
    words = (line.entry, line.party, line.document, line.note, *line.place)
    for column, text in enumerate(words, start=3):
        pen.text(column, text)
    spent = line.spent
    for column, cents in enumerate(
        (spent.billed_cents, spent.accrued_cents, spent.paid_cents), start=_BILLED
    ):
        pen.number(column, cents / 100, "plain money")
    pen.down()
