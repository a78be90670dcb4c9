"""Changing course: part of the work is done one way, and the rest may be done another.

What is left is priced for every method; the one under way goes on at the pace of its own log and
has already been brought to the site, the others pay for the switch.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal

import numpy as np

from estimator.errors import MethodsFaulty, fault, quoted
from estimator.money import dollars, exact_arithmetic
from estimator.production.placed_so_far import ObservedPace, WhatNow, what_now
from estimator.production.placed_text import read_placed
from estimator.quantity.units import counted
from estimator.rates.exact_inputs import exact_inputs
from estimator.scope.methods.method import CARRIERS_OF_KINDS, Method
from estimator.scope.methods.rising_fill import RisingFill
from estimator.studies.comparison.comparison import Comparison
from estimator.studies.comparison.method_prices import (
    Changes,
    MethodPrices,
    method_prices,
)
from estimator.studies.comparison.method_result import in_all_cents
from estimator.studies.comparison.on_hand import OnHand, on_hand
from estimator.studies.comparison.rest_by_dates import DoneWork, prices_by_dates
from estimator.studies.comparison.rest_of_work import (
    measure_in_proportion,
    observed_rate,
    rest_of,
)
from estimator.studies.comparison.step_times import StepTimes
from estimator.studies.comparison.varied import may_vary_carriers


@exact_arithmetic
@dataclass(frozen=True)
class WayOn:
    """One way to do the rest.

    Parameters
    ----------
    method : Method
        That finishes the work.
    is_under_way : bool
        Whether it is the one that placed what is there.
    full : Decimal
        [$] Cash with markups, and own labor and material, less what is kept; with the switch.
    in_all : Decimal
        [$] The same with the worth of its days.
    by_dates : Decimal
        [$] The same with its machines at what the rents of the job rise by on its dates, where the
        scope has a calendar.
    days : float [day]
        At work, for the rest.
    is_held_back : bool
        Whether it goes at the pace of the one under way, since both go through the same opening.
    """

    method: Method
    is_under_way: bool
    full: Decimal
    in_all: Decimal
    by_dates: Decimal
    days: float
    is_held_back: bool = False


@exact_arithmetic
@dataclass(frozen=True)
class ChangedCourse:
    """Where the work stands and the ways to finish it.

    Parameters
    ----------
    now : WhatNow
        Of the method under way, in the unit of its assembly.
    unit : str
        Of the quantities.
    ways : tuple of WayOn
        In the order of the methods.
    switch : Decimal
        [$] Cost of the switch, in each way that is not under way.
    on_hand : tuple of OnHand
        What came for the work that is done and is not used up: no way buys it again.
    rise : RisingFill or None
        Of the method under way, if the item states a level.
    """

    now: WhatNow
    unit: str
    ways: tuple[WayOn, ...]
    switch: Decimal
    on_hand: tuple[OnHand, ...] = ()
    rise: RisingFill | None = None

    @property
    def going_on(self) -> WayOn:
        """The way of the method that is under way."""
        return next(way for way in self.ways if way.is_under_way)

    @property
    def possible(self) -> tuple[WayOn, ...]:
        """The ways that can be done."""
        return tuple(way for way in self.ways if not way.method.obstacle)

    @property
    def is_dated(self) -> bool:
        """Whether the rents of the job make another sum of a way that can be done."""
        return any(way.by_dates != way.in_all for way in self.possible)

    @property
    def best(self) -> WayOn:
        """The way that costs least in all of those that can be done; going on, if it is equal."""
        return min(self.possible, key=lambda way: (way.in_all, not way.is_under_way))


def course_so_far(
    comparison: Comparison, placed: str, by: str, switch: Decimal = Decimal(0)
) -> ChangedCourse:
    """Return what the rest of the work costs, from what was placed as a builder writes it.

    Parameters
    ----------
    comparison : Comparison
        The methods, priced for the whole work.
    placed : str
        `38 ton; 46 ton; 42 ton` or `400 ton in 9 days`.
    by : str
        Name, or a part of it, of the method that has placed it.
    switch : Decimal
        [$] As in `changed_course`.

    Raises
    ------
    MethodsFaulty
        If the name points to no single method, or as in `changed_course`.
    ProductionFaulty
        If the text tells no pace.
    """
    place = comparison.place(by)
    pace = read_placed(placed, comparison.prepared[place].assembly.unit)
    return changed_course(comparison, place, pace, switch)


@exact_inputs(MethodsFaulty, switch="$")
def changed_course(
    comparison: Comparison,
    under_way: int,
    pace: ObservedPace,
    switch: Decimal = Decimal(0),
) -> ChangedCourse:
    """Return what the rest of the work costs, by the method under way and by every other.

    Parameters
    ----------
    comparison : Comparison
        The methods, priced for the whole work.
    under_way : int
        Place of the method that has done the work so far.
    pace : ObservedPace
        Of the days so far, in the unit of its assembly; from `read_placed` or `observed_pace`.
    switch : Decimal
        [$] What a switch costs beside the mobilization of the other method: cleaning up, a lost
        day, plates for a truck.

    Raises
    ------
    MethodsFaulty
        If nothing is left to do, the machine that has placed it does not pass the opening, or no
        measure of an assembly is in proportion to its quantity.

    Notes
    -----
    The rest is a share of the whole, so that loads and minimums come out whole for the rest; of a
    fill that waits for each lift it is the upper lifts (`rest_of`).

    What was ordered for the work that is done, in whole loads, and is not used up, is not bought
    again by any method that uses the same resource.

    What came through an opening in a day is the most that any method gets through it, whatever its
    own plan; only the method that has placed it may be faster than planned. What such a method has
    to wait for, a lift a day, it waits for all the same.
    """
    so_far = _so_far(comparison, under_way, pace, switch)
    ways = tuple(_way_on(comparison, place, so_far) for place in range(len(comparison.prepared)))
    unit, rise = comparison.prepared[under_way].assembly.unit.name, comparison.rises[under_way]
    return ChangedCourse(so_far.now, unit, ways, switch, so_far.on_hand, rise)


@exact_arithmetic
def with_one_more(comparison: Comparison, under_way: int, pace: ObservedPace) -> WayOn | None:
    """Return what the rest costs by the method under way with one more carrier in its system.

    Parameters
    ----------
    comparison, under_way, pace
        As for `changed_course`.

    Returns
    -------
    WayOn or None
        None of a method without a system, with several kinds of carriers, or of which nobody says
        what one more brings along.

    Raises
    ------
    MethodsFaulty
        As `changed_course`.

    Notes
    -----
    The days that are left at the observed pace go down as the hours of the plan do with one more:
    what waits in line at a station goes no faster. The mobilization is paid once more.
    """
    prepared = comparison.prepared[under_way]
    production = prepared.method.production
    if production is None or production.beside is not None or not may_vary_carriers(prepared):
        return None
    so_far = _so_far(comparison, under_way, pace, Decimal(0))
    rest = rest_of(prepared, so_far.left)
    more = StepTimes(carriers={CARRIERS_OF_KINDS[0]: np.asarray(production.system.carriers + 1.0)})
    hours = [method_prices(rest, Changes(steps=steps)).hours for steps in (StepTimes(), more)]
    days = so_far.days_left * float(hours[1][0] / hours[0][0])
    changes = Changes(
        on_hand=so_far.used_first, steps=more, pace=observed_rate(rest, days), days=days
    )  # fmt: skip
    return _way(comparison, under_way, method_prices(rest, changes), so_far)


def _so_far(comparison: Comparison, under_way: int, pace: ObservedPace, switch: Decimal) -> _SoFar:
    """Return what is done; refuse where nothing is left, or the machine cannot have done it."""
    prepared = comparison.prepared[under_way]
    planned = comparison.as_written[under_way]
    quantity = float(planned.quantity[0])
    now = what_now(pace, quantity, quantity / float(planned.days[0]))
    if now.remaining <= 0.0:
        whole = counted(f"{quantity:,.2f}", prepared.assembly.unit.name)
        raise fault(
            MethodsFaulty,
            f"{now.pace.placed:,.2f} of {whole} placed: nothing is left to do another way",
            where=quoted(prepared.method.name),
        )
    _check_has_passed(prepared.method, now)
    there = on_hand(prepared, measure_in_proportion(prepared), now.pace.placed / quantity)
    return _SoFar(under_way, now, quantity, switch, there)


@dataclass(frozen=True)
class _SoFar:
    """What is done: by which method, of how much; what a switch costs, and what is there."""

    under_way: int
    now: WhatNow
    quantity: float
    switch: Decimal
    on_hand: tuple[OnHand, ...]

    @property
    def left(self) -> float:
        """The share of the whole work that is left."""
        return self.now.remaining / self.quantity

    @property
    def share_per_day(self) -> float:
        """The share of the whole work that a day has placed."""
        return self.now.pace.per_day / self.quantity

    @property
    def used_first(self) -> dict[str, float]:
        """What is there, by resource."""
        return {one.code: one.quantity for one in self.on_hand}

    @property
    def days_left(self) -> float:
        """How long what is left takes at that pace [day]."""
        return self.left / self.share_per_day


def _check_has_passed(method: Method, now: WhatNow) -> None:
    if method.obstacle:
        raise fault(
            MethodsFaulty,
            f"it has placed {now.pace.placed:,.2f}, yet {method.obstacle}",
            "measure both again",
            quoted(method.name),
        )


def _way_on(comparison: Comparison, place: int, so_far: _SoFar) -> WayOn:
    prepared, is_under_way = comparison.prepared[place], place == so_far.under_way
    rest = rest_of(prepared, so_far.left)
    changes = Changes(on_hand=so_far.used_first)
    is_held_back = _is_held_back(comparison, place, so_far)
    if is_under_way or is_held_back:
        changes = replace(changes, pace=observed_rate(rest, so_far.days_left))
    if is_under_way:
        changes = replace(changes, mobilization=np.zeros(()), days=so_far.days_left)
    return _way(comparison, place, method_prices(rest, changes), so_far, is_held_back=is_held_back)


def _way(
    comparison: Comparison,
    place: int,
    prices: MethodPrices,
    so_far: _SoFar,
    *,
    is_held_back: bool = False,
) -> WayOn:
    is_under_way = place == so_far.under_way
    switch = Decimal(0) if is_under_way else so_far.switch
    done = DoneWork(so_far.under_way, so_far.now.pace.days)
    by_dates = prices_by_dates(comparison, place, prices, done)
    return WayOn(
        method=comparison.prepared[place].method,
        is_under_way=is_under_way,
        full=dollars(int(prices.full_cents[0])) + switch,
        in_all=dollars(int(in_all_cents(prices, comparison.day_worth)[0])) + switch,
        by_dates=dollars(int(in_all_cents(by_dates, comparison.day_worth)[0])) + switch,
        days=float(np.asarray(prices.days)[0]),
        is_held_back=is_held_back,
    )


def _is_held_back(comparison: Comparison, place: int, so_far: _SoFar) -> bool:
    """Whether a method would be faster than what came through the opening that it goes through."""
    method = comparison.prepared[place].method
    opening = comparison.prepared[so_far.under_way].method.opening
    if place == so_far.under_way or opening is None or method.opening is None:
        return False
    planned_days = float(comparison.as_written[place].days[0])
    return method.has_crew_hours and planned_days * so_far.share_per_day < 1.0
