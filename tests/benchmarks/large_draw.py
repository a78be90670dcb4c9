"""A draw over many lines and entries, and the same amount of text from the bare libraries."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from io import BytesIO

from openpyxl import Workbook
from reportlab.pdfgen.canvas import Canvas

from estimator.funding.draw_from_books import draw_from_books
from estimator.funding.draw_papers import Papers
from estimator.funding.draw_requests import DrawRequest
from estimator.funding.drawings import DrawHistory, Drawing
from estimator.funding.loan_schedule import LoanLine, frozen_loan
from estimator.tracking.books import Books
from estimator.tracking.budget import BudgetCode
from tests.funding.made import LATER, MONTH_END, NOW, TERMS, bill, measured, paid

ROWS_OF_A_PAGE, COLUMNS, VENDORS = 50, 11, 150


class LargeDraw:
    """Books of so many entries over so many lines, half of the entries paid."""

    def __init__(self, lines: int, entries: int) -> None:
        codes = [f"{number:03}.010" for number in range(lines)]
        cents = 2_000_00 * entries // lines
        self.entries = entries
        self.budget = {
            code: BudgetCode(code, f"Work {code}", code[:3], Decimal(100), "sf", {"labor": cents})
            for code in codes
        }
        schedule = tuple(LoanLine(code[:3], f"Line of {code}", codes=(code[:3],)) for code in codes)
        terms = replace(TERMS, commitment_cents=2 * cents * lines)
        self.loan = frozen_loan(terms, schedule, self.budget, NOW)
        self.books = Books(
            costs=[
                bill(row, codes[row % lines], 900_00 + row, vendor=f"Vendor {row % VENDORS}")
                for row in range(1, entries + 1)
            ],
            payments=[paid(entries + row, row, 500_00) for row in range(1, entries, 2)],
            progress=[measured(2 * entries + n, code, 95) for n, code in enumerate(codes)],
        )

    def request(self) -> DrawRequest:
        """Make the draw from the books."""
        return draw_from_books(
            "Barn", self.loan, self.budget, self.books,
            Drawing(number=1, issue=1, through=MONTH_END), DrawHistory(), Papers(), LATER,
        )  # fmt: skip


def bare_pages(rows: int) -> bytes:
    """Set as many rows of words with the library's own calls and an own font of the reader."""
    file = BytesIO()
    canvas = Canvas(file, invariant=1, pageCompression=1)
    for row in range(rows):
        if row % ROWS_OF_A_PAGE == 0:
            if row:
                canvas.showPage()
            canvas.setFont("DejaVuSans", 7)
        for column in range(COLUMNS):
            canvas.drawString(40 + 50 * column, 740 - 14 * (row % ROWS_OF_A_PAGE), f"${row:,}.20")
    canvas.save()
    return file.getvalue()


def bare_rows(rows: int) -> bytes:
    """Write as many rows of plain numbers with the library's quickest way."""
    workbook = Workbook(write_only=True)
    sheet = workbook.create_sheet("Backup")
    for row in range(rows):
        sheet.append([row + column / 4 for column in range(COLUMNS)])
    file = BytesIO()
    workbook.save(file)
    return file.getvalue()
