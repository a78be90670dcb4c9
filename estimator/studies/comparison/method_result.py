"""What one method comes to: its costs, its days and their worth, its output, its waiting."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

import numpy as np
import numpy.typing as npt

from estimator.cents import Cents, divide_half_up
from estimator.money import dollars, exact_arithmetic, round_to_cent, to_cents
from estimator.production.bottleneck import CARRIERS
from estimator.production.hired import hired_hours
from estimator.production.mixed_carriers import mixed_output
from estimator.production.pace_range import production_range
from estimator.production.time_at_work import WorkingTime
from estimator.quantity.rounding import scaled_half_up
from estimator.quantity.units import unit
from estimator.scope.methods.method import Method
from estimator.scope.methods.method_work import pace_of
from estimator.studies.comparison.method_prices import MethodPrices, hired_hour
from estimator.studies.comparison.prepared_method import PreparedMethod

Values = npt.NDArray[np.float64]

DAY_DECIMALS = 2
_COMING = "what comes to the pile"
_HAIR = 1e-9


@exact_arithmetic
@dataclass(frozen=True)
class MethodResult:
    """What one method comes to.

    Parameters
    ----------
    method : Method
        That was priced.
    quantity : float
        Of finished work, in the unit of its assembly.
    unit_cost : Decimal
        [$ per unit of the item] Full cost over the item's own quantity.
    cash, markups, own : Decimal
        [$] What is paid, with percentage markups; these alone; unpaid labor and own material.
    kept, sold : Decimal
        [$] What is kept for use, and what salvage is sold for: both count against the three.
    days, hours, hours_at_best : float
        [day], [hr] At work, with waiting lines, and if nothing varied.
    days_at_best : float
        [day] If nothing varied; lifts wait for each other all the same.
    day_cost : Decimal
        [$] What its days are worth.
    in_all : Decimal
        [$] Cash and own, less what is kept or sold, with the worth of its days.
    labor_hours, machine_days : float
        [hr], [day]
    output_per_hr : float
        [unit of the item/hr] The item's own quantity over the hours.
    bottlenecks : tuple of str
        What limits its system; empty where there is none.
    waiting_cost : Decimal
        [$] Of the cash and own: hired carriers in line, and the crew's hours that lines add.
    by_kind : mapping of str to Decimal
        [$] What is paid, by kind, before markups.
    """

    method: Method
    quantity: float
    unit_cost: Decimal
    cash: Decimal
    markups: Decimal
    own: Decimal
    kept: Decimal
    sold: Decimal
    days: float
    hours: float
    hours_at_best: float
    days_at_best: float
    day_cost: Decimal
    in_all: Decimal
    labor_hours: float
    machine_days: float
    output_per_hr: float
    bottlenecks: tuple[str, ...]
    waiting_cost: Decimal
    by_kind: Mapping[str, Decimal]


@exact_arithmetic
def in_all_cents(prices: MethodPrices, day_worth: Decimal | Values) -> Cents:
    """Return the full cost of a method with the worth of its days, as it is printed.

    Parameters
    ----------
    prices : MethodPrices
        n times.
    day_worth : Decimal or float array, shape (n,) or () [$/day]
        What finishing a day sooner is worth.
    """
    return np.asarray(prices.full_cents + day_cents(prices, day_worth))


def day_cents(prices: MethodPrices, day_worth: Decimal | Values) -> Cents:
    """Return what the days of a method are worth: the printed days times a day's worth."""
    if isinstance(day_worth, Decimal):
        worth = np.asarray(to_cents(day_worth))
    else:
        worth = scaled_half_up(day_worth, 2)
    days = scaled_half_up(np.asarray(prices.days), DAY_DECIMALS)
    return divide_half_up(days * worth, 10**DAY_DECIMALS)


@exact_arithmetic
def method_result(
    prepared: PreparedMethod, prices: MethodPrices, item_quantity: Decimal, worth: Decimal
) -> MethodResult:
    """Return what a method comes to, as it is written.

    Parameters
    ----------
    prepared : PreparedMethod
        The method, ready to be priced.
    prices : MethodPrices
        What it comes to, once.
    item_quantity : Decimal
        [unit of the item] Of the whole work, above zero.
    worth : Decimal
        [$/day] Of a day.
    """
    in_all = dollars(int(in_all_cents(prices, worth)[0]))
    full = dollars(int(prices.full_cents[0]))
    hours, best = float(prices.hours[0]), float(prices.hours_at_best[0])
    return MethodResult(
        method=prepared.method,
        quantity=float(prices.quantity[0]),
        unit_cost=round_to_cent(full / item_quantity),
        cash=dollars(int(prices.cash_cents[0])),
        markups=dollars(int(prices.markup_cents[0])),
        own=dollars(int(prices.own_cents[0])),
        kept=dollars(int(prices.kept_cents[0])),
        sold=dollars(int(prices.sold_cents[0])),
        days=float(np.asarray(prices.days)[0]),
        hours=hours,
        hours_at_best=best,
        days_at_best=_days_at_best(prices),
        day_cost=dollars(int(day_cents(prices, worth)[0])),
        in_all=in_all,
        labor_hours=float(prices.labor_hours[0]),
        machine_days=float(prices.machine_days[0]),
        output_per_hr=float(item_quantity) / hours if hours else 0.0,
        bottlenecks=_bottlenecks(prepared),
        waiting_cost=_waiting_cost(prepared, prices),
        by_kind={
            kind: dollars(int(cents[0])) for kind, cents in prices.cents_by_kind.items() if cents[0]
        },
    )


def _days_at_best(prices: MethodPrices) -> float:
    """Return the days without waiting lines; what has to wait for other reasons stays."""
    days, hours, best, shift = (
        float(np.ravel(one)[0])
        for one in (prices.days, prices.hours, prices.hours_at_best, prices.shift_hr)
    )
    least = days if days > hours / shift * (1.0 + _HAIR) else 0.0
    return max(best / shift, least)


def _bottlenecks(prepared: PreparedMethod) -> tuple[str, ...]:
    production = prepared.method.production
    if production is None:
        return ()
    if production.pile and production.pile.comes.base_value < pace_of(production).per_hr:
        return (_COMING,)
    if production.beside is not None:
        plural = {one.system.name: f"{one.carrier}s" for one in production.kinds}
        return tuple(plural.get(one, one) for one in mixed_output(production.systems).full)
    parts = production_range(production.system).at_best.bottlenecks
    return tuple(f"{production.carrier}s" if part == CARRIERS else part for part in parts)


def _waiting_cost(prepared: PreparedMethod, prices: MethodPrices) -> Decimal:
    """Return what waiting costs: hired carriers in line, and the crew's hours that lines add."""
    production = prepared.method.production
    if production is None:
        return Decimal(0)
    time = WorkingTime(float(prices.hours[0]), production.system.shift_hr)
    base_quantity = prices.quantity[0] * prepared.assembly.unit.factor
    carriers = Decimal(0)
    for kind, share in zip(production.kinds, production.shares, strict=True):
        brought = base_quantity * share / unit(kind.system.load.unit).factor
        in_line = hired_hours(float(brought), kind.system, time).waiting / kind.system.carriers
        carriers += hired_hour(prepared, kind) * _decimal(in_line)
    added = 1.0 - float(prices.hours_at_best[0] / prices.hours[0])
    return round_to_cent(carriers + dollars(int(prices.crew_cents[0])) * _decimal(added))


def _decimal(number: float) -> Decimal:
    """Return a number of hours or a share with six decimals, for a sum of money."""
    return Decimal(f"{number:.6f}")
