"""Refuses a workbook that is built to do harm, or is damaged, before anything parses it.

An .xlsx file is a zip archive of XML parts. In this order: the first bytes tell other kinds of
file; the end of the archive tells how many parts there are; the list of parts tells macros, links
and sizes; then each part is unpacked, to no more than it declares, and searched, never parsed.
"""

from __future__ import annotations

import io
import struct
import zipfile
import zlib
from collections.abc import Collection, Sequence

from estimator.errors import Faults, WorkbookRefused, fault, quoted
from estimator.workbook.reading.part_search import refuse_hostile_part
from estimator.workbook.reading.unread_parts import BOOK, BOOK_LINKS, unread_parts

LARGEST_BYTES = 10_000_000
LARGEST_UNPACKED_BYTES = 50_000_000
MOST_PARTS = 200
MOST_TAGS = 1_000_000

_ARCHIVE_START = b"PK\x03\x04"
_OLD_OFFICE_START = bytes.fromhex("d0cf11e0a1b11ae1")
_ENCRYPTED = "EncryptedPackage".encode("utf-16-le")
_END_RECORD = struct.Struct("<4s4H2LH")
_END_START = b"PK\x05\x06"
_ZIP64_LOCATOR_START = b"PK\x06\x07"
_ZIP64_LOCATOR_BYTES = 20
_LARGEST_LIST_BYTES = 100_000
_HEAD_BYTES = 30
_PLAIN_METHODS = (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED)
_LOCKED_FLAG = 0x1

_DAMAGE = (
    zipfile.BadZipFile, zlib.error, struct.error, EOFError, NotImplementedError, OSError,
    RuntimeError, ValueError,
)  # fmt: skip

_SAVE_AS_XLSX = "save it in a spreadsheet program as .xlsx"
_REMOVE = "remove pictures, and sheets that nobody fills in, such as Ledger"
_SAVE_AGAIN = "open it in a spreadsheet program and save it again"

# Beginnings of part names, in lower case, with what they betray.
_UNWANTED_PARTS = {
    "xl/vbaproject": ("holds macros", "save it as .xlsx without macros"),
    "xl/macrosheets/": ("holds macros", "save it as .xlsx without macros"),
    "xl/dialogsheets/": ("holds macros", "save it as .xlsx without macros"),
    "xl/externallinks/": ("links to other files", "break the links, so that values stand instead"),
    "xl/connections": ("loads data from elsewhere", "remove its data connections"),
    "xl/querytables/": ("loads data from elsewhere", "remove its data connections"),
    "xl/embeddings/": ("has other files embedded in it", "remove them"),
    "xl/activex/": ("has programs embedded in it", "remove them"),
    "xl/workbook.bin": ("is a binary workbook", _SAVE_AS_XLSX),
}


def refuse_hostile(content: bytes, name: str, wanted: Collection[str] | None = None) -> None:
    """Raise if a workbook is damaged, of another kind, too large, or built to do harm.

    Parameters
    ----------
    content : bytes
        The file.
    name : str
        What to call the file in the message.
    wanted : collection of str or None
        Names of the sheets that are read, or all: one that nobody reads may be as long as it likes.

    Raises
    ------
    WorkbookRefused
        With one sentence: the first problem.

    Notes
    -----
    Costs at most one unpacking of 50 MB: what the parts declare is added up first, and a part that
    unpacks to more or less than it declares is damaged. Any text encoding but UTF-8 is refused,
    since the search would not see through it.

    Examples
    --------
    >>> refuse_hostile(b"phase,code,name", "barn.xlsx")
    Traceback (most recent call last):
    estimator.errors.WorkbookRefused: barn.xlsx: is not a workbook; save it in a spreadsheet \
program as .xlsx
    """
    try:
        _refuse_by_first_bytes(content)
        _refuse_by_end_record(content)
        _refuse_by_archive(content, wanted)
    except WorkbookRefused as error:
        faults = Faults()
        faults.take(name, error)
        raise WorkbookRefused(faults.entries) from error


def _refuse_by_first_bytes(content: bytes) -> None:
    if len(content) > LARGEST_BYTES:
        raise fault(
            WorkbookRefused,
            f"is larger than {LARGEST_BYTES // 1_000_000} MB",
            _REMOVE,
        )
    if content.startswith(_OLD_OFFICE_START):
        if _ENCRYPTED in content:
            raise fault(WorkbookRefused, "is locked with a password", "save it without a password")
        raise fault(WorkbookRefused, "is an old or foreign kind of file", _SAVE_AS_XLSX)
    if not content.startswith(_ARCHIVE_START):
        raise fault(WorkbookRefused, "is not a workbook", _SAVE_AS_XLSX)


