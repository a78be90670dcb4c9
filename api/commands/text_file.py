"""The text of a file that a person names, as editors and terminals of any system save it."""

from __future__ import annotations

from codecs import BOM_UTF16_BE, BOM_UTF16_LE
from pathlib import Path

from estimator.errors import InputFaulty, fault


def file_text(file: Path, remedy: str) -> str:
    """Return the text of a file in UTF-8, or in UTF-16 as PowerShell writes what is sent to a file.

    Parameters
    ----------
    file : Path
        A file that is there.
    remedy : str
        What to give in its place if it is not text.

    Raises
    ------
    InputFaulty
        If it is not text.
    """
    content = file.read_bytes()
    is_utf16 = content.startswith((BOM_UTF16_LE, BOM_UTF16_BE))
    try:
        return content.decode("utf-16" if is_utf16 else "utf-8-sig")
    except UnicodeDecodeError:
        raise fault(InputFaulty, "is not text in UTF-8", remedy, file.name) from None
