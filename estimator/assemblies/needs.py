"""What an assembly needs of each resource, for many items at once, before any order is rounded."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from estimator.assemblies.assembly import (
    CREW_HOURS,
    PRODUCTION_RATE,
    QUANTITY,
    Assembly,
    AssemblyLine,
)
from estimator.production.crews import Crew, CrewMember
from estimator.quantity.formulas import read_formula
from estimator.quantity.units import unit
from estimator.rates.resources import RateTable

Values = npt.NDArray[np.float64]


@dataclass(frozen=True)
class LineNeed:
    """What one line of an assembly needs for n items.

    Parameters
    ----------
    line : AssemblyLine
        The line.
    need : float array, shape (n,)
        In the resource's unit, unrounded.
    with_waste : float array, shape (n,)
        The same with waste added.
    multiple, minimum : float array, shape (n,), or None
        In the resource's unit.
    """

    line: AssemblyLine
    need: Values
    with_waste: Values
    multiple: Values | None
    minimum: Values | None


def crew_lines(crew: Crew, rates: RateTable) -> tuple[AssemblyLine, ...]:
    """Return the members of a crew as assembly lines: crew hours x number, in days if rented."""
    return tuple(_member_line(member, rates) for member in crew.members)


def _member_line(member: CrewMember, rates: RateTable) -> AssemblyLine:
    by_calendar = rates.unit_of(member.resource).dimension == unit("day").dimension
    hours = f"{CREW_HOURS} * {member.number}"
    multiple = member.order_multiple
    return AssemblyLine(
        resource=member.resource,
        formula=read_formula(f"{hours} / shift" if by_calendar else hours),
        waste=None,
        order_multiple=None if multiple is None else read_formula(f"{multiple:f}"),
        minimum=None,
        ordered_per=member.ordered_per,
        is_crew=True,
        origin=member.origin,
    )


def worked_out(
    assembly: Assembly, has_crew: bool, inputs: Mapping[str, Values]
) -> dict[str, Values]:
    """Return all values that the assembly's formulas use, in base units.

    Parameters
    ----------
    assembly : Assembly
        The assembly.
    has_crew : bool
        Whether a crew does the work, so that its hours are needed.
    inputs : mapping of str to float array, each of shape (n,) or ()
        The inputs of the scope or their defaults, and `shift`.

    Returns
    -------
    dict of str to float array
        `inputs`, the derived inputs, `quantity` and, with a crew, `crew_hours`. What divides by
        zero is infinite or NaN here; the caller refuses it by item.
    """
    values = dict(inputs)
    for name, formula in assembly.steps:
        values[name] = formula.evaluate(values)
    if has_crew and CREW_HOURS not in values:
        with np.errstate(all="ignore"):
            values[CREW_HOURS] = np.asarray(values[QUANTITY] / values[PRODUCTION_RATE])
    return values


def line_need(
    line: AssemblyLine, values: Mapping[str, Values], unit_factor: float, count: int
) -> LineNeed:
    """Return what a line needs for `count` items.

    Parameters
    ----------
    line : AssemblyLine
        A line of the assembly, or of its crew.
    values : mapping of str to float array
        From `worked_out`, in base units.
    unit_factor : float
        Base units in one unit of the resource.
    count : int
        Number of items, n.
    """
    need = np.broadcast_to(line.formula.evaluate(values) / unit_factor, (count,))
    with_waste = need if line.waste is None else need * (1.0 + line.waste.evaluate(values))
    return LineNeed(
        line,
        need,
        np.broadcast_to(with_waste, (count,)),
        _in_unit(line, "order_multiple", values, unit_factor, count),
        _in_unit(line, "minimum", values, unit_factor, count),
    )


def _in_unit(
    line: AssemblyLine, what: str, values: Mapping[str, Values], unit_factor: float, count: int
) -> Values | None:
    """Return an order multiple or minimum in the resource's unit; a plain number already is."""
    formula = getattr(line, what)
    if formula is None:
        return None
    divisor = 1.0 if formula.plain_number is not None else unit_factor
    return np.broadcast_to(formula.evaluate(values) / divisor, (count,))