def _refuse_by_end_record(content: bytes) -> None:
    """Refuse archives that are cut off, continued, or longer than they need to be."""
    end = len(content) - _END_RECORD.size
    if end < 0 or content[end : end + 4] != _END_START:
        raise fault(WorkbookRefused, "is cut off, or has something added at its end", _SAVE_AGAIN)
    _, disk, list_disk, here, parts, list_bytes, list_start, _ = _END_RECORD.unpack(content[end:])
    if content[end - _ZIP64_LOCATOR_BYTES : end].startswith(_ZIP64_LOCATOR_START):
        raise fault(WorkbookRefused, "uses a form of archive meant for huge files", _SAVE_AGAIN)
    if parts > MOST_PARTS or list_bytes > _LARGEST_LIST_BYTES:
        raise fault(WorkbookRefused, f"has more than {MOST_PARTS} parts", _SAVE_AGAIN)
    if disk or list_disk or here != parts or list_start + list_bytes != end:
        raise fault(WorkbookRefused, "is damaged: its list of parts is not in place", _SAVE_AGAIN)


def _refuse_by_archive(content: bytes, wanted: Collection[str] | None) -> None:
    try:
        with zipfile.ZipFile(io.BytesIO(content)) as archive:
            parts = archive.infolist()
            _refuse_by_list(parts)
            unread = frozenset() if wanted is None else _unread(archive, content, wanted)
            tags = 0
            for part in parts:
                data = _unpacked(archive, part, content)
                is_read = part.orig_filename not in unread
                tags += data.count(b"<") if is_read else 0
                if tags > MOST_TAGS:
                    raise fault(WorkbookRefused, "has too many cells", _REMOVE)
                refuse_hostile_part(part.orig_filename.lower(), data, is_read=is_read)
    except _DAMAGE as error:
        raise fault(WorkbookRefused, "is damaged: it cannot be unpacked", _SAVE_AGAIN) from error


def _unread(archive: zipfile.ZipFile, content: bytes, wanted: Collection[str]) -> frozenset[str]:
    """Return the parts of sheets that nobody reads, by lists that are searched first."""
    lists = [one for one in archive.infolist() if one.orig_filename in (BOOK, BOOK_LINKS)]
    if len(lists) < 2 or any(one.file_size > _LARGEST_LIST_BYTES for one in lists):
        return frozenset()
    listed = {one.orig_filename: _unpacked(archive, one, content) for one in lists}
    for part, data in listed.items():
        refuse_hostile_part(part, data)
    return unread_parts(listed[BOOK], listed[BOOK_LINKS], wanted)


def _refuse_by_list(parts: Sequence[zipfile.ZipInfo]) -> None:
    names = [part.orig_filename.lower() for part in parts]
    if len(parts) > MOST_PARTS:
        raise fault(WorkbookRefused, f"has more than {MOST_PARTS} parts", _SAVE_AGAIN)
    for name in names:
        _refuse_by_name(name)
    if len(set(names)) < len(names):
        raise fault(WorkbookRefused, "holds two parts of the same name", _SAVE_AGAIN)
    if not any(name.startswith("xl/workbook") for name in names):
        raise fault(WorkbookRefused, "is an archive, but not a workbook", _SAVE_AS_XLSX)
    if any(part.flag_bits & _LOCKED_FLAG for part in parts):
        raise fault(WorkbookRefused, "is locked with a password", "save it without a password")
    if any(part.compress_type not in _PLAIN_METHODS for part in parts):
        raise fault(WorkbookRefused, "is packed in an unusual way", _SAVE_AGAIN)
    if sum(part.file_size for part in parts) > LARGEST_UNPACKED_BYTES:
        raise fault(
            WorkbookRefused,
            f"unpacks to more than {LARGEST_UNPACKED_BYTES // 1_000_000} MB",
            _REMOVE,
        )


def _refuse_by_name(name: str) -> None:
    for start, (what, remedy) in _UNWANTED_PARTS.items():
        if name.startswith(start):
            raise fault(WorkbookRefused, what, remedy)
    steps = name.split("/")
    if "\\" in name or ":" in name or "" in steps[:-1] or ".." in steps or not name.isprintable():
        raise fault(
            WorkbookRefused, f"holds a part with the harmful name {quoted(name)}", _SAVE_AGAIN
        )


def _unpacked(archive: zipfile.ZipFile, part: zipfile.ZipInfo, content: bytes) -> bytes:
    """Return the bytes of a part, which must be exactly as many as it declares."""
    archive.open(part).close()  # compares the head of the part with the list
    head = content[part.header_offset : part.header_offset + _HEAD_BYTES]
    name_bytes, extra_bytes = struct.unpack("<2H", head[-4:])
    start = part.header_offset + _HEAD_BYTES + name_bytes + extra_bytes
    packed = content[start : start + part.compress_size]
    data, is_whole = packed, True
    if part.compress_type == zipfile.ZIP_DEFLATED:
        inflater = zlib.decompressobj(-zlib.MAX_WBITS)
        data = inflater.decompress(packed, part.file_size + 1)
        is_whole = inflater.eof and not inflater.unused_data
    if not is_whole or len(data) != part.file_size or zlib.crc32(data) != part.CRC:
        raise zipfile.BadZipFile
    return data
