"""Published indexes of prices, read from a CSV file: one figure a row.

Columns: `index` (its name), `base` (what stands for 100), `kinds` (which kinds of resources it
escalates, separated by `;`, or `all`), `period` (`2026-01` or `2026Q1`), `value`, `source`.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from estimator.errors import Faults, TablesFaulty, did_you_mean, quoted
from estimator.rates.adjustment.index_series import MONTHLY, QUARTERLY, IndexPoint, IndexSeries
from estimator.rates.csv_file import csv_file_rows
from estimator.rates.kinds import KINDS
from estimator.rates.rows import EARLIEST, LATEST, Row

COLUMNS = ("index", "base", "kinds", "period", "value", "source")
ALL_KINDS = "all"

_PERIOD = re.compile(r"(\d{4})(?:-(\d{2})|-?Q([1-4]))", re.ASCII)
_VALUE_DECIMALS = 6


@dataclass(frozen=True)
class _ReadPoint:
    months_each: int
    point: IndexPoint
    row: Row


def read_index_file(path: Path) -> dict[str, IndexSeries]:
    """Return the index that escalates each kind of resource; a kind that no index names is absent.

    Raises
    ------
    TablesFaulty
        With every fault of the file: a period that is none, a figure that is not positive, two
        figures of one month, months out of order, two indexes for one kind.
    """
    faults = Faults()
    groups: dict[str, list[_ReadPoint]] = {}
    for row in csv_file_rows(path, "index file", COLUMNS, faults):
        name = row.text("index")
        for column in ("base", "kinds", "source"):
            row.text(column)
        read = _read_point(row)
        if read is not None and name:
            groups.setdefault(name, []).append(read)
    by_kind: dict[str, IndexSeries] = {}
    for name, points in groups.items():
        _put(by_kind, name, points, faults)
    if not faults.entries and not groups:
        faults.add(f"index file {path.name}", "holds no figure")
    faults.raise_if_any(TablesFaulty)
    return by_kind


def _read_point(row: Row) -> _ReadPoint | None:
    starts_on = _period(row)
    value = row.decimal("value", decimals=_VALUE_DECIMALS)
    if starts_on is None or value is None:
        return None
    months_each = QUARTERLY if "Q" in row.cells["period"] else MONTHLY
    return _ReadPoint(months_each, IndexPoint(starts_on, value, str(row.origin)), row)


def _period(row: Row) -> date | None:
    text = row.text("period")
    if not text:
        return None
    match = _PERIOD.fullmatch(text)
    if match:
        year, month = int(match[1]), int(match[2] or 3 * int(match[3]) - 2)
        if EARLIEST.year <= year <= LATEST.year and 1 <= month <= 12:
            return date(year, month, 1)
    row.fault(
        f"period {quoted(text)} is not a month or quarter from {EARLIEST.year} to {LATEST.year}",
        "write 2026-01 or 2026Q1",
    )
    return None


def _put(
    by_kind: dict[str, IndexSeries], name: str, points: Sequence[_ReadPoint], faults: Faults
) -> None:
    first = points[0]
    for other in points[1:]:
        _check_agrees(first, other)
    try:
        series = IndexSeries(
            name=name,
            base=first.row.cells["base"],
            months_each=first.months_each,
            points=tuple(one.point for one in points),
            source=first.row.cells["source"],
        )
    except TablesFaulty as error:
        faults.take("", error)
        return
    for kind in _kinds(first.row):
        if kind in by_kind:
            first.row.fault(f"{kind} is escalated by index {quoted(by_kind[kind].name)} already")
        by_kind.setdefault(kind, series)


def _check_agrees(first: _ReadPoint, other: _ReadPoint) -> None:
    name = quoted(first.row.cells["index"])
    for column in ("base", "kinds", "source"):
        if other.row.cells[column] != first.row.cells[column]:
            other.row.fault(
                f"{column} of index {name} is not that of row {first.row.origin.row}",
                "give all its rows the same, or call it another index",
            )
    if other.months_each != first.months_each:
        other.row.fault(f"index {name} mixes months and quarters", "make two indexes of it")


def _kinds(row: Row) -> tuple[str, ...]:
    words = row.words("kinds")
    if words == (ALL_KINDS,):
        return KINDS
    for word in words:
        if word not in KINDS:
            row.fault(f"kind {quoted(word)} is not known", did_you_mean(word, (*KINDS, ALL_KINDS)))
    return tuple(word for word in words if word in KINDS)
