"""Drafts of the sample's entries: rows that others name have a label until all are in order."""

from __future__ import annotations

from datetime import UTC, date, datetime, time
from typing import Any, NamedTuple


class UnnumberedEntry(NamedTuple):
    """An entry that has no number yet.

    Parameters
    ----------
    entered : datetime
        [UTC]
    kind : str
        Name of its list in `Books`; or `reversal`, or `week`.
    body : dict
        What the route takes, with labels where a row is named.
    label : str
        By which others name it, with an @; empty where none does.
    rows : int
        How many rows of the books it makes.
    """

    entered: datetime
    kind: str
    body: dict[str, Any]
    label: str = ""
    rows: int = 1


def draft(kind: str, happened: date, hour: int, label: str = "", /, **body: Any) -> UnnumberedEntry:
    """Return a draft that is entered on the day it happens."""
    entered = datetime.combine(happened, time(hour), UTC)
    return UnnumberedEntry(entered, kind, {"happened": happened.isoformat(), **body}, label)
