"""Ten weeks of the invented job, as entries of its books; the same ones each time.

What follows the work comes from the estimate itself (`plain_work`); what happens besides stands in
`ten-weeks/story.yaml`.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, date, datetime, time
from itertools import accumulate
from pathlib import Path
from typing import Any, NamedTuple

from estimator.pricing.printed_estimate import PrintedEstimate
from estimator.sample.drafts import UnnumberedEntry
from estimator.sample.plain_work import plain_work

ACCEPTED = datetime(2026, 4, 3, 16, tzinfo=UTC)
LAST_DAY = date(2026, 6, 14)
REVERSAL = "reversal"
WEEK = "week"
DOCUMENT = "documents"
_STORY = Path(__file__).parent / "ten-weeks" / "story.yaml"
_SEED = 1906


class SampleEntry(NamedTuple):
    """An entry of the sample's books.

    Parameters
    ----------
    entered : datetime
        [UTC] When it is entered, by the sample's own clock.
    kind : str
        Name of its list in `Books`; or `reversal`, `week` or `documents`.
    body : dict
        What the route of its kind takes; of a reversal also its `number`; of a week that is closed
        and paid, `happened` is its last day; of a document, which makes no row, its `file` and what
        it belongs to.
    row : int
        Number of its first row in the books.
    """

    entered: datetime
    kind: str
    body: dict[str, Any]
    row: int


def ten_weeks(estimate: PrintedEstimate, seed: int = _SEED) -> list[SampleEntry]:
    """Return the entries in the order in which they are entered; all of them are invented.

    Parameters
    ----------
    estimate : PrintedEstimate
        Of the sample's scope.
    seed : int
        Of what differs from day to day.

    Notes
    -----
    Rows are numbered from 1: entries that name another name it by the first row that it makes.
    """
    drafts = sorted([*_story(), *plain_work(estimate, seed)], key=lambda one: one.entered)
    rows = list(accumulate((one.rows for one in drafts[:-1]), initial=1))
    numbers = {one.label: row for one, row in zip(drafts, rows, strict=True) if one.label}
    return [
        SampleEntry(one.entered, one.kind, _resolved(one.body, numbers), row)
        for one, row in zip(drafts, rows, strict=True)
    ]


def _resolved(body: dict[str, Any], numbers: dict[str, int]) -> dict[str, Any]:
    """Return a body with numbers of rows in place of labels."""
    return {
        field: [numbers[one] for one in value] if field == "tickets" else _number(value, numbers)
        for field, value in body.items()
    }


def _number(value: Any, numbers: dict[str, int]) -> Any:
    return numbers[value] if isinstance(value, str) and value.startswith("@") else value


def _story() -> Iterator[UnnumberedEntry]:
    from yaml import safe_load

    for one in safe_load(_STORY.read_text(encoding="utf-8")):
        kind, label = one.pop("post"), one.pop("as", "")
        day = date.fromisoformat(one.pop("entered", one["happened"]))
        rows = 0 if kind == DOCUMENT else 1
        yield UnnumberedEntry(datetime.combine(day, time(17), UTC), kind, one, label, rows)


def document_content(name: str) -> bytes:
    """Return a document of the sample, drawn for it, by the name of its file."""
    return _STORY.with_name(name).read_bytes()
