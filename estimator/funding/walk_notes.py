"""What the walk around the job wants to know of each cost code: where, and what is out of sight."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from datetime import date

from estimator.funding.draw_papers import Papers, Picture
from estimator.funding.loan_terms import PHOTOGRAPHS
from estimator.tracking.books import Books
from estimator.tracking.hold_points import HoldResult

_NO_PICTURE = "no picture posted"


def places_to_look(phases: Mapping[str, str], books: Books) -> Mapping[str, str]:
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


def out_of_sight(books: Books, papers: Papers, since: date | None) -> Mapping[str, tuple[str, ...]]:
    """Return, by cost code, which hold points were passed, with the picture taken before.

    Parameters
    ----------
    books : Books
        As known on the day of a draw.
    papers : Papers
        Photographs of the evidence name the row of the hold point, of its result, or of what was
        measured; so may pictures, which may name the code instead.
    since : date or None
        The end of the draw before: what was passed, measured or taken later counts.

    Notes
    -----
    Once a hold point is passed, work goes on and may cover what it was about. Whether it has,
    nobody enters: the inspector asks. Beside it stands what names its rows; else the last picture
    of each spot of the code, taken by that day.
    """
    by_row = _by_row(papers)
    notes: dict[str, list[str]] = defaultdict(list)
    for result in books.results:
        if result.is_passed and _is_later(result.happened, since):
            holds = [one.row for one in books.holds
                     if (one.code, one.name) == (result.code, result.name)]  # fmt: skip
            shown = [words for row in (*holds, result.row) for words in by_row.get(row, ())]
            notes[result.code].append(_passed(result, shown or _of_code(papers, result)))
    for one in books.progress:
        if _is_later(one.happened, since):
            notes[one.code] += by_row.get(one.row, ())
    for picture in papers.pictures:
        if picture.code and _is_later(picture.taken, since):
            notes[picture.code].append(_words(picture))
    return {code: tuple(dict.fromkeys(words)) for code, words in notes.items()}


def _is_later(day: date, since: date | None) -> bool:
    return since is None or day > since


def _by_row(papers: Papers) -> Mapping[int, list[str]]:
    by_row: dict[int, list[str]] = defaultdict(list)
    for one in papers.evidence:
        if one.row is not None and one.kind.casefold() == PHOTOGRAPHS:
            by_row[one.row].append(f"picture of {one.issued}: {one.name}")
    for picture in papers.pictures:
        if picture.row is not None:
            by_row[picture.row].append(_words(picture))
    return by_row


def _of_code(papers: Papers, result: HoldResult) -> list[str]:
    """Return the last picture of each spot of a code, taken by the day of a result."""
    last = {
        one.spot.casefold(): _words(one)
        for one in papers.pictures
        if one.code == result.code and one.taken <= result.happened
    }
    return list(last.values())


def _words(picture: Picture) -> str:
    return f"picture {picture.number} of {picture.taken}: {picture.spot or picture.name}"


def _passed(result: HoldResult, pictures: Sequence[str]) -> str:
    note = f" ({result.note})" if result.note else ""
    shown = ", ".join(pictures) or _NO_PICTURE
    return f"{result.name} passed {result.happened}{note}: {shown}"
