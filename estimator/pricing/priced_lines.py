"""Cost lines as arrays: one block an assembly line, joined, ordered and extended to the cent."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any

import numpy as np
import numpy.typing as npt

from estimator.assemblies.assembly import Assembly, AssemblyLine
from estimator.assemblies.ordering import Order, ordered_together
from estimator.cents import extension_cents
from estimator.errors import AmountTooLarge, Faults
from estimator.money import RATE_DECIMALS, fixed_point
from estimator.pricing.cost_line import CostLine
from estimator.rates.resources import ResourceRate
from estimator.scope.scope import Scope

Values = npt.NDArray[np.float64]
Integers = npt.NDArray[np.int64]

LARGEST_AMOUNT = 1e10


@dataclass(frozen=True)
class PricedLines:
    """All cost lines as arrays, in the order of items and, within an item, of the assembly.

    Parameters
    ----------
    item : int64 array, shape (n,)
        Position of the item in the scope.
    number : int64 array, shape (n,)
        Number of the line within its item, from 1.
    kind_of_line : int64 array, shape (n,)
        Position in `assembly_lines` and `rates`.
    net, waste, left_over, ordered, decimals : int64 arrays, shape (n,)
        Quantities as whole numbers of their last printed decimal, and how many decimals.
    cents : int64 array, shape (n,)
        Amounts.
    assembly_lines : tuple of (Assembly, AssemblyLine)
        Each line of each assembly in use.
    rates : tuple of ResourceRate
        The row that prices each of them.
    """

    item: Integers
    number: Integers
    kind_of_line: Integers
    net: Integers
    waste: Integers
    left_over: Integers
    ordered: Integers
    decimals: Integers
    cents: Integers
    assembly_lines: tuple[tuple[Assembly, AssemblyLine], ...]
    rates: tuple[ResourceRate, ...]

    @cached_property
    def bought(self) -> tuple[tuple[ResourceRate, int, int], ...]:
        """Each rate in use, what is ordered at it in the last printed decimal, and the decimals."""
        decimals = dict(zip(self.kind_of_line.tolist(), self.decimals.tolist(), strict=True))
        ordered = self._by_assembly_line(self.ordered)
        return tuple((self.rates[n], ordered[n], decimals[n]) for n in sorted(decimals))

    @cached_property
    def paid_by_kind(self) -> dict[str, int]:
        """What is paid [cent] by kind of resource."""
        totals: dict[str, int] = {}
        for rate, cents in zip(self.rates, self._by_assembly_line(self.cents), strict=True):
            if rate.is_paid:
                totals[rate.kind] = totals.get(rate.kind, 0) + cents
        return totals

    def _by_assembly_line(self, values: Integers) -> list[int]:
        totals = np.zeros(len(self.rates), dtype=np.int64)
        np.add.at(totals, self.kind_of_line, values)
        sums: list[int] = totals.tolist()
        return sums


@dataclass(frozen=True)
class LineBlock:
    """One line of an assembly for all items that use it.

    Parameters
    ----------
    items : int64 array, shape (n,)
        Positions of the items in the scope.
    number : int
        Number of the line within its item, from 1.
    order : Order
        What is needed and bought, not yet raised where a phase orders together.
    decimals : int
        How many decimals the quantities print with.
    assembly, line, rate : Assembly, AssemblyLine, ResourceRate
        What the line is, and the row that prices it.
    """

    items: Integers
    number: int
    order: Order
    decimals: int
    assembly: Assembly
    line: AssemblyLine
    rate: ResourceRate


def joined_lines(scope: Scope, blocks: Sequence[LineBlock]) -> PricedLines:
    """Return the blocks as one set of arrays, sorted by item and line, extended to the cent.

    Raises
    ------
    AmountTooLarge
        If a line is too large for a whole scope to add up exactly, naming item and resource.
    """
    sizes = [len(block.items) for block in blocks]
    item = np.concatenate([block.items for block in blocks])
    number = np.repeat([block.number for block in blocks], sizes)
    sorted_by = np.lexsort((number, item))
    kind_of_line = np.repeat(np.arange(len(blocks)), sizes)[sorted_by]
    item = item[sorted_by]

    def column(name: str) -> Integers:
        return np.concatenate([getattr(block.order, name) for block in blocks])[sorted_by]

    net, waste, multiple = column("net"), column("waste"), column("multiple")
    decimals = np.array([block.decimals for block in blocks])[kind_of_line]
    ordered = _with_phase_orders(scope, blocks, item, kind_of_line, column("ordered"), multiple)
    rate = np.array([fixed_point(b.rate.rate, RATE_DECIMALS) for b in blocks])[kind_of_line]
    _check_amounts(scope, blocks, item, kind_of_line, ordered / 10.0**decimals * rate)
    return PricedLines(
        item=item,
        number=number[sorted_by],
        kind_of_line=kind_of_line,
        net=net,
        waste=waste,
        left_over=ordered - net - waste,
        ordered=ordered,
        decimals=decimals,
        cents=extension_cents(ordered, decimals, rate),
        assembly_lines=tuple((block.assembly, block.line) for block in blocks),
        rates=tuple(block.rate for block in blocks),
    )


def _check_amounts(
    scope: Scope,
    blocks: Sequence[LineBlock],
    item: Integers,
    kind_of_line: Integers,
    scaled: Values,
) -> None:
    """Refuse lines so large that the cents of a whole scope might not add up in 64 bits."""
    faults = Faults()
    for position in np.flatnonzero(np.abs(scaled) > LARGEST_AMOUNT * 10.0**RATE_DECIMALS).tolist():
        one, name = scope.items[item[position]], blocks[kind_of_line[position]].rate.name
        faults.add(
            one.where,
            f"item {one.code}: {name} comes to more than ${LARGEST_AMOUNT:,.0f}",
            "check the quantity and the rate, or split the item",
        )
    faults.raise_if_any(AmountTooLarge)


def _with_phase_orders(
    scope: Scope,
    blocks: Sequence[LineBlock],
    item: Integers,
    kind_of_line: Integers,
    ordered: Integers,
    multiple: Integers,
) -> Integers:
    """Return the orders with those raised that a whole phase makes together."""
    per_phase = np.array([block.line.ordered_per == "phase" for block in blocks])[kind_of_line]
    if not per_phase.any():
        return ordered
    sizes = [len(phase.items) for phase in scope.phases]
    phase = np.repeat(np.arange(len(sizes)), sizes)[item[per_phase]]
    codes = {code: n for n, code in enumerate(dict.fromkeys(b.rate.code for b in blocks))}
    resource = np.array([codes[block.rate.code] for block in blocks])[kind_of_line[per_phase]]
    sizes_of_order, size = np.unique(multiple[per_phase], return_inverse=True)
    key = (phase * len(codes) + resource) * len(sizes_of_order) + size
    _, group = np.unique(key, return_inverse=True)
    raised = ordered.copy()
    raised[per_phase] = ordered_together(group, ordered[per_phase], multiple[per_phase])
    return raised


def cost_lines(scope: Scope, lines: PricedLines) -> Iterator[CostLine]:
    """Yield the lines of a priced scope, in its order."""
    codes = [(phase.code, item.code) for phase in scope.phases for item in phase.items]
    assemblies = [assembly.code for assembly, _ in lines.assembly_lines]
    rates = [rate_fields(rate) for rate in lines.rates]
    columns = (
        lines.item, lines.number, lines.kind_of_line, lines.cents,
        lines.decimals, lines.net, lines.waste, lines.left_over, lines.ordered,
    )  # fmt: skip
    for row in zip(*(column.tolist() for column in columns), strict=True):
        item, number, kind, cents, decimals, net, waste, left_over, ordered = row
        phase, code = codes[item]
        yield CostLine(
            phase=phase, item=code, line=number, assembly=assemblies[kind], decimals=decimals,
            net=net, waste=waste, left_over=left_over, ordered=ordered, cents=cents, **rates[kind],
        )  # fmt: skip


def with_rates(lines: PricedLines, rates: Mapping[int, ResourceRate]) -> PricedLines:
    """Return lines of which some have another rate, and the amount that it comes to.

    Parameters
    ----------
    lines : PricedLines
        As they were priced.
    rates : mapping of int to ResourceRate
        The rate of a line, by its position.
    """
    kinds, all_rates = lines.kind_of_line.copy(), list(lines.rates)
    assembly_lines, places = list(lines.assembly_lines), dict[tuple[int, int], int]()
    for position, rate in rates.items():
        key = int(lines.kind_of_line[position]), id(rate)
        if key not in places:
            places[key] = len(all_rates)
            all_rates.append(rate)
            assembly_lines.append(lines.assembly_lines[key[0]])
        kinds[position] = places[key]
    used, kinds = np.unique(kinds, return_inverse=True)
    rate_of = [all_rates[kind] for kind in used.tolist()]
    rated = np.array([fixed_point(one.rate, RATE_DECIMALS) for one in rate_of])[kinds]
    return replace(
        lines,
        kind_of_line=kinds,
        cents=extension_cents(lines.ordered, lines.decimals, rated),
        rates=tuple(rate_of),
        assembly_lines=tuple(assembly_lines[kind] for kind in used.tolist()),
    )


def rate_fields(rate: ResourceRate) -> dict[str, Any]:
    """Return what lines have of the row that prices them."""
    return {
        "resource": rate.code,
        "name": rate.name,
        "kind": rate.kind,
        "unit": rate.unit.name,
        "rate": fixed_point(rate.rate, RATE_DECIMALS),
        "source": rate.source,
        "rate_row": str(rate.origin),
        "is_paid": rate.is_paid,
    }


def extended_cents(lines: Iterable[CostLine]) -> list[int]:
    """Return what the order of each line comes to at its rate [cent].

    Raises
    ------
    AmountTooLarge
        If one cannot be priced to the cent.
    """
    columns = [(line.ordered, line.decimals, line.rate * line.sign) for line in lines]
    quantity, decimals, rate = np.array(columns, dtype=np.int64).reshape(-1, 3).T
    cents: list[int] = extension_cents(quantity, decimals, rate).tolist()
    return cents
