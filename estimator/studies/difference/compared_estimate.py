"""An estimate as one of two that are compared: plain lines, markups, names; no tables, no scope."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property

from estimator.pricing.cost_line import CostLine, line_sums
from estimator.pricing.estimate import Estimate
from estimator.pricing.printed_estimate import PrintedEstimate, printed_estimate


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
    lines : tuple of CostLine
        In the order of the scope.
    markups : tuple of MarkupSum
        In the order they are taken.
    names : mapping of str to str
        Names of phases and items by code, to be shown; may be empty.
    """

    lines: tuple[CostLine, ...]
    markups: tuple[MarkupSum, ...]
    names: Mapping[str, str] = field(default_factory=dict)

    @cached_property
    def totals(self) -> dict[str, int]:
        """Cents of `direct_cost`, `cash_cost`, `own_value`, `full_cost` and `salvage_sales`."""
        direct, own, sales = line_sums(self.lines)
        cash = direct + sum(markup.cents for markup in self.markups)
        return {
            "direct_cost": direct, "cash_cost": cash, "own_value": own, "full_cost": cash + own,
            "salvage_sales": sales,
        }  # fmt: skip


def compared_estimate(estimate: Estimate | PrintedEstimate) -> Compared:
    """Return an estimate as one of two that are compared.

    Parameters
    ----------
    estimate : Estimate or PrintedEstimate
        As it was priced, or as it was printed once.
    """
    if isinstance(estimate, Estimate):
        estimate = printed_estimate(estimate)
    markups = tuple(
        MarkupSum(one.markup.code, one.markup.name, one.amount_cents) for one in estimate.markups
    )
    names = {phase.phase: phase.name for phase in estimate.phases}
    names |= {item.item: item.name for item in estimate.items}
    return Compared(estimate.lines, markups, names)
