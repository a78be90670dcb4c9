"""Changing course: part of the work is done one way, and the rest may be done another.

What is left is priced for every method; the one under way goes on at the pace of its own log and
has already been brought to the site, the others pay for the switch.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

import numpy as np

from estimator.assemblies.assembly import QUANTITY
from estimator.assemblies.needs import worked_out
from estimator.errors import MethodsFaulty, fault, quoted
from estimator.money import dollars, exact_arithmetic
from estimator.production.placed_so_far import ObservedPace, WhatNow, what_now
from estimator.production.placed_text import read_placed
from estimator.quantity.units import counted
from estimator.rates.exact_inputs import exact_inputs
from estimator.scope.methods.method import Method
from estimator.studies.comparison.comparison import Comparison
from estimator.studies.comparison.method_prices import Changes, method_prices
from estimator.studies.comparison.method_result import in_all_cents
from estimator.studies.comparison.prepared_method import PreparedMethod

_HAIR = 1e-9


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
    days : float [day]
        At work, for the rest.
    """

    method: Method
    is_under_way: bool
    full: Decimal
    in_all: Decimal
    days: float


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
    """

    now: WhatNow
    unit: str
    ways: tuple[WayOn, ...]
    switch: Decimal

    @property
    def best(self) -> WayOn:
        """The way that costs least in all from here; going on, if it is equal."""
        return min(self.ways, key=lambda way: (way.in_all, not way.is_under_way))


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
        If nothing is left to do, or no measure of an assembly is in proportion to its quantity.

    Notes
    -----
    The rest is a share of the whole: the first length, area or count that an assembly's quantity is
    in proportion to is taken at that share, so that loads and minimums come out whole for the rest.
    """
    prepared = comparison.prepared[under_way]
    planned = comparison.as_written[under_way]
    quantity = float(planned.quantity[0])
    now = what_now(pace, quantity, quantity / float(planned.days[0]))
    if now.remaining <= 0.0:
        whole = counted(f"{quantity:,.2f}", prepared.assembly.unit.name)
        raise fault(
            MethodsFaulty,
            f"{now.pace.placed:,.2f} of {whole} are placed: nothing is left to do another way",
            where=quoted(prepared.method.name),
        )
    share = now.remaining / quantity
    ways = tuple(
        _way_on(comparison, place, share, now if place == under_way else None, switch)
        for place in range(len(comparison.prepared))
    )
    return ChangedCourse(now, prepared.assembly.unit.name, ways, switch)


def _way_on(
    comparison: Comparison, place: int, share: float, now: WhatNow | None, switch: Decimal
) -> WayOn:
    prepared = comparison.prepared[place]
    name = _measure_in_proportion(prepared)
    inputs = {name: prepared.inputs[name] * share}
    changes = Changes(inputs=inputs)
    if now is not None:
        hours = float(prepared.inputs["shift"])
        pace = now.pace.per_day * float(prepared.assembly.unit.factor) / hours
        changes = Changes(inputs=inputs, pace=np.asarray(pace), mobilization=np.zeros(()))
        switch = Decimal(0)
    prices = method_prices(prepared, changes)
    return WayOn(
        method=prepared.method,
        is_under_way=now is not None,
        full=dollars(int(prices.full_cents[0])) + switch,
        in_all=dollars(int(in_all_cents(prices, comparison.day_worth)[0])) + switch,
        days=float(np.asarray(prices.days)[0]),
    )


def _measure_in_proportion(prepared: PreparedMethod) -> str:
    """Return the first input of an assembly that its quantity is in proportion to."""
    for one in prepared.assembly.inputs:
        if one.is_derived or one.unit.is_proportion:
            continue
        inputs = prepared.inputs[one.name] * np.array([1.0, 0.5, 0.25])
        with np.errstate(all="ignore"):
            values = worked_out(prepared.assembly, False, {**prepared.inputs, one.name: inputs})
        quantity = np.broadcast_to(values[QUANTITY], (3,))
        if np.allclose(quantity, quantity[0] * np.array([1.0, 0.5, 0.25]), rtol=_HAIR, atol=0.0):
            return one.name
    raise fault(
        MethodsFaulty,
        f"{quoted(prepared.assembly.code)} has no measure that its quantity is in proportion to",
        "give the rest as an item of its own",
        quoted(prepared.method.name),
    )
