"""Where the difference between two methods lies, part by part, and whether saving pays.

The parts add up to the difference in all, to the cent.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from estimator.errors import MethodsFaulty, fault
from estimator.money import exact_arithmetic
from estimator.rates.kinds import COSTS
from estimator.scope.methods.method import Method
from estimator.studies.comparison.break_even import CheapestIntervals, cheapest_intervals
from estimator.studies.comparison.comparison import Comparison
from estimator.studies.comparison.method_result import MethodResult
from estimator.studies.comparison.varied import varied_named

MARKUPS, OWN, KEPT, DAYS = "markups", "unpaid value", "kept for use", "time cost"
SOLD = "sale of salvage"
RECOVERY = "recovery"


@exact_arithmetic
@dataclass(frozen=True)
class CostPart:
    """One part of what two methods cost [$]; what is kept or sold counts against a cost."""

    name: str
    first: Decimal
    second: Decimal

    @property
    def difference(self) -> Decimal:
        """How much more the second costs [$]."""
        return self.second - self.first


@exact_arithmetic
@dataclass(frozen=True)
class SaveOrScrap:
    """Whether it pays to take up for reuse what could be wrecked.

    Parameters
    ----------
    save, scrap : MethodResult
        The method that keeps what it takes up, and the best that does not.
    parts : tuple of Part
        Labor, blades, disposal and all else, with saving first.
    cheapest : CheapestIntervals
        Of these two, over all that the share that comes up sound can be.
    """

    save: MethodResult
    scrap: MethodResult
    parts: tuple[CostPart, ...]
    cheapest: CheapestIntervals


@exact_arithmetic
def parts_of_difference(first: MethodResult, second: MethodResult) -> tuple[CostPart, ...]:
    """Return what two methods cost, part by part; parts that neither has are left out."""
    return tuple(part for part in _parts(first, second) if part.first or part.second)


@exact_arithmetic
def save_or_scrap(comparison: Comparison, recovery: str = RECOVERY) -> SaveOrScrap:
    """Return whether saving pays, and from what recovery on.

    Parameters
    ----------
    comparison : Comparison
        With one method that keeps or sells what it takes up, and others that do not; of these the
        cheapest stands against it.
    recovery : str
        What the share that comes up sound is called.

    Raises
    ------
    MethodsFaulty
        If not exactly one method saves, or none scraps, or it has no such input.
    """
    saving = [one for one in comparison.possible if _saves(one.method)]
    scrapping = [one for one in comparison.possible if not _saves(one.method)]
    if len(saving) != 1 or not scrapping:
        raise fault(
            MethodsFaulty,
            f"methods that keep what they take up: {len(saving)}, that do not: {len(scrapping)}",
            "compare one that saves with those that scrap",
            comparison.item.where,
        )
    save, scrap = saving[0], min(scrapping, key=lambda one: one.in_all)
    varied = varied_named(comparison, recovery)
    places = tuple(comparison.place(one.method.name) for one in (save, scrap))
    return SaveOrScrap(
        save=save,
        scrap=scrap,
        parts=parts_of_difference(save, scrap),
        cheapest=cheapest_intervals(comparison, varied, varied.least, varied.most, places),
    )


def is_save_or_scrap(comparison: Comparison) -> bool:
    """Whether exactly one of several methods that can be done keeps what it takes up."""
    saving = sum(_saves(one.method) for one in comparison.possible)
    return saving == 1 and len(comparison.possible) > 1


def _saves(method: Method) -> bool:
    return method.kept is not None


def _parts(first: MethodResult, second: MethodResult) -> Iterator[CostPart]:
    for kind in COSTS:
        yield CostPart(kind, *(one.by_kind.get(kind, Decimal(0)) for one in (first, second)))
    yield CostPart(MARKUPS, first.markups, second.markups)
    yield CostPart(OWN, first.own, second.own)
    yield CostPart(KEPT, -first.kept, -second.kept)
    yield CostPart(SOLD, -first.sold, -second.sold)
    yield CostPart(DAYS, first.day_cost, second.day_cost)
