"""The work of a method as it is priced: its lines, its inputs, and the one pace that it has.

Estimate, comparison, ranges and dates all take pace, hours and lines from here. A method with a
working system goes at what comes through with waiting; any other at the production rate of its
assembly.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from estimator.assemblies.assembly import (
    CREW_HOURS,
    PRODUCTION_RATE,
    SHIFT,
    Assembly,
    AssemblyLine,
)
from estimator.assemblies.tables import Tables
from estimator.production.many_outputs import Outputs
from estimator.quantity.formulas import read_formula
from estimator.quantity.units import unit
from estimator.scope.input_value import InputValue
from estimator.scope.methods.method import Hired, Method, Production

Values = npt.NDArray[np.float64]


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


def paced_assembly(method: Method) -> Assembly:
    """Return the assembly; where a system gives the pace, its own working hours are left out."""
    if method.production is None:
        return method.assembly
    inputs = tuple(one for one in method.assembly.inputs if one.name != CREW_HOURS)
    return replace(method.assembly, inputs=inputs)


def method_inputs(method: Method, shift: InputValue) -> dict[str, Values]:
    """Return all inputs of a method in base units, `shift`, and the pace as `production_rate`."""
    values = {SHIFT: np.asarray(shift.base_value)}
    for one in paced_assembly(method).inputs:
        if not one.is_derived:
            entered = method.inputs.get(one.name)
            values[one.name] = np.asarray(entered.base_value if entered else one.base_default)
    if method.production is not None:
        values[PRODUCTION_RATE] = pace_of(method.production).per_hr
    return values


def method_lines(method: Method, tables: Tables) -> tuple[AssemblyLine, ...]:
    """Return the lines of a method, the crew's first: who is hired is paid for all hours.

    Each order is made for this work alone, so that a method costs the same wherever it is priced.
    """
    hired = {one.resource: one for one in method.production.hired} if method.production else {}
    return tuple(
        replace(_paid_while_there(line, hired.get(line.resource), method), ordered_per="item")
        for line in tables.lines_of(method.assembly, method.crew)
    )


def _paid_while_there(line: AssemblyLine, hired: Hired | None, method: Method) -> AssemblyLine:
    """Return a line that counts the hours of all that are hired, no less than the assembly's."""
    if hired is None or method.production is None:
        return line
    many = method.production.system.carriers if hired.number is None else hired.number
    return replace(line, formula=read_formula(f"max({line.formula.text}, {many} * {CREW_HOURS})"))
