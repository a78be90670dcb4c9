"""What a change of rates does to a scope: the same work priced twice, item by item."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from estimator.money import dollars, exact_arithmetic
from estimator.pricing.estimate import Estimate


@exact_arithmetic
@dataclass(frozen=True)
class AmountChange:
    """One amount before and after.

    Parameters
    ----------
    code, name : str
        Cost code and name of the item; for a total its name twice.
    old, new : Decimal
        [$] Zero where the work is in one of the two estimates only.
    """

    code: str
    name: str
    old: Decimal
    new: Decimal

    @property
    def rise(self) -> Decimal:
        """[$] New less old; negative for a saving."""
        return self.new - self.old

    @property
    def rise_fraction(self) -> Decimal | None:
        """Rise as a fraction of the old amount; None from zero."""
        return self.rise / abs(self.old) if self.old else None


@exact_arithmetic
@dataclass(frozen=True)
class ScopeEffect:
    """What changes of a priced scope.

    Parameters
    ----------
    items : tuple of AmountChange
        Paid cost and value of own work of each item together, those that differ, in the order of
        the scope.
    unchanged : int
        How many items cost the same.
    totals : tuple of AmountChange
        Direct cost, each markup, cash cost, own value, full cost; all of them.
    """

    items: tuple[AmountChange, ...]
    unchanged: int
    totals: tuple[AmountChange, ...]


@exact_arithmetic
def scope_effect(before: Estimate, after: Estimate) -> ScopeEffect:
    """Return what differs between two estimates of one scope.

    The rises of the items add up to the rise of direct cost and own value, to the cent.

    Parameters
    ----------
    before, after : Estimate
        The same scope, priced with two sets of tables.
    """
    old, new = _items(before), _items(after)
    names = {code: name for code, (name, _) in {**old, **new}.items()}
    nothing = ("", Decimal("0.00"))
    all_items = [
        AmountChange(code, name, old.get(code, nothing)[1], new.get(code, nothing)[1])
        for code, name in names.items()
    ]
    changed = tuple(one for one in all_items if one.rise)
    return ScopeEffect(changed, len(all_items) - len(changed), _totals(before, after))


def _items(estimate: Estimate) -> dict[str, tuple[str, Decimal]]:
    """Return name and full direct cost of each item by its cost code."""
    return {
        row["item"]: (row["name"], dollars(row["cash_cents"] + row["own_cents"]))
        for row in estimate.items.to_dict("records")
    }


def _totals(before: Estimate, after: Estimate) -> tuple[AmountChange, ...]:
    old, new = _amounts(before), _amounts(after)
    nothing = Decimal("0.00")
    return tuple(
        AmountChange(name, name, old.get(name, nothing), new.get(name, nothing))
        for name in _merged(list(old), list(new))
    )


def _merged(old: list[str], new: list[str]) -> list[str]:
    """Return the names of both lists, a name of the old one alone after what stood before it."""
    names = list(new)
    for position, name in enumerate(old):
        if name not in names:
            before = [names.index(one) for one in old[:position] if one in names]
            names.insert(max(before, default=-1) + 1, name)
    return names


def _amounts(estimate: Estimate) -> dict[str, Decimal]:
    return {
        "Direct cost": estimate.direct_cost,
        **{one.markup.name: dollars(one.amount_cents) for one in estimate.markups},
        "Cash cost": estimate.cash_cost,
        "Unpaid value (own labor and material)": estimate.own_value,
        "Full cost": estimate.full_cost,
    }
