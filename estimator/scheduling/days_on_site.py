"""Who and what is on the site when: the days of each resource that works by the hour or day."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from estimator.money import exact_arithmetic, from_fixed_point
from estimator.pricing.cost_line import CostLine
from estimator.pricing.estimate import Estimate
from estimator.scheduling.job_dates import Dated, JobSchedule

KINDS = ("labor", "equipment")


@dataclass(frozen=True)
class Stay:
    """A resource at one item.

    Parameters
    ----------
    item : str
        Cost code.
    start, finish : date
        First and last day of the item's work.
    quantity : Decimal
        [unit of the resource] As it is ordered for the item.
    """

    item: str
    start: date
    finish: date
    quantity: Decimal


@dataclass(frozen=True)
class OnSite:
    """A resource on the site.

    Parameters
    ----------
    resource, name, kind, unit : str
        As in the tables; the unit that it is paid by.
    start, finish : date
        The first day that it is there, and the last.
    stays : tuple of Stay
        At each item, by their dates.
    """

    resource: str
    name: str
    kind: str
    unit: str
    start: date
    finish: date
    stays: tuple[Stay, ...]

    @property
    def calendar_days(self) -> int:
        """From its first day to its last, both counted, as rentals run [day]."""
        return (self.finish - self.start).days + 1


@exact_arithmetic
def on_site(estimate: Estimate, schedule: JobSchedule) -> tuple[OnSite, ...]:
    """Return labor and machines with the days on which they are there, the earliest first.

    Parameters
    ----------
    estimate : Estimate
        That was scheduled.
    schedule : JobSchedule
        From `job_schedule`.
    """
    dated = {one.code: one for one in schedule.items}
    lines: dict[str, list[CostLine]] = {}
    for line in estimate.cost_lines:
        if line.kind in KINDS and line.ordered:
            lines.setdefault(line.resource, []).append(line)
    there = [_on_site(of, dated) for of in lines.values()]
    return tuple(sorted(there, key=lambda one: (one.start, one.resource)))


def _on_site(lines: list[CostLine], dated: dict[str, Dated]) -> OnSite:
    stays = sorted((_stay(line, dated[line.item]) for line in lines), key=lambda one: one.start)
    first = lines[0]
    return OnSite(
        first.resource,
        first.name,
        first.kind,
        first.unit,
        stays[0].start,
        max(one.finish for one in stays),
        tuple(stays),
    )


def _stay(line: CostLine, item: Dated) -> Stay:
    quantity = from_fixed_point(line.ordered, line.decimals)
    return Stay(line.item, item.start, item.finish, quantity)
