"""Slips of the pen in YAML that have a sentence of their own, and the line as it was meant.

With the line mended, reading goes on, so that all slips of a file come in one answer.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Any

from estimator.errors import quoted

_NO_COLON = "could not find expected ':'"
_COLON_TOO_MANY = "mapping values are not allowed"
_TAB_WORDS = ("tab character", "cannot start any token")
_KEY_AND_VALUE = re.compile(r"(?P<lead>\s*(?:- +)*)(?P<key>[a-z_]+)(?P<colon>:?)\s*(?P<value>.*)")
_CUT_OFF = re.compile(r"\s+(#\d.*)", re.ASCII)


@dataclass(frozen=True)
class Slip:
    """One slip.

    Parameters
    ----------
    line : int
        From 0.
    what, remedy : str
        What is wrong, and what would be right.
    mended : str
        The line as it was probably meant.
    """

    line: int
    what: str
    remedy: str
    mended: str


def slip_at(error: Any, lines: list[str]) -> Slip | None:
    """Return the slip that made the parser stop, None if nobody knows.

    Parameters
    ----------
    error : yaml.YAMLError
        Where it stopped, and why.
    lines : list of str
        The document.
    """
    problem, mark = getattr(error, "problem", None) or "", getattr(error, "problem_mark", None)
    if mark is None:
        return None
    if any(words in problem for words in _TAB_WORDS):
        return _tab(min(mark.line, len(lines) - 1), lines)
    if problem.startswith(_NO_COLON) and error.context_mark is not None:
        return _no_colon(error.context_mark.line, lines)
    if problem.startswith(_COLON_TOO_MANY):
        before = lines[mark.line][: mark.column]
        if re.search(r":\s", before):
            return _second_colon(mark.line, lines)
        return _no_colon(_line_above(mark.line, lines), lines)
    return None


def cut_off_by(line: str, end: int) -> str:
    """Return the words after a value that YAML takes for a comment though they begin `#4`.

    Examples
    --------
    >>> cut_off_by("name: Stone #4 fill", 11), cut_off_by("shift: 8 hr/day  # usual", 15)
    ('#4 fill', '')
    """
    match = _CUT_OFF.match(line, end)
    return match[1].rstrip() if match else ""


def _tab(number: int, lines: list[str]) -> Slip | None:
    line = lines[number]
    text = line.lstrip()
    if "\t" not in line[: len(line) - len(text)]:
        return None
    above = lines[_line_above(number, lines)] if number else ""
    lead = re.match(r"\s*(?:- +)*", above)
    return Slip(
        number,
        "begins with a tab, which YAML does not take",
        "indent it with spaces, as the lines around it",
        " " * len(lead[0] if lead else "") + text,
    )


def _no_colon(number: int, lines: list[str]) -> Slip | None:
    match = _KEY_AND_VALUE.fullmatch(lines[number]) if number >= 0 else None
    if match is None:
        return None
    meant = f"{match['key']}: {match['value']}".rstrip()
    if match["lead"] + meant == lines[number].rstrip():
        return None
    where = "has no space after its colon" if match["colon"] else "has no colon after its key"
    text = lines[number].strip().removeprefix("- ")
    return Slip(number, f"{quoted(text)} {where}", f"write {quoted(meant)}", match["lead"] + meant)


def _second_colon(number: int, lines: list[str]) -> Slip | None:
    match = _KEY_AND_VALUE.fullmatch(lines[number])
    if match is None or not match["colon"] or '"' in match["value"]:
        return None
    meant = f'{match["key"]}: "{match["value"].rstrip()}"'
    what = f"{match['key']} has a colon within its text"
    remedy = f"put the text in quotes: {meant}"
    return Slip(number, what, remedy, match["lead"] + meant)


def _line_above(number: int, lines: list[str]) -> int:
    """Return the nearest line above that holds something, -1 if there is none."""
    above = (n for n in range(number - 1, -1, -1) if lines[n].strip())
    return next((n for n in above if not lines[n].lstrip().startswith("#")), -1)
