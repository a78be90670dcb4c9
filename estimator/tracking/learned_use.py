"""Waste and lives that were learned: the input of an assembly that says each, and its new value."""

from __future__ import annotations

import ast
from collections.abc import Iterable, Iterator, Mapping
from decimal import Decimal

from estimator.assemblies.assembly import Assembly, AssemblyInput
from estimator.assemblies.source_ranges import stated_range
from estimator.assemblies.tables import Tables
from estimator.quantity.formulas import Formula
from estimator.scope.scope import Item, Scope
from estimator.tracking.job_record import TURNAROUND, JobRate
from estimator.tracking.job_use import CONSUMABLE, LIFE, WASTE

Defaults = Mapping[tuple[str, str], tuple[Decimal, str]]
"""New defaults by assembly and input, each in the input's unit, with its source."""


def use_defaults(rates: Iterable[JobRate], scope: Scope, tables: Tables) -> Defaults:
    """Return the new defaults of inputs that say a waste or a life.

    Parameters
    ----------
    rates : iterable of JobRate
        See `job_rates`.
    scope, tables : Scope, Tables
        Of the accepted estimate.

    Notes
    -----
    A waste is written where a line of its unit wastes by one input of the assembly. A life is
    written where the need of a line is divided by one input, such as `blade_life`, to which the
    life of the record is in proportion. Of several items of an assembly the one that was observed
    most often counts. Left out is what the scope states itself, and what is outside the limits of
    the input.
    """
    uses = sorted(_uses(rates, scope, tables), key=lambda one: one[0].learned.observations)
    return {
        (item.method.assembly.code, own.name): (value, new_source(rate, own, value))
        for rate, item, own, value in uses
        if own.name not in item.method.inputs
    }


def scope_sentences(rates: Iterable[JobRate], scope: Scope, tables: Tables) -> tuple[str, ...]:
    """Return what to write into a scope: inputs that it states itself, and times of trucks.

    Parameters
    ----------
    rates, scope, tables
        See `use_defaults`.
    """
    listed = list(rates)
    stated = [
        f"item {item.code}: {own.name} {value:f} {own.unit.name}, in place of what it states "
        f"({_evidence(rate)})"
        for rate, item, own, value in _uses(listed, scope, tables)
        if own.name in item.method.inputs
    ]
    trucks = [
        f"trucks of {one.code} stay {one.learned.mean:.1f} minutes, without the waiting that "
        f"tickets state ({one.learned.observations} tickets): that is the total for the "
        "on-site steps of their working system"
        for one in listed
        if one.what == TURNAROUND
    ]
    return (*stated, *trucks)


def _evidence(rate: JobRate) -> str:
    return rate.proposal.evidence if rate.proposal else ""


def _uses(
    rates: Iterable[JobRate], scope: Scope, tables: Tables
) -> Iterator[tuple[JobRate, Item, AssemblyInput, Decimal]]:
    items = {one.code: one for one in scope.items}
    for rate in rates:
        item = items.get(rate.code)
        if (
            item is None
            or rate.what not in (WASTE, LIFE)
            or rate.table is None
            or not rate.proposal
        ):
            continue
        own = input_of_use(rate.what, rate.unit, item.method.assembly, tables)
        if own is None:
            continue
        now = input_now(own, item)
        new = rate.proposal.rate if rate.what == WASTE else now * rate.proposal.rate / rate.table
        value = Decimal(f"{new / float(own.unit.factor):.4g}")
        if (own.least is None or value >= own.least) and (own.most is None or value <= own.most):
            yield rate, item, own, value


def input_now(own: AssemblyInput, item: Item) -> float:
    """Return an input of an item's assembly [base unit]: the item's own, else the default.

    Parameters
    ----------
    own : AssemblyInput
        Of the assembly of the item's method.
    item : Item
        Which may state it.
    """
    stated = item.method.inputs.get(own.name)
    return own.base_default if stated is None else stated.base_value


def new_source(rate: JobRate, own: AssemblyInput, value: Decimal) -> str:
    """Return the source of a learned default: the evidence, and the range that stays with it.

    Parameters
    ----------
    rate : JobRate
        What was learned.
    own : AssemblyInput
        Which had a range in its source; it is widened where the new default lies outside.
    value : Decimal
        The new default, in the input's unit.
    """
    source, ends = f"{_evidence(rate)}; item {rate.code}", stated_range(own.source)
    if ends is None:
        return source
    low, high = min(ends[0], value), max(ends[1], value)
    whose = "common practice" if (low, high) == ends else "common practice and own record"
    return f"{source}; {whose}, no source: {low:f} to {high:f}"


def input_of_use(what: str, unit: str, assembly: Assembly, tables: Tables) -> AssemblyInput | None:
    """Return the one input that says the waste or the life of what is bought by a unit.

    Parameters
    ----------
    what, unit : str
        `waste` or `life`, and the unit of the figure: `ton/ton`, `sf/blade`.
    assembly, tables : Assembly, Tables
        Where it is looked for.
    """
    bought_by, is_life = unit.rpartition("/")[2], what == LIFE
    names = {
        _divisor(line.formula) if is_life else line.waste and line.waste.text
        for line in assembly.lines
        if tables.rates.unit_of(line.resource).name == bought_by
        and (tables.rates.kind_of(line.resource) == CONSUMABLE) == is_life
    }
    inputs = [one for one in assembly.inputs if one.name in names and not one.is_derived]
    return inputs[0] if len(names) == 1 and inputs else None


def _divisor(formula: Formula) -> str:
    """Return the name that a whole formula is divided by; empty where it is not."""
    whole = formula.tree
    if not (isinstance(whole, ast.BinOp) and isinstance(whole.op, ast.Div)):
        return ""
    if not isinstance(whole.right, ast.Name):
        return ""
    name = whole.right.id
    above = {one.id for one in ast.walk(whole.left) if isinstance(one, ast.Name)}
    return "" if name in above else name
