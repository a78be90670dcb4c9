"""Text into cells, so that no word of a user can become a formula, a link or damage."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from estimator.errors import WorkbookRefused, fault, quoted

if TYPE_CHECKING:
    from openpyxl.cell.cell import Cell

LONGEST_TEXT = 32_767

# What a spreadsheet takes for the start of a formula when the cell is edited or saved as CSV,
# with the full-width forms that some keyboards type.
_FORMULA_STARTS = ("=", "+", "-", "@", "＝", "＋", "－", "＠")
# XML 1.0 (section 2.2) has no place for these, nor UTF-8 for half of a surrogate pair.
_NOT_IN_XML = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f\ud800-\udfff\ufffe\uffff]")
# A cell text spells a character by its number as _x0041_: an underscore before it says "not so".
_NUMBERED = re.compile("_(?=x[0-9A-Fa-f]{4}_)")
_LINE_ENDS = re.compile("\r\n?|[\x85\u2028\u2029]")


def clean_text(text: str) -> str:
    r"""Return a text as a cell can hold it: control characters taken out, tabs as spaces.

    Parameters
    ----------
    text : str
        Line breaks stay, as line feeds.

    Raises
    ------
    WorkbookRefused
        If it is longer than the 32,767 characters of a cell, which would be cut silently.

    References
    ----------
    ECMA-376 part 1, section 22.9.2.19 (text of a cell, from memory); the length is the published
    limit of a cell in common spreadsheets, counted in UTF-16 units.

    Examples
    --------
    >>> clean_text("pit\x00 no. 3\tdry\r\nto the wall")
    'pit no. 3 dry\nto the wall'
    """
    cleaned = _NOT_IN_XML.sub("", _LINE_ENDS.sub("\n", text)).replace("\t", " ")
    if _utf16_units(cleaned) > LONGEST_TEXT:
        raise fault(
            WorkbookRefused,
            f"the text {quoted(cleaned)} has {len(cleaned):,} characters, more than a cell holds",
            f"shorten it to {LONGEST_TEXT:,} characters",
        )
    return cleaned


def _utf16_units(text: str) -> int:
    return len(text) if text.isascii() else len(text.encode("utf-16-le")) // 2


def looks_like_formula(text: str) -> bool:
    """Return whether a spreadsheet would take the text for a formula if it were typed in.

    Examples
    --------
    >>> looks_like_formula("=1+1"), looks_like_formula(" @sum"), looks_like_formula("1+1")
    (True, True, False)
    """
    return _NOT_IN_XML.sub("", text).lstrip().startswith(_FORMULA_STARTS)


def cell_text(text: str) -> str:
    r"""Return a text as a file stores it: cleaned, and nothing in it read as a character's number.

    Examples
    --------
    >>> cell_text("size _x0041_")
    'size _x005F_x0041_'
    """
    return _NUMBERED.sub("_x005F_", clean_text(text))


def csv_text(text: str) -> str:
    """Return a text for a CSV file, with an apostrophe before what looks like a formula.

    Examples
    --------
    >>> csv_text("=1+1"), csv_text("Quarry")
    ("'=1+1", 'Quarry')
    """
    cleaned = clean_text(text)
    return f"'{cleaned}" if looks_like_formula(cleaned) else cleaned


def put_text(cell: Cell, text: str) -> None:
    """Write a text into a cell as text, whatever it looks like; its style must be set before.

    Parameters
    ----------
    cell : openpyxl cell
        Of an ordinary or a write-only sheet.
    text : str
        Cleaned by `clean_text` on the way in.

    Notes
    -----
    A text such as `=1+1` keeps the string type, and is marked (quote prefix) so that it stays text
    when somebody edits the cell.
    """
    cell.value = cell_text(text)
    cell.data_type = "s"
    if looks_like_formula(text):
        cell.quotePrefix = True
