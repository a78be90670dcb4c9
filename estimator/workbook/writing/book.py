"""A workbook under way: its sheets in order, its styles, and how its pages print."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Any

from estimator.workbook.writing.look import TYPEFACE, named_styles
from estimator.workbook.writing.row_xml import SheetData
from estimator.workbook.writing.safe_text import clean_text
from estimator.workbook.writing.workbook_bytes import workbook_bytes

if TYPE_CHECKING:
    from openpyxl import Workbook
    from openpyxl.worksheet.worksheet import Worksheet

# Letters of a digest that stand where the whole is no use; the last sheet has it in full.
DIGEST_SHOWN = 12
_LONGEST_FOOTER = 70


@dataclass(frozen=True)
class PageSetup:
    """What a sheet prints with: which way up, and the words of the footer."""

    is_wide: bool
    left: str
    middle: str


class Book:
    """A workbook under way.

    Parameters
    ----------
    titles : sequence of str
        The sheets, in order.
    """

    def __init__(self, titles: Sequence[str]) -> None:
        from openpyxl import Workbook

        self.workbook: Workbook = Workbook()
        self.workbook.remove(self.workbook.worksheets[0])
        self.data: dict[str, SheetData] = {}
        self._style_ids: dict[tuple[str, bool], int] = {}
        _set_usual_font(self.workbook)
        for style in named_styles():
            self.workbook.add_named_style(style)
        for title in titles:
            self.workbook.create_sheet(title)

    def style_id(self, style: str, *, is_quoted: bool = False) -> int:
        """Return the number by which cells name a style; quoted if the text looks like a formula.

        A style is looked up once: that takes longer than writing a cell.
        """
        key = style, is_quoted
        if key not in self._style_ids:
            self._style_ids[key] = _style_id(self.workbook, style, is_quoted)
        return self._style_ids[key]

    def content(self, on: date) -> bytes:
        """Return the file's bytes, dated by a day."""
        return workbook_bytes(self.workbook, on, self.data)


def _style_id(workbook: Workbook, style: str, is_quoted: bool) -> int:
    from openpyxl.cell.cell import Cell

    # A cell that stands on no sheet, only to have its style entered in the workbook.
    cell: Any = Cell(workbook.worksheets[0], row=1, column=1)
    cell.style = f"Groundsill {style}"
    if is_quoted:
        cell.quotePrefix = True
    return int(cell.style_id)


def _set_usual_font(workbook: Any) -> None:
    """Set the font whose digits are the unit of column widths to one that every program has."""
    from openpyxl.styles import Font

    normal = workbook._named_styles["Normal"]
    normal.font = Font(name=TYPEFACE, size=10)
    normal.bind(workbook)


def set_page(sheet: Worksheet, page: PageSetup, printed: str) -> None:
    """Set up a page: the printed range fitted to the width of a letter sheet, with a footer."""
    fit_to_letter(sheet, is_wide=page.is_wide)
    sheet.print_area = printed
    sheet.print_options.horizontalCentered = True
    sheet.page_margins.footer = 0.35
    footer: Any = sheet.oddFooter
    footer.left.text = _footer_words(page.left)
    footer.center.text = _footer_words(page.middle)
    footer.right.text = f"{sheet.title}, page &P of &N"
    for part in (footer.left, footer.center, footer.right):
        part.size = 8


def fit_to_letter(sheet: Worksheet, *, is_wide: bool) -> None:
    """Fit all columns to the width of a letter page, without grid lines."""
    from openpyxl.worksheet.properties import PageSetupProperties

    sheet.page_setup.orientation = "landscape" if is_wide else "portrait"
    sheet.page_setup.paperSize = sheet.PAPERSIZE_LETTER
    sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight = 1, 0
    sheet.sheet_properties.pageSetUpPr = PageSetupProperties(fitToPage=True)
    sheet.sheet_view.showGridLines = False
    margins = sheet.page_margins
    margins.left = margins.right = margins.top = 0.5
    margins.bottom = 0.7


def _footer_words(words: str) -> str:
    """Return words for a footer, in which an ampersand starts a command unless it is doubled."""
    line = " ".join(clean_text(words).split())
    if len(line) > _LONGEST_FOOTER:
        line = line[: _LONGEST_FOOTER - 3] + "..."
    return line.replace("&", "&&").replace("&[", "& [")
