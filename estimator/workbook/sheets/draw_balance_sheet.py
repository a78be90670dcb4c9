"""The sheet of a loan's balance: sources and uses, added up by live formulas."""

from __future__ import annotations

from collections.abc import Iterator

from estimator.funding.draw_package import BALANCE_NOTE
from estimator.funding.loan_balance import SOURCE, USE, LoanBalance
from estimator.workbook.writing.book import Book, PageSetup
from estimator.workbook.writing.sheet_pen import Column, SheetPen

TITLE = "Balance"
COLUMNS = (Column("", 52), Column("P50\n[$]", 16, True), Column("P80\n[$]", 16, True))
_SIDES = ((SOURCE, "Sources"), (USE, "Uses"))


def write_balance(book: Book, balance: LoanBalance, page: PageSetup) -> None:
    """Write the sheet."""
    pen = SheetPen(book, TITLE, COLUMNS)
    pen.top(f"{TITLE} as of {balance.as_of}", BALANCE_NOTE)
    sums = [row for side, title in _SIDES for row in _write_side(pen, balance, side, title)]
    pen.text(1, "Sources less uses", "total")
    for column, cents in enumerate(balance.surplus_cents, start=2):
        sources, uses = (pen.at(column, row) for row in sums)
        pen.formula(column, f"ROUND({sources}-{uses},2)", cents / 100, "total money")
    pen.down(2)
    pen.across(balance.sentence, "strong")
    pen.finish(page)


def _write_side(pen: SheetPen, balance: LoanBalance, side: str, title: str) -> Iterator[int]:
    """Write the lines of a side and their sums, and yield the row of these."""
    first = pen.row
    for one in balance.lines:
        if one.side == side:
            pen.text(1, one.name)
            pen.number(2, one.p50_cents / 100, "plain money")
            pen.number(3, one.p80_cents / 100, "plain money")
            pen.down()
    pen.text(1, title, "band")
    for column, cents in enumerate(balance.sums(side), start=2):
        pen.sum(column, first, cents / 100, "band money")
    pen.down()
    yield pen.row - 1
