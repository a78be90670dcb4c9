"""The letters of a printed page: how wide they are, and how a document writes them."""

from __future__ import annotations

from functools import lru_cache
from importlib.util import find_spec
from pathlib import Path
from typing import Any

REGULAR, BOLD = "DejaVuSans", "DejaVuSans-Bold"
UNKNOWN = "\u25a1"
_EM = 1000
_CACHED = 1 << 16
_ESCAPED = str.maketrans({"\\": "\\\\", "(": "\\(", ")": "\\)"})


@lru_cache(maxsize=2)
def _font(name: str) -> Any:
    """Return a font that comes with the charts' library, registered once."""
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont

    package = find_spec("matplotlib")  # found, not imported: that would take a second
    if package is None or package.origin is None:
        raise ImportError("matplotlib, whose fonts the pages are printed in, is not installed")
    folder = Path(package.origin).parent / "mpl-data" / "fonts" / "ttf"
    font = TTFont(name, str(folder / f"{name}.ttf"))
    pdfmetrics.registerFont(font)
    return font


@lru_cache(maxsize=_CACHED)
def width_units(words: str, name: str) -> float:
    """Return how wide printable words run [1/1000 of the size]."""
    face = _font(name).face
    widths, usual = face.charWidths, face.defaultWidth
    return float(sum(widths.get(ord(letter), usual) for letter in words))


def width_pt(words: str, size_pt: float, name: str = REGULAR) -> float:
    """Return how wide printable words run at a size [pt].

    Examples
    --------
    >>> round(width_pt("0", 10), 2), round(width_pt("00", 10), 2)
    (6.36, 12.72)
    """
    return width_units(words, name) * size_pt / _EM


@lru_cache(maxsize=_CACHED)
def printable(words: str) -> str:
    r"""Return words without control characters, with a box for each letter that the font lacks.

    Examples
    --------
    >>> printable("two\nlines, Łódź, \u6728")
    'two lines, Łódź, □'
    """
    if words.isascii() and words.isprintable():
        return words
    known = _font(REGULAR).face.charToGlyph
    shown = "".join(letter if letter.isprintable() else " " for letter in words)
    return "".join(letter if ord(letter) in known else UNKNOWN for letter in shown)


class Letters:
    """Writes words for one document, which embeds the letters that are used.

    Parameters
    ----------
    document : PDFDocument
        Of a canvas.

    Notes
    -----
    The library's own way to place a string takes 40 microseconds; a long backup has 200,000 of
    them. Plain ASCII stands for itself in the first part of an embedded font.
    """

    def __init__(self, document: Any) -> None:
        self._document = document
        self._plain = {name: self._pieces("x", name)[0][0] for name in (REGULAR, BOLD)}

    def placed(self, words: str, x_pt: float, y_pt: float, size_pt: float, name: str) -> str:
        """Return the operators that set printable words at a place."""
        if words.isascii():
            pieces = [(self._plain[name], words.translate(_ESCAPED))]
        else:
            pieces = self._pieces(words, name)
        shown = " ".join(f"/{font} {size_pt:g} Tf ({text}) Tj" for font, text in pieces)
        return f"BT {x_pt:.2f} {y_pt:.2f} Td {shown} ET"

    def _pieces(self, words: str, name: str) -> list[tuple[str, str]]:
        font = _font(name)
        return [
            (
                font.getSubsetInternalName(subset, self._document).removeprefix("/"),
                text.decode("latin-1").translate(_ESCAPED),
            )
            for subset, text in font.splitString(words, self._document)
        ]
