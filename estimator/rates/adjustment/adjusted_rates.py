"""Rates moved to another day and place: a new set of rows, never an edit of the old ones.

Each new row says from which row it was made and by which factors, so that it can be checked with
a pocket calculator: a factor is rounded once, half-up, to six decimals; the rate times the printed
factors is rounded once, half-up, to the four decimals of a rate.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from decimal import Decimal

from estimator.errors import Faults, InputFaulty, RateMissing, ScopeFaulty
from estimator.money import exact_arithmetic
from estimator.quantity.units import unit
from estimator.rates.adjustment.escalation import (
    adjusted_rate,
    factor_between,
    months_between,
    printed_factor,
    yearly_factor,
)
from estimator.rates.adjustment.index_series import IndexSeries
from estimator.rates.adjustment.location import LocationFactor
from estimator.rates.exact_inputs import Exact, exact_inputs
from estimator.rates.resources import RateTable, ResourceRate
from estimator.rates.rows import Origin

_LONGEST_QUOTED_SOURCE = 300


@exact_inputs(ScopeFaulty, signed=("yearly_change",), yearly_change="fraction")
@dataclass(frozen=True)
class Adjustment:
    """How rates are moved to another day and place.

    Parameters
    ----------
    day : date
        The day that the new rates are for; they are dated with it.
    indexes : mapping of str to IndexSeries
        The index by code of a resource, else by kind; what has none follows the yearly change.
    yearly_change : Decimal or None
        As a fraction: for kinds without an index, and for months after an index's last figure.
    location : mapping of str to LocationFactor
        Factor by kind.
    """

    day: date
    indexes: Mapping[str, IndexSeries] = field(default_factory=dict)
    yearly_change: Exact | None = None
    location: Mapping[str, LocationFactor] = field(default_factory=dict)


@dataclass(frozen=True)
class AdjustmentStep:
    """A factor of a rate.

    Parameters
    ----------
    factor : Decimal
        With six decimals.
    reason : str
        Where it comes from, in words.
    """

    factor: Decimal
    reason: str


def rates_in_force(rates: RateTable, on: date) -> tuple[ResourceRate, ...]:
    """Return the row that prices each resource on a day; resources that have none are left out."""
    in_force = []
    for code in rates.codes:
        try:
            in_force.append(rates.rate_on(code, on))
        except RateMissing:
            continue
    return tuple(in_force)


def adjusted(
    rates: Iterable[ResourceRate], adjustment: Adjustment, tables: str = "adjusted"
) -> tuple[ResourceRate, ...]:
    """Return new rows for the rates that an adjustment changes, in the same order.

    Parameters
    ----------
    rates : iterable of ResourceRate
        One row a resource, such as `rates_in_force`; each is escalated from its own date.
    adjustment : Adjustment
        Day, indexes, yearly change, place.
    tables : str
        What to call the new set.

    Returns
    -------
    tuple of ResourceRate
        Rate, low and high are multiplied alike. The new rows hold no quote: `valid_until` is empty.
        Rows that no factor applies to are left out, and so are rates per dollar (a permit, an
        allowance), which move with the sum that they are taken on. The set that they come from
        still prices them.

    Raises
    ------
    RateMissing
        If an index has no figure for a month that is needed, with every resource that asks for it.
    ScopeFaulty
        If the yearly change is no sensible fraction.
    """
    if adjustment.yearly_change is not None:
        yearly_factor(adjustment.yearly_change, 0)
    faults = Faults()
    rows: list[ResourceRate] = []
    for rate in rates:
        try:
            steps = rate_steps(rate, adjustment)
        except InputFaulty as error:
            faults.take(f"{rate.origin}, {rate.code}", error)
            continue
        if steps:
            origin = Origin(tables, "resources.csv", len(rows) + 2)
            rows.append(_adjusted_row(rate, steps, adjustment.day, origin))
    faults.raise_if_any(RateMissing)
    return tuple(rows)


def escalated(
    rates: Iterable[ResourceRate],
    indexes: Mapping[str, IndexSeries],
    day: date,
    yearly_change: Exact | None = None,
) -> tuple[ResourceRate, ...]:
    """Return new rows of the rates as of another day; see `adjusted`."""
    return adjusted(rates, Adjustment(day, indexes, yearly_change))


def localized(
    rates: Iterable[ResourceRate], location: Mapping[str, LocationFactor], day: date
) -> tuple[ResourceRate, ...]:
    """Return new rows of the rates as of another place, dated with a day; see `adjusted`."""
    return adjusted(rates, Adjustment(day, location=location))


def rate_steps(rate: ResourceRate, adjustment: Adjustment) -> list[AdjustmentStep]:
    """Return the factors of a rate; none for one per dollar, which moves with its sum by itself.

    Raises
    ------
    RateMissing
        If its index has no figure for one of the months.
    """
    if rate.unit.dimension == unit("$").dimension:
        return []
    steps = []
    time = time_step(rate, rate.set_on, adjustment)
    if time is not None:
        steps.append(time)
    place = adjustment.location.get(rate.kind)
    if place is not None:
        reason = f"{place.location}, {place.kind}: {_short(place.source)}"
        steps.append(AdjustmentStep(place.factor, reason))
    return steps


def time_step(rate: ResourceRate, since: date, adjustment: Adjustment) -> AdjustmentStep | None:
    """Return the factor of a rate from a day to that of an adjustment; None if it has none.

    Raises
    ------
    RateMissing
        If its index has no figure for one of the months.
    """
    yearly, day = adjustment.yearly_change, adjustment.day
    series = adjustment.indexes.get(rate.code, adjustment.indexes.get(rate.kind))
    span = f"{since:%Y-%m} to {day:%Y-%m}"
    if series is not None:
        factor = factor_between(series, since, day, yearly)
        last = series.points[-1].starts_on
        beyond = ""
        if yearly is not None and months_between(last, day) >= series.months_each:
            beyond = f", {_percent(yearly)} a year after {series.period_text(last)}"
        reason = f"{series.name}, {series.base}, {span}{beyond}: {_short(series.source)}"
        return AdjustmentStep(printed_factor(factor), reason)
    if yearly is not None:
        factor = yearly_factor(yearly, months_between(since, day))
        return AdjustmentStep(printed_factor(factor), f"{_percent(yearly)} a year, {span}")
    return None


@exact_arithmetic
def _percent(fraction: Decimal) -> str:
    return f"{(fraction * 100).normalize():f} %"


def _short(text: str) -> str:
    if len(text) <= _LONGEST_QUOTED_SOURCE:
        return text
    return f"{text[: _LONGEST_QUOTED_SOURCE - 3]}..."


def factors_in_words(steps: Iterable[AdjustmentStep], source: str) -> str:
    """Return factors with their reasons, and where the price before them was from."""
    made = " ".join(f"x {step.factor:f} ({step.reason})" for step in steps)
    return f"{made}; first from: {_short(source)}"


def _adjusted_row(
    rate: ResourceRate, steps: list[AdjustmentStep], day: date, origin: Origin
) -> ResourceRate:
    factors = [step.factor for step in steps]
    low = None if rate.low is None else adjusted_rate(rate.low, factors)
    high = None if rate.high is None else adjusted_rate(rate.high, factors)
    return replace(
        rate,
        rate=adjusted_rate(rate.rate, factors),
        low=low,
        high=high,
        set_on=day,
        valid_until=None,
        source=f"{rate.origin}, {rate.rate:f} {factors_in_words(steps, rate.source)}",
        origin=origin,
    )
