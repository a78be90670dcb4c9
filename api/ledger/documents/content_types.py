"""What a document is, by its content: a JPEG or PNG picture, or a PDF; and when it was taken."""

from __future__ import annotations

import re
import struct
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date
from io import BytesIO
from typing import TYPE_CHECKING

from estimator.errors import LedgerFaulty, fault, quoted

if TYPE_CHECKING:
    from PIL.Image import Image

JPEG, PNG, PDF = "image/jpeg", "image/png", "application/pdf"
ENDINGS = {JPEG: (".jpg", ".jpeg"), PNG: (".png",), PDF: (".pdf",)}
EARLIEST_CAMERA = date(1990, 1, 1)
MOST_PIXELS = 89_000_000  # just under where Pillow itself begins to warn

_FIRST_BYTES = {JPEG: b"\xff\xd8\xff", PNG: b"\x89PNG\r\n\x1a\n", PDF: b"%PDF-"}
_WORDS = {JPEG: "a JPEG picture", PNG: "a PNG picture", PDF: "a PDF"}
_PDF_END, _PDF_TAIL_BYTES = b"%%EOF", 2_048
_PDF_SCRIPT = re.compile(rb"/(?:JavaScript|JS|Launch)\b")
_EXIF_PART, _TAKEN = 0x8769, 0x9003  # ExifIFD, DateTimeOriginal: CIPA DC-008, section 4.6
_EXIF_DAY = re.compile(r"([0-9]{4}):([0-9]{2}):([0-9]{2})\b")
# What a picture that is broken, or made to break its reader, makes the reader raise.
_UNREADABLE = (
    OSError, SyntaxError, ValueError, KeyError, IndexError, TypeError, AttributeError,
    OverflowError, EOFError, struct.error, AssertionError, RuntimeError,
)  # fmt: skip


@dataclass(frozen=True)
class Content:
    """What a file is.

    Parameters
    ----------
    media_type : str
        By its first bytes.
    camera_day : str
        The day that the camera wrote, as it stands; empty without one.
    has_script : bool
        Whether a PDF names, where it is not packed, a script or a program to start.
    """

    media_type: str
    camera_day: str = ""
    has_script: bool = False


def read_content(content: bytes) -> Content:
    """Return what a file is, from its bytes alone; no part of it is run or drawn.

    Raises
    ------
    LedgerFaulty
        If it is empty, of another kind, or broken, or a picture of more than `MOST_PIXELS`.
    """
    if not content:
        raise fault(LedgerFaulty, "the file is empty", "save it again")
    for media_type, first in _FIRST_BYTES.items():
        if content.startswith(first):
            return _pdf(content) if media_type == PDF else _picture(content, media_type)
    raise fault(
        LedgerFaulty,
        "the file is neither a JPEG or PNG picture nor a PDF",
        "save it as one of these; a phone can export its pictures as JPEG",
    )


def refuse_other_type(content: Content, name: str, stated: str | None = None) -> None:
    """Refuse a file whose name or stated type says something else than its content.

    Parameters
    ----------
    content : Content
        What the bytes are.
    name : str
        Of the file, with its ending.
    stated : str, optional
        The media type that came with it.

    Raises
    ------
    LedgerFaulty
        Saying what it is.
    """
    what = f"the file is {_WORDS[content.media_type]}"
    endings = ENDINGS[content.media_type]
    if not name.lower().endswith(endings):
        wrong = f"{what}, but is named {quoted(name)}"
        raise fault(LedgerFaulty, wrong, f"end the name in {' or '.join(endings)}", "name")
    if stated not in (None, content.media_type):
        wrong = f"{what}, but was sent as {stated}"
        raise fault(LedgerFaulty, wrong, f"send it as {content.media_type}")


def day_taken(content: Content, today: date) -> tuple[date | None, str]:
    """Return the day that a camera wrote, and a note where that cannot be right.

    Parameters
    ----------
    content : Content
        With the day that the camera wrote, if it wrote one.
    today : date
        By the server's clock.
    """
    if not content.camera_day:
        return None, ""
    matched = _EXIF_DAY.match(content.camera_day)
    try:
        day = date(*map(int, matched.groups())) if matched else None
    except ValueError:
        day = None
    if day is None:
        return (
            None,
            f"the camera's date {quoted(content.camera_day)} is not a date: the day is unknown",
        )
    if not EARLIEST_CAMERA <= day <= today:
        why = "is in the future" if day > today else f"is before {EARLIEST_CAMERA.year}"
        return None, f"the camera's date {day} {why}: the day is unknown"
    return day, ""


def _pdf(content: bytes) -> Content:
    if _PDF_END not in content[-_PDF_TAIL_BYTES:]:
        raise fault(LedgerFaulty, "the PDF breaks off before its end", "save or send it again")
    return Content(PDF, has_script=_PDF_SCRIPT.search(content) is not None)


def _picture(content: bytes, media_type: str) -> Content:
    """Return what the head of a picture says; its pixels are not unpacked."""
    from PIL import Image

    forms = [media_type.partition("/")[2].upper()]
    try:
        with _in_silence(), Image.open(BytesIO(content), formats=forms) as image:
            width, height = image.size
            camera_day = _camera_day(image)
            if media_type == PNG and width * height <= MOST_PIXELS:
                image.verify()  # the sum of each part
    except Image.DecompressionBombError as error:
        raise _too_many_pixels() from error
    except _UNREADABLE as error:
        what = f"the file begins as {_WORDS[media_type]} but cannot be read as one"
        raise fault(LedgerFaulty, what, "save it again") from error
    if width * height > MOST_PIXELS:
        raise _too_many_pixels()
    return Content(media_type, camera_day)


@contextmanager
def _in_silence() -> Iterator[None]:
    """Read without the warnings that a reader prints of a damaged picture."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        yield


def _too_many_pixels() -> Exception:
    what = f"the picture has more than {MOST_PIXELS:,} pixels"
    return fault(LedgerFaulty, what, "save it smaller")


def _camera_day(image: Image) -> str:
    """Return what a camera wrote as the time of the picture; empty if that cannot be read."""
    from PIL.Image import Exif

    written = image.info.get("exif")
    if not isinstance(written, bytes):
        return ""
    exif = Exif()
    try:
        exif.load(written)
        taken = exif.get_ifd(_EXIF_PART).get(_TAKEN, "")
    except _UNREADABLE:
        return ""
    return taken[:40].strip("\x00 ") if isinstance(taken, str) else ""
