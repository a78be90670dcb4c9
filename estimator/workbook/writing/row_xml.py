"""The rows of a long sheet as the text of its part in the file.

The library that lays out our sheets writes about 1,500 rows a second and leaves formulas without a
value, so that a telephone shows an empty estimate. Rows are few kinds of cells; written here, they
take a tenth of the time, and each formula carries what it comes to.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from xml.sax.saxutils import escape
from zlib import decompress

from estimator.workbook.writing.safe_text import cell_text


@dataclass(frozen=True)
class SheetData:
    """What a sheet holds: the range it covers (`A1:L480`), its packed rows, its merged ranges."""

    extent: str
    rows: Sequence[bytes]
    merged: Sequence[str]

    def pieces(self) -> Iterator[bytes]:
        """Yield the rows, and after them, in the order of the format, the merged ranges."""
        yield b"<sheetData>"
        yield from map(decompress, self.rows)
        merged = "".join(f'<mergeCell ref="{one}"/>' for one in self.merged)
        count = len(self.merged)
        after = f'<mergeCells count="{count}">{merged}</mergeCells>' if count else ""
        yield f"</sheetData>{after}".encode()


@dataclass
class RowText:
    """One row under way: its cells by column, from 1, and its height if it is not the usual one."""

    number: int
    cells: dict[int, str] = field(default_factory=dict)
    height_pt: float | None = None

    def xml(self) -> str:
        """Return the row with its cells in order of columns."""
        height = f' ht="{self.height_pt:g}" customHeight="1"' if self.height_pt else ""
        cells = "".join(self.cells[column] for column in sorted(self.cells))
        return f'<row r="{self.number}"{height}>{cells}</row>'


def empty_cell(address: str, style_id: int) -> str:
    """Return a cell that is set but holds nothing."""
    return f'<c r="{address}" s="{style_id}"/>'


def text_cell(address: str, style_id: int, words: str) -> str:
    """Return a cell of text, which stays text whatever it looks like.

    Examples
    --------
    >>> text_cell("A1", 3, "=1+1 & more")
    '<c r="A1" s="3" t="inlineStr"><is><t xml:space="preserve">=1+1 &amp; more</t></is></c>'
    """
    inner = f'<t xml:space="preserve">{escape(cell_text(words))}</t>'
    return f'<c r="{address}" s="{style_id}" t="inlineStr"><is>{inner}</is></c>'


def number_cell(address: str, style_id: int, value: float) -> str:
    """Return a cell of a number."""
    return f'<c r="{address}" s="{style_id}"><v>{_digits(value)}</v></c>'


def formula_cell(address: str, style_id: int, formula: str, value: float) -> str:
    """Return a cell of a formula, written without its equals sign, and what it comes to.

    Examples
    --------
    >>> formula_cell("K5", 3, "ROUND(G5*I5,2)", 155.2)
    '<c r="K5" s="3"><f>ROUND(G5*I5,2)</f><v>155.2</v></c>'
    """
    return f'<c r="{address}" s="{style_id}"><f>{escape(formula)}</f><v>{_digits(value)}</v></c>'


def _digits(value: float) -> str:
    """Return the shortest digits that read back as the same number."""
    whole = int(value)
    return str(whole) if whole == value else repr(float(value))
