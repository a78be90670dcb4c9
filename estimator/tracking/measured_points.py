"""Measured points: the level of a fill, the lift of a beam line, the width of a crack; limits."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from decimal import ROUND_FLOOR, Decimal
from typing import Any

_NEAR_DAYS = 14


@dataclass(frozen=True)
class MeasuredPoint:
    """A point that is measured again and again.

    Parameters
    ----------
    row : int
        Its number in the books.
    happened, entered : date, datetime
        The day it was set; when it was entered [UTC].
    name, unit : str
        `crack 3, north wall`, `mm`.
    least, most : Decimal or None
        [unit] Limits, where there are any; who set them stands in `note`.
    note : str
        A remark.
    """

    row: int
    happened: date
    entered: datetime
    name: str
    unit: str
    least: Decimal | None = None
    most: Decimal | None = None
    note: str = ""


@dataclass(frozen=True)
class Reading:
    """One reading of a point.

    Parameters
    ----------
    row : int
        Its number in the books.
    happened, entered : date, datetime
        The day; when it was entered [UTC].
    point : str
        Name of the point.
    value : Decimal
        [unit of the point]
    """

    row: int
    happened: date
    entered: datetime
    point: str
    value: Decimal


@dataclass(frozen=True)
class PointCourse:
    """A point with what was read at it.

    Parameters
    ----------
    point : MeasuredPoint
        As it was set last.
    readings : tuple of Reading
        The last of each day, in the order of the days.
    sentence : str
        See `limit_sentence`.
    """

    point: MeasuredPoint
    readings: tuple[Reading, ...]
    sentence: str


def point_courses(
    points: Iterable[MeasuredPoint], readings: Iterable[Reading]
) -> list[PointCourse]:
    """Return the course of each point, in the order in which the points were first set.

    A point that is set again has the limits of the last time. Names are the same whatever their
    case and blanks.

    Parameters
    ----------
    points, readings : iterables of MeasuredPoint and Reading
        As known, in the order of entry.

    Examples
    --------
    See `docs/tracking.md`.
    """
    by_name: dict[str, list[Reading]] = defaultdict(list)
    for one in readings:
        by_name[_key(one.point)].append(one)
    last_set = {_key(one.name): one for one in points}
    return [
        PointCourse(point, tuple(_one_a_day(by_name[key])), limit_sentence(point, by_name[key]))
        for key, point in last_set.items()
    ]


def limit_sentence(
    point: MeasuredPoint, readings: Iterable[Reading], near_days: int = _NEAR_DAYS
) -> str:
    """Return a sentence where a limit is passed or near; else nothing.

    Parameters
    ----------
    point : MeasuredPoint
        With its limits.
    readings : iterable of Reading
        Of that point, as known.
    near_days : int
        [calendar day] A limit is near if the pace of the last two readings reaches it by then.

    Notes
    -----
    The pace is a straight line through the last two readings of different days. It says when that
    line meets the limit, not what will happen: the engineer judges that.

    Examples
    --------
    See `docs/tracking.md`.
    """
    ordered = _one_a_day(readings)
    if not ordered:
        return ""
    last = ordered[-1]
    for limit, is_past in ((point.most, _above), (point.least, _below)):
        if limit is not None and is_past(last.value, limit):
            return (
                f"{point.name}: {last.value} {point.unit} on {last.happened} is past the limit of "
                f"{limit} {point.unit}; stop the work there and call the engineer"
            )
    return _near(point, ordered, near_days)


def points_fields(courses: Iterable[PointCourse]) -> dict[str, Any]:
    """Return measured points as plain JSON.

    Parameters
    ----------
    courses : iterable of PointCourse
        See `point_courses`.
    """
    return {"points": [_fields(one) for one in courses]}


def _fields(course: PointCourse) -> dict[str, Any]:
    point = course.point
    return {
        "name": point.name,
        "unit": point.unit,
        "least": None if point.least is None else f"{point.least:f}",
        "most": None if point.most is None else f"{point.most:f}",
        "note": point.note,
        "readings": [
            {"happened": one.happened.isoformat(), "value": f"{one.value:f}"}
            for one in course.readings
        ],
        "sentence": course.sentence,
    }


def _key(name: str) -> str:
    return " ".join(name.split()).casefold()


def _above(value: Decimal, limit: Decimal) -> bool:
    return value > limit


def _below(value: Decimal, limit: Decimal) -> bool:
    return value < limit


def _one_a_day(readings: Iterable[Reading]) -> list[Reading]:
    by_day = {one.happened: one for one in sorted(readings, key=lambda r: (r.happened, r.row))}
    return list(by_day.values())


def _near(point: MeasuredPoint, ordered: Sequence[Reading], near_days: int) -> str:
    if len(ordered) < 2:
        return ""
    before, last = ordered[-2:]
    moved = last.value - before.value
    limit = point.most if moved > 0 else point.least
    if limit is None or not moved:
        return ""
    days = (limit - last.value) * (last.happened - before.happened).days / moved
    if days > near_days:
        return ""
    day = last.happened + timedelta(int(days.to_integral_value(ROUND_FLOOR)))
    return (
        f"{point.name}: {last.value} {point.unit} on {last.happened}; at the pace of the last two "
        f"readings the limit of {limit} {point.unit} is reached on {day}"
    )
