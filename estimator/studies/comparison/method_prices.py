"""What a method costs, for one set of values or for many at once.

The lines of its assembly and crew are worked out, raised to what can be bought, and extended to the
cent as in any estimate; only that what a phase orders together is here ordered for this work alone.
Any input, rate or step time may be an array: that gives curves and maps.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from decimal import Decimal
from functools import cached_property

import numpy as np
import numpy.typing as npt

from estimator.assemblies.assembly import CREW_HOURS, PRODUCTION_RATE, QUANTITY, SHIFT
from estimator.assemblies.markups import percent_markup_cents
from estimator.assemblies.needs import line_need, working_days
from estimator.assemblies.ordering import order_of
from estimator.cents import Cents, extension_cents
from estimator.errors import GeometryFaulty, MethodsFaulty, fault, quoted
from estimator.money import RATE_DECIMALS, fixed_point, to_cents
from estimator.production.many_outputs import many_outputs
from estimator.quantity.rounding import scaled_half_up
from estimator.quantity.units import unit
from estimator.rates.kinds import SALVAGE
from estimator.scope.methods.method import Production
from estimator.scope.methods.method_work import Pace, method_values, pace_of, placed_per_hr
from estimator.studies.comparison.prepared_method import PreparedMethod, PricedLine
from estimator.studies.comparison.step_times import StepTimes, times_by_place

Values = npt.NDArray[np.float64]

LARGEST_QUANTITY = 1e9
MOBILIZATION_KIND, STORAGE_KIND = "haul", "fee"

_HOUR, _DAY = unit("hr"), unit("day")


@dataclass(frozen=True)
class Changes:
    """What is other than the method says; arrays of shape (n,) or ().

    Parameters
    ----------
    inputs : mapping of str to float array
        Inputs of the assembly, in base units.
    rates : mapping of str to float array [$/unit]
        By resource, for its own unit.
    steps : StepTimes
        Of the working system.
    mobilization : float array or None [$]
        In place of the method's own.
    pace : float array or None [base unit of the quantity/hr]
        Observed, in place of what the assembly or the system promises; all delays are in it.
    days : float or None [day]
        Observed: they hold whatever the work has waited for.
    on_hand : mapping of str to float
        By resource, in its own unit: there already, and not bought again.
    """

    inputs: Mapping[str, Values] = field(default_factory=dict)
    rates: Mapping[str, Values] = field(default_factory=dict)
    steps: StepTimes = field(default_factory=StepTimes)
    mobilization: Values | None = None
    pace: Values | None = None
    days: float | None = None
    on_hand: Mapping[str, float] = field(default_factory=dict)


AS_WRITTEN = Changes()


@dataclass(frozen=True)
class MethodPrices:
    """What a method comes to, n times; all arrays of shape (n,).

    Parameters
    ----------
    quantity : float array [unit of the assembly]
        Of finished work.
    hours, hours_at_best : float arrays [hr]
        At work, with waiting lines and if nothing varied; the same where there is no system.
    days : float array [day]
        Working days, with the part of the last one; more than the hours take where a lift has to
        wait for the one below it.
    shift_hr : float array [hr/day]
        Length of the working day.
    cents_by_kind : mapping of str to int64 array
        What is paid; mobilization is haul, storage a fee.
    markup_cents : int64 array
        Percentage markups on it.
    own_cents : int64 array
        Unpaid labor and own material.
    kept_cents, sold_cents : int64 arrays
        What is kept for use, and what salvage is sold for; positive.
    crew_cents : int64 array
        The part of cost that the crew is, paid or not.
    labor_hours, machine_days : float arrays [hr], [day]
        Paid hours of people, and rented or owned days of machines.
    ordered : tuple of float arrays
        [unit of its resource] What each line of the method orders.
    """

    quantity: Values
    hours: Values
    hours_at_best: Values
    days: Values
    shift_hr: Values
    cents_by_kind: Mapping[str, Cents]
    markup_cents: Cents
    own_cents: Cents
    kept_cents: Cents
    sold_cents: Cents
    crew_cents: Cents
    labor_hours: Values
    machine_days: Values
    ordered: tuple[Values, ...]

    @cached_property
    def cash_cents(self) -> Cents:
        """All money that leaves, with markups."""
        return np.asarray(sum(self.cents_by_kind.values(), self.markup_cents))

    @cached_property
    def full_cents(self) -> Cents:
        """Cash with unpaid labor and own material, less what is kept or sold."""
        return np.asarray(self.cash_cents + self.own_cents - self.kept_cents - self.sold_cents)


def method_prices(
    prepared: PreparedMethod, changes: Changes = AS_WRITTEN, count: int = 1
) -> MethodPrices:
    """Return what a method comes to, `count` times.

    Parameters
    ----------
    prepared : PreparedMethod
        The method, ready to be priced.
    changes : Changes
        Arrays of shape (count,) or ().
    count : int
        n of the result.

    Raises
    ------
    MethodsFaulty
        If a value leads to a quantity that is no number, negative, absurd, or to no work at all.
    ProductionFaulty
        If a step would take no time.
    AmountTooLarge
        If a line cannot be priced to the cent.
    """
    inputs = {**prepared.inputs, **changes.inputs, **changes.steps.carriers}
    pace = _pace(prepared, changes)
    best_share = np.ones(())
    if changes.pace is not None:
        inputs[PRODUCTION_RATE] = changes.pace
    elif pace is not None:
        inputs[PRODUCTION_RATE] = placed_per_hr(pace.per_hr, inputs)
        best_share = inputs[PRODUCTION_RATE] / placed_per_hr(pace.at_best_per_hr, inputs)
    if changes.pace is not None:
        prepared = replace(prepared, method=replace(prepared.method, delays=None))
    values = working_values(prepared, inputs)
    quantity = values[QUANTITY] / float(prepared.assembly.unit.factor)
    _check(prepared, quantity, "the quantity", is_work=True)
    _check(prepared, values[CREW_HOURS], "the hours at work")
    return _summed(prepared, changes, values, best_share, count)


def _pace(prepared: PreparedMethod, changes: Changes) -> Pace | None:
    production = prepared.method.production
    if production is None:
        return None
    if not changes.steps.has_any:
        return pace_of(production)
    times = [times_by_place(one, changes.steps) for one in production.kinds]
    outputs = many_outputs(
        production.systems, times, production.placing, production.lifts,
        [changes.steps.carriers.get(name) for name, _ in production.counted],
    )  # fmt: skip
    return pace_of(production, outputs)


def working_values(prepared: PreparedMethod, inputs: Mapping[str, Values]) -> dict[str, Values]:
    """Return all values that the lines of a method use, with the hours of its work."""
    try:
        with np.errstate(all="ignore"):
            return method_values(prepared.method, inputs, prepared.slopes)
    except GeometryFaulty as error:
        raise MethodsFaulty(error.faults, error.more) from error


def _check(prepared: PreparedMethod, values: Values, what: str, *, is_work: bool = False) -> None:
    """Refuse what is no quantity; work must be some."""
    good = np.isfinite(values) & (values < LARGEST_QUANTITY)
    good &= values > (0.0 if is_work else -1e-9)
    if not np.all(good):
        bad = float(np.asarray(values)[~good][0])
        shown = f"{bad:,.2f}" if np.isfinite(bad) else "no number"
        raise fault(
            MethodsFaulty,
            f"{what} comes to {shown}",
            "check what is varied, and inputs that are subtracted or divided by",
            quoted(prepared.method.name),
        )


def _summed(
    prepared: PreparedMethod,
    changes: Changes,
    values: Mapping[str, Values],
    best_share: Values,
    count: int,
) -> MethodPrices:
    paid, total = _fixed_sums(prepared, changes, count), _Totals(count)
    left = dict(changes.on_hand)
    for one in prepared.lines:
        quantity, cents = _extended(prepared, one, changes, values, count, left)
        if one.rate.kind == SALVAGE:
            total.sold_cents = total.sold_cents + cents
        elif one.rate.is_paid:
            paid[one.rate.kind] = paid.get(one.rate.kind, 0) + cents
        else:
            total.own_cents = total.own_cents + cents
        total.add(one, quantity, cents, values[SHIFT])
    kept_cents = np.zeros(count, dtype=np.int64)
    if prepared.kept is not None:
        _, kept_cents = _extended(prepared, prepared.kept, changes, values, count, {})
    hours = np.broadcast_to(values[CREW_HOURS], (count,))
    quantity = values[QUANTITY] / float(prepared.assembly.unit.factor)
    return MethodPrices(
        quantity=np.broadcast_to(quantity, (count,)),
        hours=hours,
        hours_at_best=hours * best_share,
        days=np.broadcast_to(_days(values, changes), (count,)),
        shift_hr=values[SHIFT],
        cents_by_kind=paid,
        markup_cents=np.broadcast_to(percent_markup_cents(paid, prepared.markups), (count,)),
        own_cents=total.own_cents,
        kept_cents=kept_cents,
        sold_cents=total.sold_cents,
        crew_cents=total.crew_cents,
        labor_hours=total.labor_hours,
        machine_days=total.machine_days,
        ordered=tuple(total.ordered),
    )


def _days(values: Mapping[str, Values], changes: Changes) -> Values:
    return working_days(values) if changes.days is None else np.asarray(changes.days)


def _fixed_sums(prepared: PreparedMethod, changes: Changes, count: int) -> dict[str, Cents]:
    """Return what is paid whatever the quantity: mobilization and storage."""
    mobilization = np.full(count, to_cents(prepared.method.mobilization))
    if changes.mobilization is not None:
        mobilization = np.broadcast_to(scaled_half_up(changes.mobilization, 2), (count,))
    sums = {MOBILIZATION_KIND: mobilization}
    if prepared.method.storage:
        sums[STORAGE_KIND] = np.full(count, to_cents(prepared.method.storage))
    return sums


class _Totals:
    """Sums over lines that are under way."""

    def __init__(self, count: int) -> None:
        self.own_cents = np.zeros(count, dtype=np.int64)
        self.sold_cents = np.zeros(count, dtype=np.int64)
        self.crew_cents = np.zeros(count, dtype=np.int64)
        self.labor_hours = np.zeros(count)
        self.machine_days = np.zeros(count)
        self.ordered: list[Values] = []

    def add(self, one: PricedLine, quantity: Values, cents: Cents, shift_hr: Values) -> None:
        self.ordered.append(quantity)
        if one.line.is_crew:
            self.crew_cents = self.crew_cents + cents
        measured, factor = one.rate.unit.dimension, float(one.rate.unit.factor)
        if one.rate.kind == "labor" and measured == _HOUR.dimension:
            self.labor_hours = self.labor_hours + quantity * factor
        if one.rate.kind == "equipment" and measured == _DAY.dimension:
            self.machine_days = self.machine_days + quantity * factor
        if one.rate.kind == "equipment" and measured == _HOUR.dimension:
            self.machine_days = self.machine_days + quantity * factor / shift_hr


def _extended(
    prepared: PreparedMethod,
    one: PricedLine,
    changes: Changes,
    values: Mapping[str, Values],
    count: int,
    left: dict[str, float],
) -> tuple[Values, Cents]:
    """Return what is ordered of a resource, and its amount in cents; use up what is left of it."""
    need = line_need(one.line, values, one.rate.unit, count)
    _check(prepared, need.with_waste, one.rate.name)
    if one.rate.code in left:
        there = left.pop(one.rate.code)
        left[one.rate.code] = max(0.0, there - float(need.with_waste.max()))
        still = np.maximum(need.with_waste - there, 0.0)
        need = replace(need, need=np.minimum(need.need, still), with_waste=still)
    order = order_of(need, one.decimals)
    rate: Values | Cents = np.asarray(fixed_point(one.rate.rate, RATE_DECIMALS))
    if one.rate.code in changes.rates:
        rate = scaled_half_up(changes.rates[one.rate.code], RATE_DECIMALS)
    scaled = np.broadcast_to(rate, (count,)).astype(np.int64)
    cents = extension_cents(order.ordered, np.full(count, one.decimals), scaled)
    return order.ordered / 10.0**one.decimals, cents


def hired_hour(prepared: PreparedMethod, kind: Production) -> Decimal:
    """Return what all carriers of a kind that are paid by the hour cost in an hour [$]."""
    carriers = {one.resource for one in kind.hired if one.number is None}
    rates = [one.rate for one in prepared.lines if one.rate.code in carriers]
    hourly = [rate for rate in rates if rate.unit.dimension == _HOUR.dimension]
    return Decimal(kind.system.carriers) * sum((rate.rate for rate in hourly), Decimal(0))
