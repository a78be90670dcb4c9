"""Pricing: the items of one recipe together, in arrays, into one tidy frame of cost lines.

The same as pricing line by line in decimals, to the cent: quantities become whole numbers of
their last printed decimal, rates whole ten-thousandths of a dollar, and the rest is whole-number
arithmetic.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np
import numpy.typing as npt

from estimator.assemblies.needs import LineNeed, line_need, worked_out
from estimator.assemblies.ordering import Order, order_of, ordered_together
from estimator.assemblies.recipe import CREW_HOURS, QUANTITY, SHIFT, Assembly, RecipeLine
from estimator.errors import AmountTooLarge, Faults, RateMissing, ScopeFaulty
from estimator.money import RATE_DECIMALS, extension_cents
from estimator.pricing.scope import Item, Scope
from estimator.pricing.tables import Tables
from estimator.quantity.rounding import scaled_half_up
from estimator.rates.resources import ResourceRate

Values = npt.NDArray[np.float64]
Whole = npt.NDArray[np.int64]

LARGEST_QUANTITY = 1e9
LARGEST_AMOUNT = 1e10


@dataclass(frozen=True)
class PricedLines:
    """All cost lines as arrays, in the order of items and, within an item, of the recipe.

    Parameters
    ----------
    item : int64 array, shape (n,)
        Position of the item in the scope.
    number : int64 array, shape (n,)
        Number of the line within its item, from 1.
    kind_of_line : int64 array, shape (n,)
        Position in `recipe_lines` and `rates`.
    net, waste, ordered, multiple, decimals : int64 arrays, shape (n,)
        Quantities as whole numbers of their last printed decimal, and how many decimals.
    cents : int64 array, shape (n,)
        Amounts; salvage is negative.
    recipe_lines : tuple of (Assembly, RecipeLine)
        Each line of each recipe in use.
    rates : tuple of ResourceRate
        The row that prices each of them.
    """

    item: Whole
    number: Whole
    kind_of_line: Whole
    net: Whole
    waste: Whole
    ordered: Whole
    multiple: Whole
    decimals: Whole
    cents: Whole
    recipe_lines: tuple[tuple[Assembly, RecipeLine], ...]
    rates: tuple[ResourceRate, ...]


@dataclass(frozen=True)
class PricedScope:
    """The lines of a scope, with the finished quantity and crew hours of each item."""

    lines: PricedLines
    quantity: Whole
    crew_hours: Values


@dataclass(frozen=True)
class _Block:
    """One line of a recipe for all items that use it."""

    items: Whole
    number: int
    order: Order
    decimals: int
    assembly: Assembly
    line: RecipeLine
    rate: ResourceRate


def price_lines(scope: Scope, tables: Tables, on: date) -> PricedScope:
    """Return all cost lines of a scope at the rates of a day.

    Raises
    ------
    RateMissing
        If a resource has no rate on that day, naming each one.
    ScopeFaulty
        If inputs lead to a quantity that is not a number, negative, zero or absurd, naming item
        and resource.
    AmountTooLarge
        If a line cannot be priced to the cent.
    """
    rates = _rates_in_use(scope, tables, on)
    quantity = np.zeros(len(scope.items), dtype=np.int64)
    crew_hours = np.zeros(len(scope.items))
    blocks: list[_Block] = []
    faults = Faults()
    for (_, crew), positions in _grouped(scope.items).items():
        here = np.array(positions, dtype=np.int64)
        items = [scope.items[position] for position in positions]
        values = worked_out(items[0].assembly, bool(crew), _given(items, scope))
        quantity[here] = _finished(items, values[QUANTITY], tables, faults)
        crew_hours[here] = values.get(CREW_HOURS, np.float64(0))
        blocks += _blocks(items, here, values, tables, rates, faults)
    faults.raise_if_any(ScopeFaulty)
    return PricedScope(_joined(scope, blocks), quantity, crew_hours)


def _grouped(items: Sequence[Item]) -> dict[tuple[str, str], list[int]]:
    """Return the positions of the items by recipe and crew."""
    groups: dict[tuple[str, str], list[int]] = {}
    for position, item in enumerate(items):
        groups.setdefault((item.assembly.code, item.crew), []).append(position)
    return groups


def _rates_in_use(scope: Scope, tables: Tables, on: date) -> Mapping[str, ResourceRate]:
    uses = {(item.assembly.code, item.crew): item for item in reversed(scope.items)}
    rates: dict[str, ResourceRate] = {}
    faults = Faults()
    missing: set[str] = set()
    for item in reversed(uses.values()):
        for line in tables.lines_of(item.assembly, item.crew):
            if line.resource in rates or line.resource in missing:
                continue
            try:
                rates[line.resource] = tables.rates.rate_on(line.resource, on)
            except RateMissing as error:
                missing.add(line.resource)
                faults.take(f"item {item.code}", error)
    faults.raise_if_any(RateMissing)
    return rates


def _given(items: Sequence[Item], scope: Scope) -> dict[str, Values]:
    """Return the inputs of items of one recipe in base units: an array, or one default for all."""
    values: dict[str, Values] = {SHIFT: np.asarray(scope.shift.base_value)}
    for one in items[0].assembly.inputs:
        if one.is_derived:
            continue
        given = [item.inputs.get(one.name) for item in items]
        if any(given):
            listed = [one.base_default if g is None else g.base_value for g in given]
            values[one.name] = np.array(listed)
        else:
            values[one.name] = np.asarray(one.base_default)
    return values


def _finished(items: Sequence[Item], values: Values, tables: Tables, faults: Faults) -> Whole:
    """Return the finished quantities, rounded once to the decimals of the recipe's unit."""
    finished_unit = items[0].assembly.unit
    decimals = tables.precision.of(finished_unit)
    in_unit = np.broadcast_to(values / float(finished_unit.factor), (len(items),))
    good = _good(in_unit, items, "the finished quantity", finished_unit.name, faults)
    scaled = scaled_half_up(np.where(good, in_unit, 0.0), decimals)
    for position in np.flatnonzero(good & (scaled == 0)).tolist():
        item = items[position]
        faults.add(
            item.where,
            f"item {item.code} comes to nothing (0 {finished_unit.name})",
            "check its inputs, or take it out",
        )
    return scaled


