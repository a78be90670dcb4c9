"""An estimate as one of two that are compared: plain lines, markups, names; no tables, no scope."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property

from estimator.money import RATE_DECIMALS, fixed_point
from estimator.pricing.estimate import Estimate


@dataclass(frozen=True)
class DifferenceLine:
    """A cost line, with no more than a comparison needs.

    Parameters
    ----------
    item : str
        Cost code, `phase.item`.
    line : int
        Number within the item, from 1.
    assembly, resource, name, kind, unit : str
        Assembly of the item, and what the line buys.
    decimals, ordered : int
        How many decimals the quantity prints with, and the order in its last printed decimal.
    rate : int
        [0.0001 $/unit] As printed: of salvage positive too.
    cents : int
        Amount; of salvage negative.
    is_paid : bool
        False for unpaid own labor and own material.
    """

    item: str
    line: int
    assembly: str
    resource: str
    name: str
    kind: str
    unit: str
    decimals: int
    ordered: int
    rate: int
    cents: int
    is_paid: bool

    @property
    def sign(self) -> int:
        """1 for a cost, -1 for salvage, which reduces the cost."""
        return -1 if self.kind == "salvage" else 1

    @property
    def phase(self) -> str:
        """The phase of its item."""
        return self.item.partition(".")[0]


@dataclass(frozen=True)
class MarkupSum:
    """What a markup comes to, in cents."""

    code: str
    name: str
    cents: int


@dataclass(frozen=True)
class Compared:
    """One of two estimates that are compared.

    Parameters
    ----------
    lines : tuple of DifferenceLine
        In the order of the scope.
    markups : tuple of MarkupSum
        In the order they are taken.
    names : mapping of str to str
        Names of phases and items by code, to be shown; may be empty.
    """

    lines: tuple[DifferenceLine, ...]
    markups: tuple[MarkupSum, ...]
    names: Mapping[str, str] = field(default_factory=dict)

    @cached_property
    def totals(self) -> dict[str, int]:
        """Cents of `direct_cost`, `cash_cost`, `own_value` and `full_cost`."""
        direct = sum(line.cents for line in self.lines if line.is_paid)
        own = sum(line.cents for line in self.lines if not line.is_paid)
        cash = direct + sum(markup.cents for markup in self.markups)
        return {
            "direct_cost": direct, "cash_cost": cash, "own_value": own, "full_cost": cash + own,
        }  # fmt: skip


def lines_of(estimate: Estimate) -> tuple[DifferenceLine, ...]:
    """Return the cost lines of an estimate as they are compared, in the order of the scope."""
    lines, items = estimate.priced.lines, estimate.scope.items
    columns = (
        lines.item, lines.number, lines.kind_of_line, lines.decimals, lines.ordered, lines.cents,
    )  # fmt: skip
    shared = [
        (assembly.code, rate.code, rate.name, rate.kind, rate.unit.name)
        for (assembly, _), rate in zip(lines.assembly_lines, lines.rates, strict=True)
    ]
    rates = [(fixed_point(one.rate, RATE_DECIMALS), one.is_paid) for one in lines.rates]
    return tuple(
        _line(items[item].code, number, shared[kind], (decimals, ordered), rates[kind], cents)
        for item, number, kind, decimals, ordered, cents in zip(
            *(column.tolist() for column in columns), strict=True
        )
    )


def _line(
    item: str,
    number: int,
    shared: tuple[str, str, str, str, str],
    quantity: tuple[int, int],
    rate: tuple[int, bool],
    cents: int,
) -> DifferenceLine:
    scaled_rate, is_paid = rate
    return DifferenceLine(item, number, *shared, *quantity, scaled_rate, cents, is_paid)


def compared_estimate(estimate: Estimate) -> Compared:
    """Return an estimate as one of two that are compared."""
    markups = tuple(
        MarkupSum(one.markup.code, one.markup.name, one.amount_cents) for one in estimate.markups
    )
    names = {phase.code: phase.name for phase in estimate.scope.phases}
    names |= {item.code: item.name for item in estimate.scope.items}
    return Compared(lines_of(estimate), markups, names)
