"""Words broken into lines of a width: at blanks, and within a word that is wider than a line."""

from __future__ import annotations

from estimator.printed.typeface import REGULAR, width_pt


def broken(words: str, width: float, size_pt: float, font: str = REGULAR) -> list[str]:
    """Return the lines that words take in a column; no letter is lost but blanks at the breaks.

    Parameters
    ----------
    words : str
        Printable: see `printable`.
    width, size_pt : float
        [pt] Of the column, and of the letters.
    font : str
        Regular or bold.

    Examples
    --------
    >>> broken("Plank floor taken up", 60, 8)
    ['Plank floor', 'taken up']
    """
    if width_pt(words, size_pt, font) <= width:
        return [words]
    lines, line = [], ""
    for word in words.split():
        longer = f"{line} {word}" if line else word
        if width_pt(longer, size_pt, font) <= width:
            line = longer
            continue
        if line:
            lines.append(line)
        *whole, line = _letters(word, width, size_pt, font)
        lines += whole
    return [*lines, line]


def _letters(word: str, width: float, size_pt: float, font: str) -> list[str]:
    """Return a word in parts that each fit; one letter always does."""
    parts, part = [], ""
    for letter in word:
        if part and width_pt(part + letter, size_pt, font) > width:
            parts.append(part)
            part = ""
        part += letter
    return [*parts, part]
