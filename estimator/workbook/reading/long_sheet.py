"""The cells of a sheet however long: searched as the guard does, never parsed.

A report of 70,000 lines is no form that somebody fills in. Its cells are found in a twentieth of
the time that it takes to read those of a form, and a row at a time is in memory.
"""

from __future__ import annotations

import io
import re
import zipfile
from collections.abc import Iterator, Mapping, Sequence
from html import unescape

from estimator.workbook.reading.shown_value import spelled_out
from estimator.workbook.reading.unread_parts import BOOK, BOOK_LINKS, part_of_sheet

_SHARED_TEXTS = "xl/sharedStrings.xml"
_P = rb"(?:[\w.-]{1,20}:)?"
# Every part of a pattern ends at the next tag, or a file could make the search take forever.
_CELL = re.compile(
    rb"<" + _P + rb"""c(\s[^<>]{0,60}?)?\sr=["']([A-Z]{1,3})(\d{1,7})["']([^<>]{0,90})>\s*"""
    rb"(?:<" + _P + rb"f(?:\s[^<>]*)?(?:(?<=/)>|>[^<]*</" + _P + rb"f>)\s*)?"
    rb"(?:<" + _P + rb"is>\s*)?<" + _P + rb"[vt](?:\s[^<>]*)?>([^<]*)<"
)  # fmt: skip
_TEXT = re.compile(rb"<(/?)" + _P + rb"(?:(si)|t)(?:\s[^<>]*)?(/?)>([^<]*)")

_DIGITS = 10
_NO_LETTER = re.compile(f"&#[0-9]{{{_DIGITS}}}")  # the number of none


def long_sheet_rows(content: bytes, title: str) -> Iterator[tuple[int, Mapping[str, str]]]:
    """Yield the rows of a sheet: the number of each, and its texts by letter of the column.

    Parameters
    ----------
    content : bytes
        A workbook that `refuse_hostile` let pass.
    title : str
        Of the sheet; capitals do not matter. Of one that is not there come no rows.

    Notes
    -----
    A number is the text that the file has for it, a day its number from 1900. Cells that do not
    say where they stand are passed over; formatted runs within a cell of its own text, too.
    """
    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        names = set(archive.namelist())
        has_lists = {BOOK, BOOK_LINKS} <= names
        part = has_lists and part_of_sheet(archive.read(BOOK), archive.read(BOOK_LINKS), title)
        data = archive.read(part) if part and part in names else b""
        shared = archive.read(_SHARED_TEXTS) if data and _SHARED_TEXTS in names else b""
    return _rows(data, _shared_texts(shared))


def _rows(data: bytes, shared: Sequence[str]) -> Iterator[tuple[int, Mapping[str, str]]]:
    number, cells = b"", dict[str, str]()
    for cell in _CELL.finditer(data):
        before, letters, row, after, inside = cell.groups()
        if row != number:
            if cells:
                yield int(number), cells
            number, cells = row, {}
        tag = after + before if before else after
        is_shared = b' t="s"' in tag or b" t='s'" in tag
        cells[letters.decode()] = _shared(inside, shared) if is_shared else _text(inside)
    if cells:
        yield int(number), cells


def _shared(place: bytes, shared: Sequence[str]) -> str:
    """Return a text by its place in the list of them; empty where there is none."""
    is_place = place.isdigit() and len(place) < _DIGITS
    return shared[int(place)] if is_place and int(place) < len(shared) else ""


def _shared_texts(data: bytes) -> Sequence[str]:
    """Return the texts that the sheets share, in their order; a text may have several runs."""
    texts, runs = list[str](), list[str]()
    for is_end, item, is_empty, inside in (tag.groups() for tag in _TEXT.finditer(data)):
        if not item and not is_end:
            runs.append(_text(inside))
        elif item and (is_end or is_empty):
            texts.append("".join(runs))
            runs.clear()
    return texts


def _text(inside: bytes) -> str:
    text = inside.decode(errors="replace")
    is_spelled = ("&" in text or "_x00" in text) and not _NO_LETTER.search(text)
    return spelled_out(unescape(text)) if is_spelled else text
