"""Pricing: the items of one assembly together, in arrays, into one tidy frame of cost lines.

The same as pricing line by line in decimals, to the cent: quantities become whole numbers of
their last printed decimal, rates whole ten-thousandths of a dollar, and the rest is whole-number
arithmetic.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

import numpy as np
import numpy.typing as npt

from estimator.assemblies.assembly import CREW_HOURS, QUANTITY, SHIFT
from estimator.assemblies.needs import LineNeed, line_need, waiting_days
from estimator.assemblies.ordering import order_of
from estimator.assemblies.tables import Tables
from estimator.errors import Faults, GeometryFaulty, RateMissing, ScopeFaulty, fault, quoted
from estimator.pricing.item_work import fixed_sums, item_lines
from estimator.pricing.own_material import MaterialBrought, OwnMaterial, counted_once
from estimator.pricing.priced_lines import LineBlock, PricedLines, joined_lines
from estimator.pricing.stated_lines import stated_blocks
from estimator.quantity.rounding import scaled_half_up
from estimator.rates.resources import ResourceRate
from estimator.scope.methods.method_work import method_inputs, method_values, slopes_of
from estimator.scope.scope import Item, Scope

Values = npt.NDArray[np.float64]
Integers = npt.NDArray[np.int64]

LARGEST_QUANTITY = 1e9


@dataclass(frozen=True)
class PricedScope:
    """The lines of a scope, with the finished quantity, crew hours and days of each item.

    Parameters
    ----------
    lines : PricedLines
        Own material in them is counted once.
    quantity, crew_hours : arrays, shape (n,)
        By item: in the last printed decimal; [hr].
    work_days, waiting_days : float arrays, shape (n,) [day]
        By item: the hours over the shift, or the days of bought work; what has to wait, at
        whatever pace.
    own_material : tuple of OwnMaterial
        The account of each own material that is recovered, had or used.
    """

    lines: PricedLines
    quantity: Integers
    crew_hours: Values
    work_days: Values
    waiting_days: Values
    own_material: tuple[OwnMaterial, ...] = ()

    @property
    def days(self) -> Values:
        """How long each item takes [day]: its work, or what has to wait if that is more."""
        return np.maximum(self.work_days, self.waiting_days)


# With more than these, one sentence says since when all have a rate.
MOST_EARLY = 5


@dataclass(frozen=True)
class PricedGroup:
    """The items of one assembly and crew: finished quantities, crew hours, days and lines."""

    items: Sequence[Item]
    quantity: Integers
    crew_hours: Values
    work_days: Values
    waiting_days: Values
    blocks: list[LineBlock]
    brought: list[MaterialBrought]


# By the identity of their items, which they hold on to.
PricedGroups = dict[tuple[int, ...], PricedGroup]


def price_lines(
    scope: Scope, tables: Tables, on: date, priced: PricedGroups | None = None
) -> PricedScope:
    """Return all cost lines of a scope at the rates of a day.

    Parameters
    ----------
    scope, tables, on
        As of `estimator.price`.
    priced : PricedGroups or None
        Of another scope with the same hours of work, at the same tables and day: the items that
        both share are not priced again. Those of this scope are added.

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
    crew_hours, work_days, waiting = np.zeros((3, len(scope.items)))
    blocks: list[LineBlock] = []
    brought: list[MaterialBrought] = []
    known, fresh = {} if priced is None else priced, PricedGroups()
    faults = Faults()
    for positions in _grouped(scope.items).values():
        key = tuple(id(scope.items[position]) for position in positions)
        group = known.get(key)
        if group is None:
            try:
                group = fresh[key] = _priced_group(scope, positions, tables, rates, faults)
            except GeometryFaulty:
                _note_shapeless(scope, positions, tables, rates, faults)
                continue
        here = np.array(positions, dtype=np.int64)
        quantity[here], crew_hours[here] = group.quantity, group.crew_hours
        work_days[here], waiting[here] = group.work_days, group.waiting_days
        blocks += group.blocks if key in fresh else [replace(b, items=here) for b in group.blocks]
        brought += group.brought
    faults.raise_if_any(ScopeFaulty)
    known |= fresh
    blocks += _fixed_blocks(scope, tables, on)
    blocks += stated_blocks(scope, tables, on)
    if not blocks:
        what = "there is no work to price: all items only say what own material there is"
        raise fault(ScopeFaulty, what, "add the work that uses it")
    blocks, own = counted_once(blocks, brought, tables, on)
    lines = joined_lines(scope, blocks)
    return PricedScope(lines, quantity, crew_hours, work_days, waiting, own)


