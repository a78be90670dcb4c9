"""What the walk around the job wants to know of each cost code: where, and what is out of sight."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from datetime import date

from estimator.funding.draw_papers import Evidence
from estimator.funding.loan_terms import PHOTOGRAPHS
from estimator.tracking.books import Books
from estimator.tracking.hold_points import HoldResult

_NO_PICTURE = "no picture posted"


def places_of(phases: Mapping[str, str], books: Books) -> Mapping[str, str]:
    """Return where to look for each cost code: its phase, and the day it was last measured.

    Parameters
    ----------
    phases : mapping of str to str
        Name of the phase of each cost code.
    books : Books
        As known on the day of a draw.
    """
    measured: dict[str, date] = {}
    for one in books.progress:
        if not one.is_inspector:
            measured[one.code] = max(one.happened, measured.get(one.code, one.happened))
    return {
        code: f"{phase}; measured {measured[code]}" if code in measured else phase
        for code, phase in phases.items()
    }


def out_of_sight(
    books: Books, evidence: Iterable[Evidence], since: date | None
) -> Mapping[str, tuple[str, ...]]:
    """Return, by cost code, which hold points were passed, with the picture taken before.

    Parameters
    ----------
    books : Books
        As known on the day of a draw.
    evidence : iterable of Evidence
        Photographs name the row of the hold point, of its result, or of what was measured.
    since : date or None
        The end of the draw before: what was passed, or measured, later counts.

    Notes
    -----
    Once a hold point is passed, work goes on and may cover what it was about. Whether it has,
    nobody enters: the inspector asks.
    """
    pictures = _pictures(evidence)
    notes: dict[str, list[str]] = defaultdict(list)
    for result in books.results:
        if result.is_passed and (since is None or result.happened > since):
            holds = [one.row for one in books.holds
                     if (one.code, one.name) == (result.code, result.name)]  # fmt: skip
            shown = [words for row in (*holds, result.row) for words in pictures.get(row, ())]
            notes[result.code].append(_passed(result, shown))
    for one in books.progress:
        if since is None or one.happened > since:
            notes[one.code] += pictures.get(one.row, ())
    return {code: tuple(words) for code, words in notes.items()}


def _pictures(evidence: Iterable[Evidence]) -> Mapping[int, list[str]]:
    by_row: dict[int, list[str]] = defaultdict(list)
    for one in evidence:
        if one.row is not None and one.kind.casefold() == PHOTOGRAPHS:
            by_row[one.row].append(f"picture of {one.issued}: {one.name}")
    return by_row


def _passed(result: HoldResult, pictures: Sequence[str]) -> str:
    note = f" ({result.note})" if result.note else ""
    shown = ", ".join(pictures) or _NO_PICTURE
    return f"{result.name} passed {result.happened}{note}: {shown}"