def _good(
    values: Values, items: Sequence[Item], what: str, unit_name: str, faults: Faults
) -> npt.NDArray[np.bool_]:
    """Return where values are quantities, noting a fault for each item whose is not."""
    good = np.isfinite(values) & (values > -1e-9) & (values < LARGEST_QUANTITY)
    for position in np.flatnonzero(~good).tolist():
        item, value = items[position], values[position]
        shown = f"{value:,.2f} {unit_name}" if np.isfinite(value) else "no number"
        faults.add(
            item.where,
            f"item {item.code}: {what} comes to {shown}",
            "check inputs that are subtracted or divided by",
        )
    return np.asarray(good)


def _blocks(
    items: Sequence[Item],
    here: Whole,
    values: Mapping[str, Values],
    tables: Tables,
    rates: Mapping[str, ResourceRate],
    faults: Faults,
) -> list[_Block]:
    """Return the lines of one recipe, each for all its items."""
    assembly, crew = items[0].assembly, items[0].crew
    blocks = []
    for number, line in enumerate(tables.lines_of(assembly, crew), start=1):
        rate = rates[line.resource]
        need = line_need(line, values, float(rate.unit.factor), len(items))
        if _is_priceable(need, items, rate, faults):
            decimals = tables.precision.of(rate.unit)
            order = order_of(need, decimals)
            blocks.append(_Block(here, number, order, decimals, assembly, line, rate))
    return blocks


def _is_priceable(
    need: LineNeed, items: Sequence[Item], rate: ResourceRate, faults: Faults
) -> bool:
    """Whether a line comes to quantities for all items; with a fault for each where it does not."""
    smaller = np.where(need.need < 0, need.need, need.with_waste)
    if not _good(smaller, items, rate.name, rate.unit.name, faults).all():
        return False
    others = (
        (need.with_waste - need.need, f"the waste of {rate.name}"),
        (need.multiple, f"the order multiple of {rate.name}"),
        (need.minimum, f"the minimum of {rate.name}"),
    )
    checked = [
        _good(values, items, what, rate.unit.name, faults).all()
        for values, what in others
        if values is not None
    ]
    return all(checked)


def _joined(scope: Scope, blocks: Sequence[_Block]) -> PricedLines:
    """Return the blocks as one set of arrays, sorted by item and line, extended to the cent."""
    sizes = [len(block.items) for block in blocks]
    item = np.concatenate([block.items for block in blocks])
    number = np.repeat([block.number for block in blocks], sizes)
    sorted_by = np.lexsort((number, item))
    kind_of_line = np.repeat(np.arange(len(blocks)), sizes)[sorted_by]
    item = item[sorted_by]

    def column(name: str) -> Whole:
        return np.concatenate([getattr(block.order, name) for block in blocks])[sorted_by]

    net, waste, multiple = column("net"), column("waste"), column("multiple")
    decimals = np.array([block.decimals for block in blocks])[kind_of_line]
    ordered = _with_phase_orders(scope, blocks, item, kind_of_line, column("ordered"), multiple)
    scaled_rates = [int(b.rate.rate.scaleb(RATE_DECIMALS)) * b.rate.sign for b in blocks]
    rate = np.array(scaled_rates)[kind_of_line]
    _check_amounts(scope, blocks, item, kind_of_line, ordered / 10.0**decimals * rate)
    return PricedLines(
        item=item,
        number=number[sorted_by],
        kind_of_line=kind_of_line,
        net=net,
        waste=waste,
        ordered=ordered,
        multiple=multiple,
        decimals=decimals,
        cents=extension_cents(ordered, decimals, rate),
        recipe_lines=tuple((block.assembly, block.line) for block in blocks),
        rates=tuple(block.rate for block in blocks),
    )


def _check_amounts(
    scope: Scope, blocks: Sequence[_Block], item: Whole, kind_of_line: Whole, scaled: Values
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
    blocks: Sequence[_Block],
    item: Whole,
    kind_of_line: Whole,
    ordered: Whole,
    multiple: Whole,
) -> Whole:
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