def _priced_group(
    scope: Scope,
    positions: Sequence[int],
    tables: Tables,
    rates: Mapping[str, ResourceRate],
    faults: Faults,
) -> PricedGroup:
    """Return the quantities and lines of items that share assembly and crew."""
    items = [scope.items[position] for position in positions]
    method = items[0].method
    slopes = slopes_of([item.method.inputs for item in items])
    values = method_values(method, _given(items, scope), slopes)
    crew_hours = values[CREW_HOURS] if method.has_crew_hours else np.zeros(1)
    return PricedGroup(
        items=items,
        quantity=_finished(items, values[QUANTITY], tables, faults),
        crew_hours=crew_hours,
        work_days=np.maximum(crew_hours / values[SHIFT], method.own_days),
        waiting_days=waiting_days(values),
        blocks=_blocks(items, np.array(positions, dtype=np.int64), values, tables, rates, faults),
        brought=_brought(items, values, tables, faults),
    )


def _brought(
    items: Sequence[Item], values: Mapping[str, Values], tables: Tables, faults: Faults
) -> list[MaterialBrought]:
    """Return the own material that items of one assembly take up or have."""
    assembly = items[0].method.assembly
    brought = []
    for one in assembly.recoveries:
        per = tables.rates.unit_of(one.material)
        amount = np.broadcast_to(one.formula.evaluate(values) / float(per.factor), (len(items),))
        good = _good(amount, items, one.material, per.name, faults)
        scaled = scaled_half_up(np.where(good, amount, 0.0), tables.precision.of(per))
        brought.append(MaterialBrought(one, scaled, assembly.is_on_hand))
    return brought


def _note_shapeless(
    scope: Scope,
    positions: Sequence[int],
    tables: Tables,
    rates: Mapping[str, ResourceRate],
    faults: Faults,
) -> None:
    """Note which items of a group a take-off function refuses, each looked at by itself."""
    for position in positions:
        item = scope.items[position]
        try:
            _priced_group(scope, [position], tables, rates, faults)
        except GeometryFaulty as error:
            faults.take(f"{item.where}, item {item.code}", error)


def _grouped(items: Sequence[Item]) -> dict[tuple[str, str, str], list[int]]:
    """Return the positions of the items by assembly and crew.

    Each that lists methods, or is delayed, stands by itself.
    """
    groups: dict[tuple[str, str, str], list[int]] = {}
    for position, item in enumerate(items):
        groups.setdefault(_work_of(item), []).append(position)
    return groups


def _work_of(item: Item) -> tuple[str, str, str]:
    """Return what items share that are priced together."""
    alone = item.methods or item.delays is not None
    return item.method.assembly.code, item.method.crew, item.code if alone else ""


def _rates_in_use(scope: Scope, tables: Tables, on: date) -> Mapping[str, ResourceRate]:
    tables.rates.refuse_early(on)
    uses = {_work_of(item): item for item in reversed(scope.items)}
    rates: dict[str, ResourceRate] = {}
    faults = Faults()
    missing: set[str] = set()
    for item in reversed(uses.values()):
        for line in item_lines(item, tables):
            if line.resource in rates or line.resource in missing:
                continue
            try:
                rate = tables.rates.rate_on(line.resource, on)
                rates[line.resource] = scope.work_week.paid(rate)
            except RateMissing as error:
                missing.add(line.resource)
                faults.take(f"item {item.code}", error)
    later = [code for code in missing if code in tables.rates]
    if len(later) > MOST_EARLY:
        since = max(map(tables.rates.first_day, later))
        what = f"{len(later)} resources have no rate on {on}, among them {quoted(min(later))}"
        raise fault(
            RateMissing, what, f"price on {since}, since when all of them have one, or later"
        )
    faults.raise_if_any(RateMissing)
    return rates


