"""Writes a sheet from the top down: words, numbers and formulas, then its page for the printer."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from textwrap import wrap
from zlib import compress

from estimator.errors import WorkbookRefused, fault
from estimator.workbook.writing.book import Book, PageSetup, set_page
from estimator.workbook.writing.row_xml import (
    RowText,
    SheetData,
    empty_cell,
    formula_cell,
    number_cell,
    text_cell,
)
from estimator.workbook.writing.safe_text import looks_like_formula

MOST_ROWS = 1_048_576
_LINE_HEIGHT_PT = 12.0
_TITLE_HEIGHT_PT = 22.0
_ROW_HEIGHT_PT = 15.0
_TALLEST_ROW_PT = 409.0
# Letters of nine points run about 1.25 to a unit of width; those of wide scripts take two.
_LETTERS_PER_WIDTH = 1.2
_FIRST_WIDE_LETTER = "\u2e80"
# Day 1 is the first of January 1900, and a day that never was follows its February.
_DAY_ZERO = date(1899, 12, 30)


@dataclass(frozen=True)
class Column:
    """A column: its heading with the unit in it, its width [characters], and how it is set."""

    heading: str
    width: float
    is_number: bool = False


class SheetPen:
    """Writes one sheet; `row` is the row that is being written, from 1.

    Parameters
    ----------
    book : Book
        The workbook.
    title : str
        One of its sheets, still empty.
    columns : sequence of Column
        From the left.
    """

    def __init__(self, book: Book, title: str, columns: Sequence[Column]) -> None:
        from openpyxl.utils import get_column_letter

        self.book, self.sheet, self.columns = book, book.workbook[title], columns
        self.row = 1
        self._rows: dict[int, RowText] = {}
        self._settled: list[bytes] = []
        self._last_row = 0
        self._merged: list[str] = []
        self.letters = [get_column_letter(n) for n in range(1, len(columns) + 1)]
        for letter, column in zip(self.letters, columns, strict=True):
            self.sheet.column_dimensions[letter].width = column.width

    @property
    def _here(self) -> RowText:
        if self.row not in self._rows:
            if self.row > MOST_ROWS:
                raise fault(
                    WorkbookRefused,
                    f"the sheet {self.sheet.title} would need more than {MOST_ROWS:,} rows",
                    "price the phases as separate scopes",
                )
            self._rows[self.row] = RowText(self.row)
        return self._rows[self.row]

    def text(self, column: int, words: str, style: str = "plain") -> None:
        """Write words into a column of this row; columns count from 1."""
        self._put_words(column, words, style)
        lines = line_count(words, self.columns[column - 1].width)
        if lines > 1:
            self._grow(lines * _LINE_HEIGHT_PT + 3)

    def _put_words(self, column: int, words: str, style: str) -> None:
        style_id = self.book.style_id(style, is_quoted=looks_like_formula(words))
        self._here.cells[column] = text_cell(self.at(column), style_id, words)

    def _grow(self, height_pt: float) -> None:
        """Make this row at least so high: not every program fits a row to its words."""
        row = self._here
        row.height_pt = min(_TALLEST_ROW_PT, max(row.height_pt or 0.0, height_pt))

    def number(self, column: int, value: float | date | None, style: str) -> None:
        """Write a number or a day; None leaves the cell empty, but for its rule."""
        address, style_id = self.at(column), self.book.style_id(style)
        if isinstance(value, date):
            value = (value - _DAY_ZERO).days
        if value is None:
            self._here.cells[column] = empty_cell(address, style_id)
        else:
            self._here.cells[column] = number_cell(address, style_id, value)

    def formula(self, column: int, formula: str, value: float, style: str) -> None:
        """Write a formula without its equals sign, and the value that it comes to."""
        style_id = self.book.style_id(style)
        self._here.cells[column] = formula_cell(self.at(column), style_id, formula, value)

    def sum(self, column: int, first_row: int, value: float, style: str) -> None:
        """Write the sum of a column's cells from a row down to the row above."""
        parts = f"{self.at(column, first_row)}:{self.at(column, self.row - 1)}"
        self.formula(column, f"ROUND(SUM({parts}),2)", value, style)

    def fill(self, style: str) -> None:
        """Set the cells of this row that are still empty in a style."""
        for column in range(1, len(self.columns) + 1):
            if column not in self._here.cells:
                self.number(column, None, style)

    def down(self, rows: int = 1) -> None:
        """Go on to a lower row."""
        self.row += rows

    def settle(self) -> None:
        """Settle the rows written so far, to which there is no going back.

        As text they take a fifth of the memory, and packed a hundredth: that counts on a sheet of
        60,000.
        """
        self._last_row = max(self._rows, default=self._last_row)
        text = "".join(self._rows[number].xml() for number in sorted(self._rows))
        self._settled.append(compress(text.encode(), level=1))
        self._rows.clear()

    def go_to(self, row: int) -> None:
        """Go to a row, above or below."""
        self.down(row - self.row)

    def break_page(self) -> None:
        """Begin a new page below the row that was written last."""
        from openpyxl.worksheet.pagebreak import Break

        self.sheet.row_breaks.append(Break(id=self.row - 1))

    def at(self, column: int, row: int | None = None) -> str:
        """Return an address on this sheet: `F12`, of this row unless another is named."""
        return f"{self.letters[column - 1]}{row or self.row}"

    def from_elsewhere(self, column: int, row: int | None = None) -> str:
        """Return the fixed address for another sheet: `'Cost lines'!$F$12`."""
        return f"'{self.sheet.title}'!${self.letters[column - 1]}${row or self.row}"

    def column_from_elsewhere(self, column: int, first_row: int) -> str:
        """Return the fixed range for another sheet, from a row down to the row above."""
        letter = self.letters[column - 1]
        return f"'{self.sheet.title}'!${letter}${first_row}:${letter}${self.row - 1}"

    def across(self, words: str, style: str = "note") -> None:
        """Write words over all columns, with room for as many lines as they need."""
        self._put_words(1, words, style)
        self.fill(style)
        self._merged.append(f"A{self.row}:{self.letters[-1]}{self.row}")
        width = sum(column.width for column in self.columns)
        if style == "title":
            self._grow(line_count(words, width / 2) * _TITLE_HEIGHT_PT + 3)
        else:
            self._grow(max(_ROW_HEIGHT_PT, line_count(words, width) * _LINE_HEIGHT_PT + 3))
        self.down()

    def over(self, first: int, last: int, words: str, style: str = "plain") -> None:
        """Write words over the columns from one to another, with room for as many lines."""
        self._put_words(first, words, style)
        if last == first:
            self._grow(line_count(words, self.columns[first - 1].width) * _LINE_HEIGHT_PT + 3)
            return
        for column in range(first + 1, last + 1):
            self.number(column, None, style)
        self._merged.append(f"{self.at(first)}:{self.at(last)}")
        width = sum(column.width for column in self.columns[first - 1 : last])
        self._grow(max(_ROW_HEIGHT_PT, line_count(words, width) * _LINE_HEIGHT_PT + 3))

    def heading(self) -> None:
        """Write the headings of the columns."""
        for number, column in enumerate(self.columns, start=1):
            self.text(number, column.heading, "head right" if column.is_number else "head")
        self.down()

    def section(self, title: str, headings: Sequence[str]) -> None:
        """Write the title of a table within the sheet, after an empty row, and its headings."""
        self.down()
        self.across(title, "section")
        for number, words in enumerate(headings, start=1):
            self.text(number, words, "head right" if self.columns[number - 1].is_number else "head")
        self.down()

    def top(self, title: str, note: str, names: int = 0) -> None:
        """Write the title, a note on how to read the sheet, and frozen, repeated headings.

        Where the first columns name the rows on each page of a sheet of several pages beside each
        other, the note stands above these alone: over all columns, all pages but one cut it off.
        """
        self.across(title, "title")
        if names:
            self.over(1, names, note, "note")
            self.down()
            self.sheet.print_title_cols = f"A:{self.letters[names - 1]}"
        else:
            self.across(note)
        self.down()
        heading_row = self.row
        self.heading()
        self.sheet.freeze_panes = f"{self.letters[names]}{self.row}"
        self.sheet.print_title_rows = f"{heading_row}:{heading_row}"

    def finish(self, page: PageSetup) -> None:
        """Hand the rows to the workbook, and set up the page."""
        self.settle()
        extent = f"A1:{self.letters[-1]}{self._last_row}"
        self.book.data[self.sheet.title] = SheetData(extent, self._settled, self._merged)
        set_page(self.sheet, page, extent)


def line_count(words: str, width: float) -> int:
    r"""Return how many lines words take in a column of a width [characters], rather more than less.

    Examples
    --------
    >>> line_count("Plank floor taken up for reuse, west bay", 46), line_count("Rate\n[$]", 46)
    (1, 2)
    """
    letters = max(1, int(width * _LETTERS_PER_WIDTH))
    wide = 0 if words.isascii() else sum(letter >= _FIRST_WIDE_LETTER for letter in words)
    if len(words) + wide <= letters and "\n" not in words:
        return 1
    lines = sum(len(wrap(part, letters)) or 1 for part in words.split("\n"))
    return lines + -(-wide // letters)
