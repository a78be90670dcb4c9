"""Hours per unit in place, beside those of the accepted estimate."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal

from estimator.pricing.printed_estimate import PrintedEstimate
from estimator.tracking.books_by_day import HoursByDay
from estimator.tracking.closed_weeks import LABOR
from estimator.tracking.status import MEASURED, CodeStatus

_HOUR = "hr"


@dataclass(frozen=True)
class HoursOfCode:
    """The hours that were logged on a code, and those of the estimate.

    Parameters
    ----------
    code, unit : str
        Cost code; unit of its quantity.
    hours : Decimal
        [hr] All that were logged by the day, paid or not.
    quantity : Decimal
        [unit] In place.
    planned_per_unit : float or None
        [hr/unit] Of the accepted estimate; None where it has no hours or no quantity.
    """

    code: str
    unit: str
    hours: Decimal
    quantity: Decimal
    planned_per_unit: float | None

    @property
    def per_unit(self) -> float | None:
        """Hours per unit in place [hr/unit]; None where nothing is in place."""
        return float(self.hours) / float(self.quantity) if self.quantity else None


def hours_of_codes(
    codes: Iterable[CodeStatus], hours: HoursByDay, estimate: PrintedEstimate
) -> tuple[HoursOfCode, ...]:
    """Return the hours of each code that is measured and on which some were logged.

    Parameters
    ----------
    codes : iterable of CodeStatus
        Where they stand.
    hours : mapping of str to mapping
        [hr] See `DailyBooks`.
    estimate : PrintedEstimate
        The accepted one.
    """
    planned = hours_per_unit(estimate)
    logged = {code: sum(by_day.values(), Decimal(0)) for code, by_day in hours.items()}
    return tuple(
        HoursOfCode(one.code, one.unit, own, one.quantity, planned.get(one.code))
        for one in codes
        if one.how_earned == MEASURED and (own := logged.get(one.code))
    )


def hours_per_unit(estimate: PrintedEstimate) -> Mapping[str, float]:
    """Return the labor hours that an estimate has per unit of each item [hr/unit].

    Parameters
    ----------
    estimate : PrintedEstimate
        With hours that are paid and hours that are not.
    """
    hours: dict[str, float] = defaultdict(float)
    for line in estimate.lines:
        if line.kind == LABOR and line.unit == _HOUR:
            hours[line.item] += float(Decimal(line.ordered).scaleb(-line.decimals))
    return {
        one.item: hours[one.item] / float(one.quantity)
        for one in estimate.items
        if one.quantity and hours[one.item]
    }
