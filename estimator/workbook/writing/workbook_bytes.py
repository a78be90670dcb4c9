"""A workbook as bytes that depend on its contents alone, with the mark of the program."""

from __future__ import annotations

import io
import re
import zipfile
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, datetime, time
from typing import TYPE_CHECKING

from estimator.errors import WorkbookRefused, fault
from estimator.own_mark import CORE_PROPERTIES, PROGRAM, parts_mark
from estimator.workbook.writing.row_xml import SheetData

if TYPE_CHECKING:
    from openpyxl import Workbook

_NO_ROWS = re.compile("<sheetData ?/>|<sheetData></sheetData>")
_EXTENT = re.compile('<dimension ref="[^"]*" ?/>')
_ARCHIVE_EPOCH = (1980, 1, 1, 0, 0, 0)
_CONTENT_TYPES = "[Content_Types].xml"
_EXTENDED_PROPERTIES = "docProps/app.xml"
_UNIX = 3
_PLAIN_FILE = 0o644 << 16
_PROGRAM = (
    '<Properties xmlns="http://schemas.openxmlformats.org/officeDocument/2006/extended-properties">'
    f"<Application>{PROGRAM}</Application></Properties>"
)


def workbook_bytes(
    workbook: Workbook, on: date, rows: Mapping[str, SheetData] | None = None
) -> bytes:
    """Return a workbook as a file's bytes, the same for the same contents at any time.

    Parameters
    ----------
    workbook : openpyxl Workbook
        Ordinary or write-only; it cannot be saved again after this if it is write-only.
    on : date
        Written as the day it was created and changed on, in place of the clock.
    rows : mapping of str to SheetData, optional
        By title, the rows of sheets that hold none in the workbook.

    Notes
    -----
    Parts are written in order of their names, the list of contents first, each with the earliest
    time stamp that an archive can hold.
    """
    parts = _parts(workbook)
    parts.pop(CORE_PROPERTIES)
    # The library writes the name of another program here, whose values are then trusted unread.
    parts[_EXTENDED_PROPERTIES] = [_PROGRAM.encode()]
    for number, sheet in enumerate(workbook.worksheets, start=1):
        name = f"xl/worksheets/sheet{number}.xml"
        if rows and sheet.title in rows:
            parts[name] = _with_rows(b"".join(parts[name]), rows[sheet.title])
    parts[CORE_PROPERTIES] = [_core_properties(workbook, on, parts_mark(parts.items()))]
    first = {_CONTENT_TYPES: parts.pop(_CONTENT_TYPES)}
    whole = io.BytesIO()
    with zipfile.ZipFile(whole, "w") as archive:
        for name, pieces in (*first.items(), *sorted(parts.items())):
            entry = zipfile.ZipInfo(name, _ARCHIVE_EPOCH)
            entry.compress_type = zipfile.ZIP_DEFLATED
            entry.create_system, entry.external_attr = _UNIX, _PLAIN_FILE
            with archive.open(entry, "w") as part:
                part.writelines(pieces)
    return whole.getvalue()


def _parts(workbook: Workbook) -> dict[str, Iterable[bytes]]:
    """Return the parts of the file by name, each in pieces that are never put together."""
    saved = io.BytesIO()
    workbook.save(saved)
    with zipfile.ZipFile(saved) as archive:
        return {name: [archive.read(name)] for name in archive.namelist()}


@dataclass(frozen=True)
class _SheetPart:
    """The part of a sheet, which is unpacked as often as it is read, and never put together."""

    before: bytes
    data: SheetData
    after: bytes

    def __iter__(self) -> Iterator[bytes]:
        yield self.before
        yield from self.data.pieces()
        yield self.after


def _with_rows(sheet: bytes, data: SheetData) -> _SheetPart:
    """Return the part of a sheet, which the library left without rows, with its rows."""
    part = _EXTENT.sub(f'<dimension ref="{data.extent}" />', sheet.decode())
    around = _NO_ROWS.split(part)
    if len(around) != 2:
        raise fault(WorkbookRefused, "rows can be added only to a sheet that has none")
    return _SheetPart(around[0].encode(), data, around[1].encode())


def _core_properties(workbook: Workbook, on: date, mark: str) -> bytes:
    """Return the part that says who made the file and when, without the clock's time in it."""
    from openpyxl.xml.functions import tostring

    properties = workbook.properties
    properties.creator, properties.identifier = PROGRAM, mark
    properties.created = properties.modified = datetime.combine(on, time())
    content: bytes | str = tostring(properties.to_tree())
    return content.encode() if isinstance(content, str) else content
