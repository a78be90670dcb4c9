"""Where a kind of cost stands: budget, ordered, spent and earned, of one code or of all."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import reduce
from operator import add
from types import MappingProxyType
from typing import TypeVar

from estimator.money import apportion
from estimator.rates.kinds import COSTS
from estimator.tracking.budget import MARKUP_KIND
from estimator.tracking.earned_value import Performance
from estimator.tracking.spent import Spent

_NOTHING = Spent()


@dataclass(frozen=True)
class KindStatus:
    """Where a kind stands.

    Parameters
    ----------
    baseline_cents, budget_cents : int
        [0.01 $] As accepted; with approved changes.
    committed_cents : int
        [0.01 $] Ordered or subcontracted and still to come, with tax: see `still_to_come`.
    spent : Spent
        Billed, accrued and paid.
    """

    baseline_cents: int = 0
    budget_cents: int = 0
    committed_cents: int = 0
    spent: Spent = field(default_factory=Spent)

    def __add__(self, other: KindStatus) -> KindStatus:
        """Return both together."""
        return KindStatus(
            self.baseline_cents + other.baseline_cents,
            self.budget_cents + other.budget_cents,
            self.committed_cents + other.committed_cents,
            self.spent + other.spent,
        )


OfKind = TypeVar("OfKind", KindStatus, Performance)
_PLACES = {kind: place for place, kind in enumerate((*COSTS, MARKUP_KIND))}


def kinds_of(
    baseline_cents: Mapping[str, int],
    budget_cents: Mapping[str, int],
    committed_cents: Mapping[str, int],
    spent: Mapping[str, Spent],
) -> Mapping[str, KindStatus]:
    """Return where each kind of a code stands that has a budget, an order or a cost.

    Parameters
    ----------
    baseline_cents, budget_cents, committed_cents, spent : mappings by kind
        See `KindStatus`.

    Examples
    --------
    >>> stands = kinds_of({"material": 900}, {"material": 1_000}, {}, {"haul": Spent(50)})
    >>> [(kind, one.budget_cents, one.spent.billed_cents) for kind, one in stands.items()]
    [('material', 1000, 0), ('haul', 0, 50)]
    """
    kinds = {*baseline_cents, *budget_cents, *committed_cents, *spent}
    own = {
        kind: KindStatus(
            baseline_cents.get(kind, 0),
            budget_cents.get(kind, 0),
            committed_cents.get(kind, 0),
            spent.get(kind, _NOTHING),
        )
        for kind in sorted(kinds, key=_PLACES.__getitem__)
    }
    return MappingProxyType(own)


def performance_by_kind(
    kinds: Mapping[str, KindStatus], planned_cents: int, earned_cents: int
) -> Mapping[str, Performance]:
    """Return the earned value of each kind of a code beside its plan and its cost.

    Parameters
    ----------
    kinds : mapping of str to KindStatus
        See `kinds_of`.
    planned_cents, earned_cents : int
        [0.01 $] Of the code.

    Notes
    -----
    Nobody measures a kind by itself. So planned and earned value are split by the kinds' budgets,
    in exact cents by the largest remainder: they say how much of the budget for labor, say, the
    quantity in place has earned, and not how far labor is. A kind that changes took below zero
    earns nothing.

    Examples
    --------
    Half of a wall with $800.00 for labor and $400.00 for material stands; labor cost $450.00:

    >>> wall = kinds_of({}, {"labor": 80_000, "material": 40_000}, {}, {"labor": Spent(45_000)})
    >>> own = performance_by_kind(wall, 60_000, 60_000)
    >>> [(kind, one.earned_cents, one.cost_variance_cents) for kind, one in own.items()]
    [('labor', 40000, -5000), ('material', 20000, 20000)]
    """
    budgets = [one.budget_cents for one in kinds.values()]
    is_less = sum(budgets) < 0
    weights = [max(-one if is_less else one, 0) for one in budgets]
    planned, earned = _split(planned_cents, weights), _split(earned_cents, weights)
    return MappingProxyType(
        {
            kind: Performance(one.budget_cents, of_plan, of_work, one.spent.incurred_cents)
            for (kind, one), of_plan, of_work in zip(kinds.items(), planned, earned, strict=True)
        }
    )


def _split(cents: int, weights: list[int]) -> list[int]:
    return apportion(cents, weights) if cents else [0] * len(weights)


def kinds_together(kinds: Iterable[Mapping[str, OfKind]]) -> Mapping[str, OfKind]:
    """Return each kind of several codes together; every figure is the exact sum of theirs.

    Parameters
    ----------
    kinds : iterable of mappings by kind
        See `kinds_of` and `performance_by_kind`.
    """
    together: dict[str, list[OfKind]] = {}
    for own in kinds:
        for kind, one in own.items():
            together.setdefault(kind, []).append(one)
    ordered = sorted(together, key=_PLACES.__getitem__)
    return MappingProxyType({kind: reduce(add, together[kind]) for kind in ordered})
