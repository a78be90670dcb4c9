"""What was placed so far as a builder writes it: day by day, or one sum with its days."""

from __future__ import annotations

import re

from estimator.errors import Faults, MeasureFaulty, ProductionFaulty, fault, quoted
from estimator.production.placed_so_far import MOST_DAYS, ObservedPace, observed_pace, pace_of_sum
from estimator.quantity.measures import read_measure
from estimator.quantity.units import Unit

_OVER_TIME = re.compile(
    r"(?P<placed>.+?)\s+in\s+(?P<time>[\d.,]+\s*[a-z]+)", re.ASCII | re.IGNORECASE
)
_DAYS = re.compile(r"(?P<days>\d{1,6})\s*days?", re.ASCII | re.IGNORECASE)


def read_placed(text: str, wanted: Unit) -> ObservedPace:
    """Return the pace of what was placed so far.

    Parameters
    ----------
    text : str
        `38 ton; 46 ton; 42 ton`, one measure for each day, or `400 ton in 9 days`.
    wanted : Unit
        The unit of the work; the pace is in it.

    Raises
    ------
    ProductionFaulty
        If a measure is not of its kind, a sum has no days, or nothing was placed; every faulty day
        at once.

    Examples
    --------
    >>> from estimator.quantity.units import unit
    >>> read_placed("400 ton in 8 days", unit("ton")).per_day
    50.0
    >>> read_placed("38 ton; 46 ton; 42 ton", unit("ton")).days
    3
    """
    days = [day.strip() for day in text.split(";") if day.strip()]
    if len(days) > MOST_DAYS:
        raise fault(ProductionFaulty, f"has more than {MOST_DAYS:,} days", where="placed")
    if len(days) == 1:
        return _over_days(days[0], wanted)
    faults = Faults()
    placed = [_of_day(number, day, wanted, faults) for number, day in enumerate(days, start=1)]
    faults.raise_if_any(ProductionFaulty)
    return observed_pace(placed)


def _over_days(text: str, wanted: Unit) -> ObservedPace:
    """Return the pace of one sum, which needs its days."""
    remedy = (
        f'write the days with the sum, as in "400 {wanted.name} in 9 days", or what each day '
        f'placed, as in "38 {wanted.name}; 46 {wanted.name}"'
    )
    over = _OVER_TIME.fullmatch(text)
    faults = Faults()
    placed = _of_day(0, over["placed"] if over else text, wanted, faults)
    faults.raise_if_any(ProductionFaulty)
    if over is None:
        what = f"{quoted(text)} is one sum without its days: that gives no pace"
        raise fault(ProductionFaulty, what, remedy, "placed")
    days = _DAYS.fullmatch(over["time"])
    if days is None:
        what = f"{quoted(over['time'])} is not a whole number of days"
        raise fault(ProductionFaulty, what, remedy, "placed")
    if not int(days["days"]):
        what = f"{quoted(text)} leaves no time for the work"
        raise fault(ProductionFaulty, what, remedy, "placed")
    return pace_of_sum(placed, int(days["days"]))


def _of_day(number: int, text: str, wanted: Unit, faults: Faults) -> float:
    """Return what one day placed; 0 with its fault noted. Day 0 is a sum over all days."""
    where = f"placed on day {number}" if number else "placed"
    if number and _OVER_TIME.fullmatch(text):
        what = f"{quoted(text)} is a sum over days among single days"
        faults.add(where, what, f"write {quoted(f'38 {wanted.name}')} for each day")
        return 0.0
    try:
        return float(read_measure(text, wanted).in_unit(wanted))
    except MeasureFaulty as error:
        faults.take(where, error)
        return 0.0
