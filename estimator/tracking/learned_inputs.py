"""What was learned of an assembly as rows of tables: the assembly again, with other defaults."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import date
from decimal import Decimal
from fractions import Fraction

from estimator.assemblies.assembly import PRODUCTION_RATE, AssemblyInput
from estimator.assemblies.tables import Tables
from estimator.errors import Faults, TablesFaulty
from estimator.pricing.estimate import estimate_by_the_day
from estimator.pricing.printed_estimate import printed_estimate
from estimator.rates.folders import COLUMNS, TableFolder, table_rows
from estimator.rates.written_folder import table_text
from estimator.scope.input_value import InputValue
from estimator.scope.scope import Item, Scope
from estimator.tracking.closed_weeks import LABOR
from estimator.tracking.job_record import PACE, JobRate
from estimator.tracking.learned_use import Defaults, input_now, new_source, use_defaults

_HEADS = "assemblies.csv"
_INPUTS = "assembly_inputs.csv"
_KEYS = {
    _HEADS: "code", _INPUTS: "assembly", "assembly_lines.csv": "assembly",
    "own_material.csv": "assembly",
}  # fmt: skip
_TWICE = 2


def input_tables(
    rates: Iterable[JobRate],
    scope: Scope,
    tables: Tables,
    folders: Sequence[TableFolder],
    on: date,
) -> Mapping[str, str]:
    """Return texts of tables by file name with the assemblies of which something was learned.

    Parameters
    ----------
    rates : iterable of JobRate
        See `job_rates`.
    scope, tables : Scope, Tables
        Of the accepted estimate.
    folders : sequence of TableFolder
        The sets that the tables were read from, lowest first.
    on : date
        Its pricing date.

    Notes
    -----
    A set that names an assembly replaces it whole, so each is written out with all its rows; only
    the default of its `production_rate`, of a waste or of a life is another: see `use_defaults`.
    Hours H of an item are A / p + B: those of the crew at the production rate p, and others. H is
    priced at p and at 2 p, so A / p is 2 (H(p) - H(2 p)); the new rate is the one at which H comes
    to the hours that are proposed. Of several items of an assembly the one that was observed most
    often counts, the later of as many.
    Left out is what goes by a working system or is bought, and a rate outside the limits of the
    input.
    """
    listed = list(rates)
    defaults = {**use_defaults(listed, scope, tables), **_paces(listed, scope, tables, on)}
    return _texts(folders, defaults) if defaults else {}


def _paces(rates: Iterable[JobRate], scope: Scope, tables: Tables, on: date) -> Defaults:
    """Return the new production rates."""
    items = {one.code: one for one in scope.items if pace_input(one) is not None}
    seen = [one for one in rates if one.what == PACE and one.proposal and one.code in items]
    if not seen:
        return {}
    hours, fewer = (
        _hours(scope, tables, on, by) for by in (set[str](), {one.code for one in seen})
    )
    defaults: dict[tuple[str, str], tuple[Decimal, str]] = {}
    for one in sorted(seen, key=lambda rate: rate.learned.observations):
        item = items[one.code]
        pace = _new_pace(one, item, hours[one.code], fewer[one.code])
        if pace is not None:
            place = item.method.assembly.code, PRODUCTION_RATE
            defaults[place] = (pace, new_source(one, _input_of(item), pace))
    return defaults


def pace_input(item: Item) -> AssemblyInput | None:
    """Return the production rate that the hours of an item follow from; None where none does.

    Parameters
    ----------
    item : Item
        With a crew, or bought; by its assembly's rate, a working system, or stated days.
    """
    method = item.method
    follows = bool(method.crew) and method.production is None and method.days is None
    return method.assembly.input_by_name.get(PRODUCTION_RATE) if follows else None


def _hours(
    scope: Scope, tables: Tables, on: date, twice_as_fast: Collection[str]
) -> Mapping[str, tuple[float, float]]:
    """Return labor hours and quantity of each item, some of them at twice their pace."""
    phases = tuple(
        replace(phase, items=tuple(
            _faster(item) if item.code in twice_as_fast else item for item in phase.items
        ))
        for phase in scope.phases
    )  # fmt: skip
    printed = printed_estimate(estimate_by_the_day(replace(scope, phases=phases), tables, on))
    hours: dict[str, float] = defaultdict(float)
    for line in printed.lines:
        if line.kind == LABOR and line.unit == "hr":
            hours[line.item] += line.ordered / 10**line.decimals
    return {one.item: (hours[one.item], float(one.quantity)) for one in printed.items}


def _faster(item: Item) -> Item:
    method = item.method
    twice = InputValue(Fraction(_pace_of(item)) * _TWICE, "twice the pace")
    return replace(
        item, assembly=method.assembly, crew=method.crew, methods=(), choice="",
        inputs={**method.inputs, PRODUCTION_RATE: twice},
    )  # fmt: skip


def _pace_of(item: Item) -> float:
    """Return the production rate of an item: its own, else that of its assembly [base unit/hr]."""
    return input_now(_input_of(item), item)


def _input_of(item: Item) -> AssemblyInput:
    return item.method.assembly.input_by_name[PRODUCTION_RATE]


def _new_pace(
    rate: JobRate, item: Item, now: tuple[float, float], at_twice: tuple[float, float]
) -> Decimal | None:
    """Return the default at which the hours are those proposed; None where none gives them."""
    (hours, quantity), (fewer, _) = now, at_twice
    of_crew = _TWICE * (hours - fewer)
    wanted = (rate.proposal.rate if rate.proposal else 0.0) * quantity - (hours - of_crew)
    if of_crew <= 0 or wanted <= 0:
        return None
    own = _input_of(item)
    pace = Decimal(f"{_pace_of(item) * of_crew / wanted / float(own.unit.factor):.4g}")
    is_low = own.least is not None and pace < own.least
    is_high = own.most is not None and pace > own.most
    return None if is_low or is_high else pace


def _texts(folders: Sequence[TableFolder], defaults: Defaults) -> Mapping[str, str]:
    """Return the rows of assemblies as the highest set has them, with their new defaults."""
    faults = Faults()
    rows = {file: list(table_rows(folders, file, faults)) for file in _KEYS}
    faults.raise_if_any(TablesFaulty)
    changed = {assembly for assembly, _ in defaults}
    highest = {row.cells["code"]: row.origin.tables for row in rows[_HEADS]}
    texts = {}
    for file, key in _KEYS.items():
        own = [
            _with_default(row.cells, defaults) if file == _INPUTS else row.cells
            for row in rows[file]
            if row.cells[key] in changed and row.origin.tables == highest[row.cells[key]]
        ]
        if own:
            texts[file] = table_text(COLUMNS[file], own)
    return texts


def _with_default(cells: Mapping[str, str], defaults: Defaults) -> Mapping[str, str]:
    new = defaults.get((cells["assembly"], cells["input"]))
    return cells if new is None else {**cells, "default": f"{new[0]:f}", "source": new[1]}
