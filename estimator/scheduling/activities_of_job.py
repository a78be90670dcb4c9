"""The work of an estimate as activities, in hundredths of a working day."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from decimal import Decimal
from math import ceil
from types import MappingProxyType

from estimator.assemblies.tables import Tables
from estimator.pricing.estimate import Estimate
from estimator.scheduling.activities import FINISH, START, Activity, Link
from estimator.scheduling.worked_days import UNITS_A_DAY
from estimator.scope.job_crew import members_at_work
from estimator.scope.scope import Item, Phase
from estimator.scope.work_order import Preceding, Work, ordered_work

PARTS_OF_ONE = 1_000  # half a foreman is 500: as fine as crews are written
_HAIR = 1e-6


def job_activities(estimate: Estimate) -> list[Activity]:
    """Return the items of an estimate as activities, in hundredths of a working day.

    Parameters
    ----------
    estimate : Estimate
        Of a scope whose phases and items say what they wait for.

    Notes
    -----
    An item takes the duration that it states, else the days of its price: of its own pace, or of
    what has to wait, whichever is more. A phase that states its duration is one activity of its
    likely length, which keeps the crews of all its items busy. What runs along others takes no
    hands from them. Days are rounded up to the hundredth, and needs are in thousandths.
    """
    days = item_days(estimate)
    return [_activity(one, days, estimate.tables) for one in ordered_work(estimate.scope)]


def item_days(estimate: Estimate) -> Mapping[str, float]:
    """Return the working days that each item takes, by cost code."""
    priced = estimate.priced.days.tolist()
    both = zip(estimate.scope.items, priced, strict=True)
    return MappingProxyType({item.code: _days(item, days) for item, days in both})


def in_parts(there: Mapping[str, int]) -> dict[str, int]:
    """Return how many of each crew or machine there are in thousandths, as activities need them."""
    return {resource: number * PARTS_OF_ONE for resource, number in there.items()}


def _days(item: Item, priced: float) -> float:
    if item.plan.days is not None:
        return item.plan.days.likely
    if item.stated is not None and item.stated.days is not None:
        return float(item.stated.days.base_value)
    return priced


def _activity(one: Work, days: Mapping[str, float], tables: Tables) -> Activity:
    links = tuple(_link(other) for other in one.after)
    if isinstance(one.of, Item):
        length = _units(days[one.code])
        return Activity(one.code, one.of.name, length, links, _needs([one.of], tables))
    if isinstance(one.of, Phase) and one.of.plan.days is not None:
        length = _units(one.of.plan.days.likely)
        return Activity(one.code, one.of.name, length, links, _needs(one.of.items, tables))
    return Activity(one.code, one.code, 0, links)


def _link(other: Preceding) -> Link:
    from_, wait = START if other.from_start else FINISH, other.wait
    if wait.by_calendar:
        return Link(other.code, 0, from_, int(wait.days))
    return Link(other.code, _units(wait.days), from_)


def _units(days: float) -> int:
    return ceil(days * UNITS_A_DAY - _HAIR)


def _needs(items: Iterable[Item], tables: Tables) -> Mapping[str, int]:
    """Return how many of each member of their crews some items keep busy, the most of any."""
    most: dict[str, Decimal] = {}
    for item in items:
        for resource, number in members_at_work(item.method, tables).items():
            most[resource] = max(most.get(resource, number), number)
    parts = {resource: ceil(number * PARTS_OF_ONE) for resource, number in most.items()}
    return MappingProxyType(parts)
