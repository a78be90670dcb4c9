"""The work of a method as it is priced: its lines, its inputs, and the one pace that it has.

Estimate, comparison, ranges and dates all take pace, hours and lines from here. A method with a
working system goes at what comes through with waiting; any other at the production rate of its
assembly.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from estimator.assemblies.assembly import (
    CREW_HOURS,
    PRODUCTION_RATE,
    SHIFT,
    AssemblyLine,
)
from estimator.assemblies.needs import worked_out
from estimator.assemblies.over_slope import Slopes
from estimator.assemblies.tables import Tables
from estimator.production.many_outputs import Outputs
from estimator.quantity.depth_profile import POINTS
from estimator.quantity.formulas import read_formula
from estimator.quantity.units import unit
from estimator.scope.input_value import InputValue
from estimator.scope.methods.method import Method, Production

Values = npt.NDArray[np.float64]

# Who brings is there until the last of it has room, as `limited_pile` works it out.
_BRINGING_HOURS = "max(quantity / pile_comes, (quantity - pile_holds) / production_rate)"

PILE_HOLDS, PILE_COMES = "pile_holds", "pile_comes"


@dataclass(frozen=True)
class Pace:
    """How fast the working system of a method goes.

    Parameters
    ----------
    per_hr, at_best_per_hr : float array [base unit of the load/hr]
        With waiting lines, and if nothing varied.
    """

    per_hr: Values
    at_best_per_hr: Values


def pace_of(production: Production, outputs: Outputs | None = None) -> Pace:
    """Return the pace of a working system.

    Parameters
    ----------
    production : Production
        The system.
    outputs : Outputs or None
        What it puts out with other times; None for the times as they are written.
    """
    outputs = outputs or production.outputs
    base_units = float(unit(production.system.load.unit).factor)
    return Pace(outputs.with_waiting_per_hr * base_units, outputs.at_best_per_hr * base_units)


def method_inputs(method: Method, shift: InputValue) -> dict[str, Values]:
    """Return all inputs of a method in base units, `shift`, and the pace as `production_rate`."""
    values = {SHIFT: np.asarray(shift.base_value)}
    for one in method.paced_assembly.inputs:
        if not one.is_derived:
            entered = method.inputs.get(one.name)
            values[one.name] = np.asarray(entered.base_value if entered else one.base_default)
    if method.production is not None:
        values |= _pile_inputs(method.production)
        values[PRODUCTION_RATE] = placed_per_hr(pace_of(method.production).per_hr, values)
        for name, kind in method.production.counted:
            values[name] = np.asarray(float(kind.system.carriers))
    return values


def _pile_inputs(production: Production) -> dict[str, Values]:
    if production.pile is None:
        return {}
    pile = production.pile
    return {
        PILE_HOLDS: np.asarray(pile.holds.base_value),
        PILE_COMES: np.asarray(pile.comes.base_value),
    }


def placed_per_hr(per_hr: Values, inputs: Mapping[str, Values]) -> Values:
    """Return a pace, no faster than what comes to the pile that is placed from."""
    return np.minimum(per_hr, inputs[PILE_COMES]) if PILE_COMES in inputs else per_hr


def method_values(
    method: Method, inputs: Mapping[str, Values], slopes: Slopes | None
) -> dict[str, Values]:
    """Return all values that the lines of a method use, in base units.

    Parameters
    ----------
    method : Method
        What is done; bought work has the hours of the days that it is said to take.
    inputs : mapping of str to float array
        As of `method_inputs`.
    slopes : Slopes or None
        As of `slopes_of`.
    """
    values = worked_out(method.paced_assembly, method.has_crew_hours, inputs, slopes, method.delays)
    if not method.has_crew_hours:
        values[CREW_HOURS] = method.own_days * values[SHIFT]
    return values


def slopes_of(inputs: Sequence[Mapping[str, InputValue]]) -> Slopes | None:
    """Return how the depths of items of one assembly are spread; None where none is sloping.

    Two inputs of one item that are both lists run along the same slope; of spot depths and corners
    only the first counts.
    """
    sloping = {name for one in inputs for name, value in one.items() if value.profile is not None}
    if not sloping:
        return None
    relative = {name: np.ones((POINTS + 1, len(inputs))) for name in sorted(sloping)}
    shares = np.full((POINTS + 1, len(inputs)), 1.0 / POINTS)
    shares[-1] = 0.0
    for place, one in enumerate(inputs):
        first: tuple[float, ...] | None = None
        for name in sorted(sloping & one.keys()):
            profile = one[name].profile
            if profile is not None and first in (None, profile.shares):
                first = profile.shares
                relative[name][:, place] = (*profile.relative, profile.deepest)
                shares[:, place] = (*profile.shares, 0.0)
    return Slopes(relative, shares)


def method_lines(method: Method, tables: Tables) -> tuple[AssemblyLine, ...]:
    """Return the lines of a method, the crew's first: who is hired is paid for all hours.

    Each order is made for this work alone, so that a method costs the same wherever it is priced.
    """
    lines = tables.lines_of(method.assembly, method.crew)
    if method.production is not None:
        lines = tuple(_with_carriers(line, method.production, tables) for line in lines)
    return tuple(replace(line, ordered_per="item") for line in lines)


def _with_carriers(line: AssemblyLine, production: Production, tables: Tables) -> AssemblyLine:
    """Return a line that counts what comes with the carriers and the hours of all that are hired.

    What is hired is no less than the assembly says, and each machine is rented for whole days of
    its own.
    """
    there = [
        (name if one.number is None else f"{one.number}")
        for name, kind in production.counted
        for one in kind.hired
        if one.resource == line.resource
    ]
    if there:
        many = " + ".join(there)
        hours = f"max({line.formula.text}, {_times(many)} * {CREW_HOURS})"
        return replace(line, formula=read_formula(hours), hired=read_formula(many))
    for one in production.pile.hired if production.pile else ():
        if one.resource == line.resource:
            bringing = read_formula(f"{one.number} * {_BRINGING_HOURS}")
            return replace(line, formula=bringing, hired=read_formula(f"{one.number}"))
    brought = [
        f"{name} * {one.number}"
        for name, kind in production.counted
        for one in kind.brings or ()
        if one.resource == line.resource and line.is_crew
    ]
    return _brought(line, " + ".join(brought), tables) if brought else line


def _times(many: str) -> str:
    """Return a number as a factor: a sum stands in parentheses."""
    return f"({many})" if " + " in many else many


def _brought(line: AssemblyLine, many: str, tables: Tables) -> AssemblyLine:
    rented = tables.rates.unit_of(line.resource)
    multiple = None
    if line.order_multiple is not None:
        each = line.order_multiple.plain_number or 1
        multiple = read_formula(f"{float(each * rented.factor):g} * {_times(many)}")
    by_day = f" / {SHIFT}" if rented.dimension == unit("day").dimension else ""
    hours = read_formula(f"{CREW_HOURS} * {_times(many)}{by_day}")
    return replace(line, formula=hours, order_multiple=multiple)
