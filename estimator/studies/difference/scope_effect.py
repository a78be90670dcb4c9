"""What a change of rates does to a scope: the same work priced twice, item by item."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from estimator.errors import RateMissing
from estimator.money import dollars, exact_arithmetic
from estimator.pricing.estimate import Estimate
from estimator.rates.folders import QUOTES
from estimator.rates.kinds import SALES_WORDS
from estimator.rates.resources import RateTable
from estimator.studies.difference.rates_difference import RowChange

_MOST_NAMED = 6


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
        Direct cost, each markup, cash cost, own value, full cost, and sales of salvage.
    hidden : tuple of RowChange
        Changed rows in whose place both sides take a row of the scope's own quotes.
    """

    items: tuple[AmountChange, ...]
    unchanged: int
    totals: tuple[AmountChange, ...]
    hidden: tuple[RowChange, ...] = ()

    @property
    def statement(self) -> str:
        """Which changes the scope's own quotes hide, in a sentence; empty where they hide none."""
        if not self.hidden:
            return ""
        codes = list(dict.fromkeys(one.key[0] for one in self.hidden))
        named = ", ".join(codes[:_MOST_NAMED]) + (
            f" and {len(codes) - _MOST_NAMED} more" if len(codes) > _MOST_NAMED else ""
        )
        return (
            f"The scope's own quotes come before both sets for {named}: what changed there "
            "changes no amount of this scope."
        )


@exact_arithmetic
def scope_effect(
    before: Estimate, after: Estimate, changes: Iterable[RowChange] = ()
) -> ScopeEffect:
    """Return what differs between two estimates of one scope.

    The rises of the items add up to the rise of direct cost and own value, to the cent.

    Parameters
    ----------
    before, after : Estimate
        The same scope, priced with two sets of tables.
    changes : iterable of RowChange
        What changed between the sets: told apart is what the scope's own quotes hide on both sides.
    """
    old, new = _items(before), _items(after)
    names = {code: name for code, (name, _) in {**old, **new}.items()}
    nothing = ("", Decimal("0.00"))
    all_items = [
        AmountChange(code, name, old.get(code, nothing)[1], new.get(code, nothing)[1])
        for code, name in names.items()
    ]
    changed = tuple(one for one in all_items if one.rise)
    hidden = tuple(one for one in changes if _is_quoted(before, one) and _is_quoted(after, one))
    return ScopeEffect(changed, len(all_items) - len(changed), _totals(before, after), hidden)


def _is_quoted(estimate: Estimate, change: RowChange) -> bool:
    """Whether an estimate takes a row of the scope's own quotes in the place of a changed one."""
    tables, code = estimate.tables, change.key[0]
    if change.file == "resources.csv":
        return code in tables.rates and _row_set(tables.rates, code, estimate.on) == QUOTES
    if change.file == "crews.csv":
        return code in tables.crews and tables.crews[code].members[0].origin.tables == QUOTES
    if change.file == "markups.csv":
        return code in tables.markups and tables.markups[code].origin.tables == QUOTES
    assemblies = tables.catalogue.assemblies
    return change.file.startswith("assembl") and (
        code in assemblies and assemblies[code].origin.tables == QUOTES
    )


def _row_set(rates: RateTable, code: str, on: date) -> str:
    """Return the set whose row prices a resource on a day; empty where none does."""
    try:
        return rates.rate_on(code, on).origin.tables
    except RateMissing:
        return ""


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
        SALES_WORDS: estimate.salvage_sales,
    }
