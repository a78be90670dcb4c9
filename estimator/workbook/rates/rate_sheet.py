"""One rate table as a sheet: headings, cells, lists to choose from, and its printed page."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from copy import copy
from dataclasses import dataclass
from datetime import date
from textwrap import wrap
from typing import TYPE_CHECKING, Any

from estimator.assemblies.assembly import CREDIT_ANSWERS
from estimator.charts.palette import BAND, GRAY, INK, RULE
from estimator.production.crews import ORDERED_PER
from estimator.rates.densities import STATES
from estimator.rates.folders import COLUMNS
from estimator.rates.kinds import KINDS
from estimator.rates.rows import EARLIEST, LATEST, Row
from estimator.workbook.rates.column_numbers import (
    DAY_COLUMNS,
    NUMBER_COLUMNS,
    day_of,
    is_plain_number,
    number_of,
)
from estimator.workbook.writing.book import fit_to_letter
from estimator.workbook.writing.look import DAY, TYPEFACE
from estimator.workbook.writing.safe_text import put_text

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet

# The cells of the workbook library: what is declared of them leaves out their style.
StyledCell = Any

CHOICES: Mapping[tuple[str, str], Sequence[str]] = {
    ("resources.csv", "kind"): KINDS,
    ("resources.csv", "paid"): ("yes", "no"),
    ("crews.csv", "ordered_per"): ORDERED_PER,
    ("assemblies.csv", "credit"): CREDIT_ANSWERS,
    ("assembly_lines.csv", "ordered_per"): ORDERED_PER,
    ("densities.csv", "state"): STATES,
}

_WIDTHS = {
    "code": 22, "name": 30, "kind": 12, "unit": 9, "rate": 9, "low": 8, "high": 8, "date": 10,
    "valid_until": 10, "paid": 6, "source": 28, "note": 30, "crew": 17, "resource": 23,
    "number": 8, "order_multiple": 13, "ordered_per": 11, "quantity": 28, "element": 8,
    "credit": 7, "cautions": 26, "assembly": 23, "input": 17, "default": 16, "least": 7,
    "most": 8, "formula": 28, "meaning": 30, "line": 5, "waste": 12, "minimum": 9, "order": 6,
    "percent": 8, "sum": 9, "on": 26, "material": 23, "density": 8, "state": 11, "decimals": 9,
    "caution": 60, "defer_to": 26, "sold_as": 20, "bought_as": 20,
    "week": 9, "month": 9, "delivery": 9, "pick_up": 9, "brought_by": 17, "included_hours": 9,
    "over_hour": 9,
}  # fmt: skip
_RIGHT_COLUMNS = NUMBER_COLUMNS | set(DAY_COLUMNS)
_NUMBER_FORMATS = ("0", "0.0", "0.00", "0.000", "0.0000", "0.00000", "0.000000")
_EMPTY_ROWS_WITH_CHOICES = 200
_SIZE_PT, _FOOTER_PT, _LINE_HEIGHT_PT, _TALLEST_PT = 9, 8, 12.0, 409.0
# Letters of nine points run about four to three units of column width.
_LETTERS_PER_WIDTH, _INDENT_WIDTH = 1.35, 1.5


@dataclass(frozen=True)
class Table:
    """A table by its file name, with its rows as text."""

    file: str
    rows: tuple[Row, ...]


def write_table_sheet(sheet: Worksheet, table: Table, set_name: str) -> None:
    """Write a table into an empty sheet.

    Parameters
    ----------
    sheet : openpyxl Worksheet
        Of an ordinary workbook.
    table : Table
        Its rows keep their numbers: row 12 of the file is row 12 of the sheet.
    set_name : str
        Printed in the footer.

    Notes
    -----
    A number stands as a number, and a day as a day, only if reading the cell gives back the same
    characters; what was typed in another way stays text, set to the right like the numbers.
    """
    columns = COLUMNS[table.file]
    styles = _Styles(sheet)
    for number, name in enumerate(columns, start=1):
        heading: StyledCell = sheet.cell(1, number)
        styles.put(heading, "head right" if name in _RIGHT_COLUMNS else "head")
        put_text(heading, name)
    for row in table.rows:
        for number, name in enumerate(columns, start=1):
            _write_cell(sheet.cell(row.origin.row, number), name, row.cells[name], styles)
        sheet.row_dimensions[row.origin.row].height = _height_pt(row.cells)
    _set_page(sheet, columns, set_name)
    _offer_choices(sheet, table.file)


class _Styles:
    """The few ways in which cells are set, each made once: making one costs more than a cell."""

    def __init__(self, sheet: Worksheet) -> None:
        self._sheet = sheet
        self._made: dict[str, Any] = {}

    def put(self, cell: StyledCell, style: str) -> None:
        if style not in self._made:
            _set_style(cell, style)
            self._made[style] = copy(cell._style)
        cell._style = copy(self._made[style])


def _set_style(cell: StyledCell, style: str) -> None:
    """Set a cell: `head`, `head right`, `text`, `right`, or right with a number format."""
    from openpyxl.styles import Alignment, Border, Font, PatternFill, Side

    is_head, is_text = style.startswith("head"), style in ("head", "text")
    cell.font = Font(name=TYPEFACE, size=_SIZE_PT, bold=is_head, color=GRAY if is_head else INK)
    cell.alignment = Alignment(
        horizontal="left" if is_text else "right",
        vertical="top",
        wrap_text=style == "text",
        indent=1 if is_text else 0,
    )
    cell.border = Border(bottom=Side(style="medium" if is_head else "hair", color=RULE))
    if is_head:
        cell.fill = PatternFill("solid", start_color=BAND, end_color=BAND)
    elif style not in ("text", "right"):
        cell.number_format = style


def _write_cell(cell: StyledCell, name: str, text: str, styles: _Styles) -> None:
    number = number_of(name, text)
    day = day_of(text) if name in DAY_COLUMNS else None
    if number is not None:
        styles.put(cell, _NUMBER_FORMATS[len(text.partition(".")[2])])
        cell.value = number
    elif day is not None:
        styles.put(cell, DAY)
        cell.value = day
    else:
        styles.put(cell, "right" if is_plain_number(name, text) else "text")
        if text:
            put_text(cell, text)


def _height_pt(cells: Mapping[str, str]) -> float:
    """Return the height of a row in which every text has room, at as many letters as it is wide."""
    letters = {name: int((_WIDTHS[name] - _INDENT_WIDTH) * _LETTERS_PER_WIDTH) for name in cells}
    lines = (
        len(wrap(text, letters[name])) for name, text in cells.items() if len(text) > letters[name]
    )
    return min(_TALLEST_PT, _LINE_HEIGHT_PT * max(lines, default=1) + 2)


def _set_page(sheet: Worksheet, columns: Sequence[str], set_name: str) -> None:
    """Set widths, frozen and repeated headings, and a letter page that all columns fit."""
    from openpyxl.utils import get_column_letter

    for number, name in enumerate(columns, start=1):
        sheet.column_dimensions[get_column_letter(number)].width = _WIDTHS[name]
    sheet.freeze_panes = "B2"
    sheet.print_title_rows = "1:1"
    fit_to_letter(sheet, is_wide=True)
    footer: Any = sheet.oddFooter
    footer.left.text = f"Rate tables: {set_name}".replace("&", "&&")
    footer.right.text = "&A, page &P of &N"
    footer.left.size = footer.right.size = _FOOTER_PT


def _offer_choices(sheet: Worksheet, file: str) -> None:
    """Put lists to choose from on the columns of known words, and on days a check of the date."""
    from openpyxl.utils import get_column_letter
    from openpyxl.worksheet.datavalidation import DataValidation

    last = sheet.max_row + _EMPTY_ROWS_WITH_CHOICES
    for number, name in enumerate(COLUMNS[file], start=1):
        words = CHOICES.get((file, name))
        if words is not None:
            offered = DataValidation("list", formula1=f'"{",".join(words)}"', allow_blank=True)
            offered.error = f"One of: {', '.join(words)}"
        elif name in DAY_COLUMNS:
            offered = DataValidation("date", "between", allow_blank=True)
            offered.formula1, offered.formula2 = _serial(EARLIEST), _serial(LATEST)
            offered.error = f"A day from {EARLIEST.year} to {LATEST.year}"
        else:
            continue
        offered.errorTitle, offered.showErrorMessage = name, True
        letter = get_column_letter(number)
        offered.add(f"{letter}2:{letter}{last}")
        sheet.add_data_validation(offered)


def _serial(day: date) -> str:
    """Return a day as a spreadsheet counts it."""
    return str((day - date(1899, 12, 30)).days)
