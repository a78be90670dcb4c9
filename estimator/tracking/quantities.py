"""What is in place and the hours it took, without a dollar: for those who do the work."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from estimator.money import exact_arithmetic, rounded
from estimator.tracking.books_by_day import HoursByDay
from estimator.tracking.job_track import Track
from estimator.tracking.progress import MONEY, percent_of_sum
from estimator.tracking.status import NOT_MEASURED, CodeStatus

PERCENT = "%"


@dataclass(frozen=True)
class QuantityInPlace:
    """What is in place of an item.

    Parameters
    ----------
    code : CodeStatus
        Where it stands.
    hours : Decimal
        [hr] All hours logged on it, paid or not.
    """

    code: CodeStatus
    hours: Decimal


def quantities_in_place(hours: HoursByDay, track: Track) -> tuple[QuantityInPlace, ...]:
    """Return what is in place of each item, in the order of the budget; markups are none.

    Parameters
    ----------
    hours : mapping of str to mapping
        [hr] See `DailyBooks`, of the day of the report.
    track : Track
        Where the job stands.
    """
    return tuple(
        QuantityInPlace(one, sum(hours.get(one.code, {}).values(), Decimal(0)))
        for one in track.status.codes
        if one.phase
    )


def measures_of(code: CodeStatus) -> tuple[Decimal, Decimal, str]:
    """Return what is in place of a code, what is expected, and their unit, without a dollar.

    Parameters
    ----------
    code : CodeStatus
        Where it stands. One that is measured by a sum of money, such as an allowance, is shown in
        percent.
    """
    if code.unit == MONEY:
        return rounded(code.percent, 1), Decimal(100), PERCENT
    return code.quantity, code.expected, code.unit


def row_without_sum(row: Mapping[str, Any], whole: Decimal) -> dict[str, Any]:
    """Return a measurement or a hold of a code whose quantity is a sum of money, in percent of it.

    Parameters
    ----------
    row : mapping of str to object
        Of `Progress` or `HoldPoint`, as plain JSON.
    whole : Decimal
        [$] The budgeted quantity of its code. Of nothing there is no percent, but None.

    Examples
    --------
    >>> row_without_sum({"name": "sample", "allowed": "950"}, Decimal(3_800))
    {'name': 'sample', 'allowed': '25.0'}
    """
    sums = {
        name: row[name]
        for name in ("allowed", "in_place", "expected")
        if row.get(name) is not None and not (name == "in_place" and row["is_percent"])
    }
    percents = {
        name: str(percent_of_sum(Decimal(amount), whole)) if whole else None
        for name, amount in sums.items()
    }
    unit = {"unit": PERCENT} if "unit" in row else {}
    return {**row, **percents, **unit}


@exact_arithmetic
def quantities_fields(items: tuple[QuantityInPlace, ...], track: Track) -> dict[str, Any]:
    """Return what is in place as JSON, and the hours lost by reason.

    Parameters
    ----------
    items : tuple of QuantityInPlace
        See `quantities_in_place`.
    track : Track
        Where the job stands.
    """
    return {
        "as_of": track.as_of.isoformat(),
        "known_on": track.known_on.isoformat(),
        "items": [_item(one) for one in items],
        "lost_hours": {reason: f"{hours:f}" for reason, hours in track.lost.items()},
    }


def _item(item: QuantityInPlace) -> dict[str, Any]:
    code = item.code
    quantity, expected, unit = measures_of(code)
    return {
        "code": code.code,
        "name": code.name,
        "phase": code.phase,
        "unit": unit,
        "is_measured": code.how_earned != NOT_MEASURED,
        "in_place": f"{quantity:f}",
        "expected": f"{expected:f}",
        "percent": str(rounded(code.percent, 1)),
        "hours": f"{item.hours.normalize():f}",
    }
