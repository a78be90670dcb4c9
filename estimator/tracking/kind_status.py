"""Where a kind of cost stands: budget, ordered and spent, of one code or of all."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import reduce
from operator import add
from types import MappingProxyType

from estimator.rates.kinds import COSTS
from estimator.tracking.budget import MARKUP_KIND
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
        [0.01 $] Ordered or subcontracted and not yet billed, before tax.
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


def kinds_together(kinds: Iterable[Mapping[str, KindStatus]]) -> Mapping[str, KindStatus]:
    """Return where each kind stands on several codes; every figure is the exact sum of theirs.

    Parameters
    ----------
    kinds : iterable of mappings
        See `kinds_of`.
    """
    together: dict[str, list[KindStatus]] = {}
    for own in kinds:
        for kind, one in own.items():
            together.setdefault(kind, []).append(one)
    ordered = sorted(together, key=_PLACES.__getitem__)
    return MappingProxyType({kind: reduce(add, together[kind]) for kind in ordered})