def _given(items: Sequence[Item], scope: Scope) -> dict[str, Values]:
    """Return the inputs of items of one assembly in base units: an array, or the default."""
    if items[0].methods:
        return method_inputs(items[0].method, scope.shift)
    values: dict[str, Values] = {SHIFT: np.asarray(scope.shift.base_value)}
    written = [item.inputs for item in items]
    names = set().union(*written)
    for one in items[0].assembly.inputs:
        if one.name in names:
            input_values = [inputs.get(one.name) for inputs in written]
            listed = [one.base_default if g is None else g.base_value for g in input_values]
            values[one.name] = np.array(listed)
        elif not one.is_derived:
            values[one.name] = np.asarray(one.base_default)
    return values


def _finished(items: Sequence[Item], values: Values, tables: Tables, faults: Faults) -> Integers:
    """Return the finished quantities, rounded once to the decimals of the assembly's unit."""
    finished_unit = items[0].method.assembly.unit
    decimals = tables.precision.of(finished_unit)
    in_unit = np.broadcast_to(values / float(finished_unit.factor), (len(items),))
    good = _good(in_unit, items, "the finished quantity", finished_unit.name, faults)
    scaled = scaled_half_up(np.where(good, in_unit, 0.0), decimals)
    for position in np.flatnonzero(good & (scaled == 0)).tolist():
        item = items[position]
        faults.add(
            item.where,
            f"item {item.code} comes to zero (0 {finished_unit.name})",
            "check its inputs, or remove it",
        )
    return scaled


def _good(
    values: Values, items: Sequence[Item], what: str, unit_name: str, faults: Faults
) -> npt.NDArray[np.bool_]:
    """Return where values are quantities, noting a fault for each item whose is not."""
    good = np.asarray((values > -1e-9) & (values < LARGEST_QUANTITY))  # and so no infinity, no NaN
    if good.all():
        return good
    for position in np.flatnonzero(~good).tolist():
        item, value = items[position], values[position]
        shown = f"{value:,.2f} {unit_name}" if np.isfinite(value) else "no number"
        faults.add(
            item.where,
            f"item {item.code}: {what} comes to {shown}",
            "check inputs that are subtracted or divided by",
        )
    return good


def _blocks(
    items: Sequence[Item],
    here: Integers,
    values: Mapping[str, Values],
    tables: Tables,
    rates: Mapping[str, ResourceRate],
    faults: Faults,
) -> list[LineBlock]:
    """Return the lines of one assembly, each for all its items."""
    assembly = items[0].method.assembly
    blocks = []
    for number, line in enumerate(item_lines(items[0], tables), start=1):
        rate = rates[line.resource]
        need = line_need(line, values, rate.unit, len(items))
        if _is_priceable(need, items, rate, faults):
            decimals = tables.precision.of(rate.unit)
            order = order_of(need, decimals)
            blocks.append(LineBlock(here, number, order, decimals, assembly, line, rate))
    return blocks


def _fixed_blocks(scope: Scope, tables: Tables, on: date) -> list[LineBlock]:
    """Return the fixed sums of the methods that items are priced by, after their other lines."""
    blocks = []
    for position, item in enumerate(scope.items):
        before = len(item_lines(item, tables)) if item.methods else 0
        for number, (line, rate) in enumerate(fixed_sums(item, on), start=before + 1):
            order = order_of(line_need(line, {}, rate.unit, 1), 0)
            here = np.array([position])
            blocks.append(LineBlock(here, number, order, 0, item.method.assembly, line, rate))
    return blocks


def _is_priceable(
    need: LineNeed, items: Sequence[Item], rate: ResourceRate, faults: Faults
) -> bool:
    """Whether a line comes to quantities for all items; with a fault for each where it does not."""
    is_wasted = need.with_waste is not need.need
    smaller = np.where(need.need < 0, need.need, need.with_waste) if is_wasted else need.need
    if not _good(smaller, items, rate.name, rate.unit.name, faults).all():
        return False
    others = (
        (need.with_waste - need.need if is_wasted else None, f"the waste of {rate.name}"),
        (need.multiple, f"the order multiple of {rate.name}"),
        (need.minimum, f"the minimum of {rate.name}"),
    )
    checked = [
        _good(values, items, what, rate.unit.name, faults).all()
        for values, what in others
        if values is not None
    ]
    return all(checked)
