"""The sheet of months: what each added to planned, earned, incurred and paid."""

from __future__ import annotations

from collections.abc import Sequence

from estimator.tracking.monthly_movements import MonthMovement
from estimator.workbook.writing.book import Book, PageSetup
from estimator.workbook.writing.sheet_pen import Column, SheetPen

TITLE = "Months"
NOTE = (
    "What each month added: the figures at its end less those at the end of the month before. "
    "The months add up to the figures on the day of the report."
)
COLUMNS = (
    Column("Month", 12), Column("Through", 12, True), Column("Planned\n[$]", 15, True),
    Column("Earned\n[$]", 15, True), Column("Incurred\n[$]", 15, True),
    Column("Paid\n[$]", 15, True),
)  # fmt: skip
_FIRST_MONEY = 3


def write_months(book: Book, movements: Sequence[MonthMovement], page: PageSetup) -> None:
    """Write the sheet."""
    pen = SheetPen(book, TITLE, COLUMNS)
    pen.top(TITLE, NOTE)
    first, sums = pen.row, [0, 0, 0, 0]
    for one in movements:
        pen.text(1, f"{one.first:%Y-%m}")
        pen.number(2, one.last, "plain day")
        cents = (one.planned_cents, one.earned_cents, one.incurred_cents, one.paid_cents)
        for column, amount in enumerate(cents, start=_FIRST_MONEY):
            pen.number(column, amount / 100, "plain money")
        sums = [total + amount for total, amount in zip(sums, cents, strict=True)]
        pen.down()
    pen.over(1, 2, "Together", "total")
    for column, total in enumerate(sums, start=_FIRST_MONEY):
        letter = pen.letters[column - 1]
        formula = f"ROUND(SUM({letter}{first}:{letter}{pen.row - 1}),2)"
        pen.formula(column, formula, total / 100, "total money")
    pen.down()
    pen.finish(page)
