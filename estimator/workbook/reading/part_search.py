"""Searches one unpacked part of a workbook for what a parser must not meet.

Byte patterns over the raw XML, on purpose no parser: a parser is what is being protected.
"""

from __future__ import annotations

import re
from xml.etree import ElementTree

from estimator.errors import WorkbookRefused, fault
from estimator.workbook.reading.shown_value import MOST_COLUMNS, MOST_ROWS

_LARGEST_LINKS_BYTES = 200_000

# The longest text of a cell, 32,767 characters, may be written with up to eight bytes for each.
_ENDLESS = re.compile(rb"<[^<]{300000}")

_UTF8_MARK = b"\xef\xbb\xbf"
_OTHER_ENCODING = re.compile(
    rb"""<\?xml[^>]*?\sencoding\s*=\s*["'](?!(?:utf-?8|us-ascii)["'])""", re.IGNORECASE
)
_DECLARATION = re.compile(rb"<!(?!--|\[CDATA\[)")

_ROW = rb"(?:[1-9]\d{0,3}|1\d{4}|2[0-4]\d{3}|25000)"
_COLUMN = rb"(?:[A-Z]|A[A-Z]|B[A-H])"
_SHEET = re.compile(rb"<(?:[\w.-]+:)?sheetData[\s/>]")
_ROW_TAG = re.compile(rb"<(?:[\w.-]+:)?row[\s/>]")
_CELL_TAG = re.compile(rb"<(?:[\w.-]+:)?c[\s/>]")
# A row far down that holds no cell is harmless, and some programs write one when they save. The
# search for its end stops at another r=, or else a tag full of them would take forever.
_EMPTY_FAR_ROW = rb"""\d{1,7}["'](?:[^<>\s]|\s(?!r\s*=))*(?:(?<=/)>|>\s*</[\w.:-]*row\s*>)"""
_FAR_REFERENCE = re.compile(
    rb"""[\s"']r\s*=\s*["'](?!(?:"""
    + _COLUMN + rb")?" + _ROW
    + rb"""["'])(?!""" + _EMPTY_FAR_ROW + rb""")(?P<cell>[^"'<>]{0,20})"""
)  # fmt: skip
_FAR_EXTENT = re.compile(
    rb"""<(?:[\w.-]+:)?dimension\s[^<>]*?ref\s*=\s*["'](?!"""
    + _COLUMN + _ROW + rb"(?::" + _COLUMN + _ROW + rb")?"
    + rb"""["'])(?P<cell>[^"'<>]{0,20})"""
)  # fmt: skip


def refuse_hostile_part(name: str, data: bytes, *, is_read: bool = True) -> None:
    """Raise if a part holds something harmful.

    Parameters
    ----------
    name : str
        Of the part, in lower case.
    data : bytes
        All of it, unpacked.
    is_read : bool
        False for a sheet that nobody reads: its cells may reach as far as they like.

    Raises
    ------
    WorkbookRefused
        If it declares entities, is not UTF-8, points outside of the file, holds cells out of all
        reach, or more rows and columns than a scope has.
    """
    if not name.endswith((".xml", ".rels", ".vml")):
        return
    _refuse_by_encoding(data)
    if _ENDLESS.search(data):
        raise fault(WorkbookRefused, "holds a tag or text longer than any that a scope needs")
    if _DECLARATION.search(data):
        raise fault(WorkbookRefused, "declares XML entities or types, which no scope needs")
    if name.endswith(".rels"):
        _refuse_by_links(data)
    if name == "[content_types].xml" and b"macroenabled" in data.lower():
        raise fault(WorkbookRefused, "holds macros", "save it as .xlsx without macros")
    if is_read and _SHEET.search(data):
        _refuse_by_cells(data)


def _refuse_by_encoding(data: bytes) -> None:
    start = data.removeprefix(_UTF8_MARK).lstrip()[:1]
    if start not in (b"<", b"") or b"\0" in data or _OTHER_ENCODING.search(data[:400]):
        raise fault(WorkbookRefused, "holds a part that is not XML in UTF-8")


def _refuse_by_links(data: bytes) -> None:
    """Refuse what is fetched from outside; a web address that somebody typed is only text."""
    if len(data) > _LARGEST_LINKS_BYTES:
        raise fault(WorkbookRefused, "has too many links between its parts")
    try:
        links = ElementTree.fromstring(data)  # noqa: S314 (short, and without declarations)
    except ElementTree.ParseError as error:
        raise fault(WorkbookRefused, "is damaged: it is not XML inside") from error
    for link in links.iter():
        is_outside = link.get("TargetMode", "").strip().lower() == "external"
        if is_outside and not link.get("Type", "").endswith("/hyperlink"):
            raise fault(
                WorkbookRefused,
                "links to other files",
                "break the links, so that values stand instead",
            )


def _refuse_by_cells(data: bytes) -> None:
    match = _FAR_REFERENCE.search(data) or _FAR_EXTENT.search(data)
    if match:
        place = match["cell"].decode("ascii", "replace")
        raise fault(
            WorkbookRefused,
            f"reaches as far as {'row ' if place.isdigit() else ''}{place}, "
            f"beyond {MOST_ROWS:,} rows and {MOST_COLUMNS} columns",
            "delete rows and columns outside its tables, and save it again",
        )
    start = 0
    for number, tag in enumerate(_ROW_TAG.finditer(data)):
        if number >= MOST_ROWS:
            what = f"has a sheet of more than {MOST_ROWS:,} rows"
            raise fault(
                WorkbookRefused, what, "delete rows that hold nothing, or make two files of it"
            )
        _refuse_wide(data, start, tag.start())
        start = tag.start()
    _refuse_wide(data, start, len(data))


def _refuse_wide(data: bytes, start: int, end: int) -> None:
    """Refuse a row of many cells; they need not say where they stand, so they are counted."""
    at_most = data.count(b"<c", start, end) + data.count(b":c", start, end)
    if at_most > MOST_COLUMNS and len(_CELL_TAG.findall(data, start, end)) > MOST_COLUMNS:
        raise fault(WorkbookRefused, f"has a row of more than {MOST_COLUMNS} cells")
