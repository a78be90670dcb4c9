"""The mark by which the program knows a file that it made and that nobody has changed since.

A digest of the file's contents, where its form has room for a note: the identifier of a workbook, a
comment in an .svg or a .pdf, a text in a .png. A file that was changed no longer agrees with its
digest.
"""

from __future__ import annotations

import hashlib
import re
import struct
import zipfile
import zlib
from collections.abc import Iterable, Iterator
from pathlib import Path

PROGRAM = "Groundsill"
CORE_PROPERTIES = "docProps/core.xml"

_ICS_END = b"END:VEVENT\r\nEND:VCALENDAR\r\n"
_PNG_END = bytes.fromhex("0000000049454e44ae426082")
_IDENTIFIER = re.compile(rb"identifier[^<>]*>([^<]*)<")
_LONGEST_CORE = 100_000
_PIECE_BYTES = 1 << 20


def parts_mark(parts: Iterable[tuple[str, Iterable[bytes]]]) -> str:
    """Return the mark of a workbook: of the names and bytes of its parts but the core properties.

    Parameters
    ----------
    parts : iterable of name and pieces
        In any order.
    """
    digest = hashlib.sha256()
    for name, pieces in sorted(parts, key=lambda part: part[0]):
        own = hashlib.sha256()
        for piece in pieces:
            own.update(piece)
        digest.update(name.encode() + b"\0" + own.digest())
    return f"{PROGRAM} {digest.hexdigest()}"


def marked_svg(drawing: bytes) -> bytes:
    """Return a drawing with its mark in a comment at the end."""
    return drawing + b"<!-- %s -->\n" % _mark(drawing)


def marked_pdf(pages: bytes) -> bytes:
    """Return printed pages with their mark in a comment after the end."""
    return pages + b"%% %s\n" % _mark(pages)


def marked_png(picture: bytes) -> bytes:
    """Return a picture with its mark in a text before the end."""
    body = picture.removesuffix(_PNG_END)
    text = b"tEXtSoftware\0" + _mark(body)
    sizes = struct.pack(">I", len(text) - len(b"tEXt")), struct.pack(">I", zlib.crc32(text))
    return body + sizes[0] + text + sizes[1] + _PNG_END


def marked_ics(calendar: bytes) -> bytes:
    """Return a calendar file with its mark in its last entry, on a line that is folded in two."""
    body = calendar.removesuffix(_ICS_END)
    name, digest = _mark(body).split(b" ")
    return body + b"X-GROUNDSILL-MARK:%s\r\n  %s\r\n" % (name, digest) + _ICS_END


def is_unchanged_own(path: Path) -> bool:
    """Tell whether the program made a file, and nobody has changed it since.

    Parameters
    ----------
    path : Path
        A regular file. A form without room for a mark is never known as the program's own.
    """
    if path.suffix.lower() == ".xlsx":
        return _is_own_workbook(path)
    makers = {".svg": marked_svg, ".png": marked_png, ".pdf": marked_pdf, ".ics": marked_ics}
    marked = makers.get(path.suffix.lower())
    if marked is None:
        return False
    ends = {marked_png: _PNG_END, marked_ics: _ICS_END}
    content, end = path.read_bytes(), ends.get(marked, b"")
    added = len(marked(end)) - len(end)
    return marked(content[: len(content) - added - len(end)] + end) == content


def _is_own_workbook(path: Path) -> bool:
    try:
        with zipfile.ZipFile(path) as archive:
            names = set(archive.namelist())
            with archive.open(CORE_PROPERTIES) as core:
                noted = _IDENTIFIER.search(core.read(_LONGEST_CORE))
            if noted is None or not noted[1].startswith(PROGRAM.encode()):
                return False
            names.remove(CORE_PROPERTIES)
            return parts_mark((name, _pieces(archive, name)) for name in names).encode() == noted[1]
    except (zipfile.BadZipFile, zlib.error, KeyError, EOFError, RuntimeError, ValueError):
        return False


def _pieces(archive: zipfile.ZipFile, name: str) -> Iterator[bytes]:
    with archive.open(name) as part:
        while piece := part.read(_PIECE_BYTES):
            yield piece


def _mark(content: bytes) -> bytes:
    return f"{PROGRAM} {hashlib.sha256(content).hexdigest()}".encode()
