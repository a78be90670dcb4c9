"""Sheets to be filled in: headings in the first row, cells that keep what is typed, spare rows."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from estimator.workbook.writing.book import Book, PageSetup
from estimator.workbook.writing.look import named_styles
from estimator.workbook.writing.sheet_pen import SheetPen

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet

LAST_ROW = 2000
SPARE_ROWS = 40

_AS_TEXT = "@"
_ANSWER = "answer"


def add_answer_style(book: Book) -> None:
    """Add the style of cells to be filled in; they are formatted as text, so that 010 stays 010."""
    style = next(one for one in named_styles() if one.name == "Groundsill input")
    style.name, style.number_format = f"Groundsill {_ANSWER}", _AS_TEXT
    book.workbook.add_named_style(style)


def write_headings(pen: SheetPen) -> None:
    """Write the headings into the first row, which stays in sight."""
    pen.heading()
    pen.sheet.freeze_panes = "A2"
    pen.sheet.print_title_rows = "1:1"


def write_answers(pen: SheetPen, texts: Sequence[str]) -> None:
    """Write a row of cells to be filled in, from the left."""
    for column in range(1, len(pen.columns) + 1):
        write_answer(pen, column, texts[column - 1] if column <= len(texts) else "")
    pen.down()


def write_spare_rows(pen: SheetPen, count: int = SPARE_ROWS) -> None:
    """Write rows that are still empty."""
    for _ in range(count):
        write_answers(pen, ())


def write_answer(pen: SheetPen, column: int, text: str) -> None:
    """Write one cell to be filled in."""
    if text:
        pen.text(column, text, _ANSWER)
    else:
        pen.number(column, None, _ANSWER)


def finish_answers(pen: SheetPen, page: PageSetup) -> None:
    """Format what stands below the rows as text too, and set up the page."""
    for letter in pen.letters:
        pen.sheet.column_dimensions[letter].number_format = _AS_TEXT
    pen.finish(page)


def offer_list(
    sheet: Worksheet, letter: str, formula: str, message: str, rows: tuple[int, int] = (2, LAST_ROW)
) -> None:
    """Offer a list in a column; another value gets a warning but is allowed.

    Parameters
    ----------
    sheet, letter : Worksheet, str
        Where.
    formula : str
        Name or range of the list.
    message : str
        What the warning says; without one there is none.
    rows : (int, int)
        The first and the last.
    """
    from openpyxl.worksheet.datavalidation import DataValidation

    offered = DataValidation(
        type="list", formula1=formula, allow_blank=True, errorStyle="warning", error=message or None
    )
    offered.showErrorMessage = bool(message)
    offered.add(f"{letter}{rows[0]}:{letter}{rows[1]}")
    sheet.add_data_validation(offered)
