"""What every method costs in all over one value, and over a map of two."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
import numpy.typing as npt

from estimator.cents import Cents
from estimator.errors import MethodsFaulty, fault, quoted
from estimator.studies.comparison.comparison import Comparison
from estimator.studies.comparison.method_prices import AS_WRITTEN, Changes, method_prices
from estimator.studies.comparison.method_result import in_all_cents
from estimator.studies.comparison.step_times import StepTimes
from estimator.studies.comparison.varied import Sort, Varied

Values = npt.NDArray[np.float64]

MOST_POINTS = 1_000_000


@dataclass(frozen=True)
class Curves:
    """Costs of all methods over one value.

    Parameters
    ----------
    varied : Varied
        What is varied.
    values : float array, shape (n,)
        In the unit of what is varied.
    cents : int64 array, shape (methods, n)
        In all, at each value.
    days : float array, shape (methods, n) [day]
        At work, by each method at each value.
    competing : tuple of int
        Places of the methods that can be done; the others are priced and never the cheapest.
    """

    varied: Varied
    values: Values
    cents: Cents
    days: Values
    competing: tuple[int, ...]

    @property
    def cheapest(self) -> npt.NDArray[np.int64]:
        """Place of the cheapest method at each value, the first of equals; shape (n,)."""
        return _cheapest(self.cents, self.competing)

    def cheapest_at(self, place: int) -> tuple[int, ...]:
        """Return the places of all methods that are cheapest at one of the values."""
        least = self.cents[self.cheapest[place], place]
        return tuple(one for one in self.competing if self.cents[one, place] == least)


@dataclass(frozen=True)
class CostMap:
    """Costs of all methods over two values.

    Parameters
    ----------
    across, up : Varied
        What is varied to the right and upward.
    across_values, up_values : float arrays, shapes (nx,) and (ny,)
        In rising order.
    cents : int64 array, shape (methods, ny, nx)
        In all.
    competing : tuple of int
        Places of the methods that can be done.
    """

    across: Varied
    up: Varied
    across_values: Values
    up_values: Values
    cents: Cents
    competing: tuple[int, ...]

    @cached_property
    def cheapest(self) -> npt.NDArray[np.int64]:
        """Place of the cheapest method in each field; shape (ny, nx).

        Where several cost the same, it is the number of methods and the place in `ties`.
        """
        first = _cheapest(self.cents, self.competing)
        for number, tie in enumerate(self.ties, start=len(self.cents)):
            first[self._are_least(tie)] = number
        return first

    @cached_property
    def ties(self) -> tuple[tuple[int, ...], ...]:
        """Places of the methods that cost the same, and least, in some field; each group once."""
        fields = self._is_least.reshape(len(self.cents), -1).T
        several = np.unique(fields[fields.sum(axis=1) > 1], axis=0)
        return tuple(sorted(tuple(np.flatnonzero(one).tolist()) for one in several))

    @cached_property
    def _is_least(self) -> npt.NDArray[np.bool_]:
        """Whether a method is among the cheapest in a field; shape (methods, ny, nx)."""
        is_competing = np.isin(np.arange(len(self.cents)), self.competing)
        least = self.cents[list(self.competing)].min(axis=0)
        return np.asarray((self.cents == least) & is_competing[:, None, None])

    def _are_least(self, tie: tuple[int, ...]) -> npt.NDArray[np.bool_]:
        named = np.isin(np.arange(len(self.cents)), tie)
        return np.asarray((self._is_least == named[:, None, None]).all(axis=0))


def _cheapest(cents: Cents, competing: tuple[int, ...]) -> npt.NDArray[np.int64]:
    places = np.array(competing)
    return np.asarray(places[np.argmin(cents[places], axis=0)])


def cost_curves(comparison: Comparison, varied: Varied, values: Values) -> Curves:
    """Return what every method costs over values of one thing.

    Parameters
    ----------
    comparison : Comparison
        The methods, priced.
    varied : Varied
        From `varied_named`.
    values : float array, shape (n,)
        In its unit.

    Raises
    ------
    MethodsFaulty
        If there are no values or too many, one is outside what the thing can be, or leads to no
        sensible quantity.
    ProductionFaulty
        If a step would take no time.
    """
    _check_values(varied, values)
    cents, days = [], []
    for place in range(len(comparison.prepared)):
        changes = varied.changes(values) if place in varied.methods else AS_WRITTEN
        worth = values if varied.sort is Sort.DAY_WORTH else None
        one_cents, one_days = _priced(comparison, place, changes, worth, len(values))
        cents.append(one_cents)
        days.append(one_days)
    return Curves(varied, values, np.array(cents), np.array(days), comparison.competing)


def cost_map(
    comparison: Comparison, across: Varied, up: Varied, across_values: Values, up_values: Values
) -> CostMap:
    """Return what every method costs over two values.

    Raises
    ------
    MethodsFaulty
        If both are the same thing, or as in `cost_curves`.
    ProductionFaulty
        If a step would take no time.
    """
    if (across.sort, across.target) == (up.sort, up.target) and set(across.methods) & set(
        up.methods
    ):
        raise fault(MethodsFaulty, f"{quoted(across.name)} is varied twice", "name two things")
    _check_values(across, across_values)
    _check_values(up, up_values)
    shape = (len(up_values), len(across_values))
    x = np.broadcast_to(across_values, shape).ravel()
    y = np.broadcast_to(up_values[:, None], shape).ravel()
    if x.size > MOST_POINTS:
        raise fault(MethodsFaulty, f"a map of {x.size:,} points", f"at most {MOST_POINTS:,}")
    worth = next((v for one, v in ((across, x), (up, y)) if one.sort is Sort.DAY_WORTH), None)
    cents = []
    for place in range(len(comparison.prepared)):
        changes = AS_WRITTEN
        for one, values in ((across, x), (up, y)):
            if place in one.methods:
                changes = joined(changes, one.changes(values))
        cents.append(_priced(comparison, place, changes, worth, x.size)[0].reshape(shape))
    return CostMap(across, up, across_values, up_values, np.array(cents), comparison.competing)


def joined(one: Changes, other: Changes) -> Changes:
    """Return two sets of changes together; the other's where both change the same."""
    if one is AS_WRITTEN or other is AS_WRITTEN:
        return other if one is AS_WRITTEN else one
    steps = StepTimes(
        {**one.steps.by_step, **other.steps.by_step},
        {**one.steps.turnarounds, **other.steps.turnarounds},
        {**one.steps.carriers, **other.steps.carriers},
    )
    return replace(
        one,
        inputs={**one.inputs, **other.inputs},
        rates={**one.rates, **other.rates},
        steps=steps,
        mobilization=one.mobilization if other.mobilization is None else other.mobilization,
    )


def _priced(
    comparison: Comparison, place: int, changes: Changes, worth: Values | None, count: int
) -> tuple[Cents, Values]:
    """Return the cents in all and the days of a method."""
    prices = comparison.as_written[place]
    if changes is not AS_WRITTEN:
        prices = method_prices(comparison.prepared[place], changes, count)
    cents = in_all_cents(prices, comparison.day_worth if worth is None else worth)
    return np.broadcast_to(cents, (count,)), np.broadcast_to(prices.days, (count,))


def _check_values(varied: Varied, values: Values) -> None:
    if values.size == 0:
        raise fault(MethodsFaulty, "there is no value to vary", where=varied.name)
    slack = 1e-9 * max(1.0, abs(varied.most))
    outside = ~np.isfinite(values) | (values < varied.least - 1e-9) | (values > varied.most + slack)
    if outside.any():
        raise fault(
            MethodsFaulty,
            f"{float(values[outside][0]):,.6g} {varied.unit.name} is outside what it can be",
            f"expected {varied.least:,.6g} to {varied.most:,.6g}",
            varied.name,
        )
