"""What an assembly needs of each resource, for many items at once, before any order is rounded."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from estimator.assemblies.assembly import (
    CREW_HOURS,
    LEAST_DAYS,
    PRODUCTION_RATE,
    QUANTITY,
    SHIFT,
    Assembly,
    AssemblyLine,
)
from estimator.assemblies.over_slope import OverSlope, Slopes, evaluated
from estimator.production.crews import Crew, CrewMember
from estimator.production.delays import Delays
from estimator.quantity.formulas import read_formula
from estimator.quantity.rounding import whole_above, whole_below
from estimator.quantity.units import Unit, unit
from estimator.rates.resources import RateTable

Values = npt.NDArray[np.float64]

_LENGTH = unit("ft").dimension
_HOUR = unit("hr")


@dataclass(frozen=True)
class CallOut:
    """Who is called out by the hour for n items; float arrays, each of shape (n,).

    Parameters
    ----------
    number : float array
        How many come.
    days, shift : float arrays [day], [unit of the resource/day]
        How long they come, the last day in part, and how long a full day is.
    """

    number: Values
    days: Values
    shift: Values

    def paid(self, needed: Values, minimum: Values, multiple: Values) -> Values:
        """Return what all of them are paid for: each of them, each day, at least the minimum.

        Parameters
        ----------
        needed : float array, shape (n,) [unit of the resource]
            Of all of them together, over all days.
        minimum, multiple : float arrays, shape (n,) [unit of the resource]
            Of one call-out of one of them.

        Notes
        -----
        All come every day and stay to its end, as in `hired_hours`. Where the days have to wait
        for something, the hours are spread over them evenly.

        Examples
        --------
        >>> three, short_day = np.array([3.0]), np.array([0.27 / 8])
        >>> CallOut(three, short_day, np.array([8.0])).paid(
        ...     np.array([0.81]), np.array([2.0]), np.array([0.25])
        ... )
        array([6.])
        """
        each = needed / self.number
        of_shift = each / self.shift
        full = np.where(whole_above(self.days) > whole_above(of_shift), 0.0, whole_below(of_shift))
        rest = each - full * self.shift
        days_of_rest = np.maximum(whole_above(self.days) - full, 1.0)
        is_short = rest > 1e-9 * self.shift

        def day(hours: Values) -> Values:
            return whole_above(np.maximum(hours, minimum) / multiple) * multiple

        short = np.where(is_short, days_of_rest * day(rest / days_of_rest), 0.0)
        return np.asarray(self.number * (full * day(self.shift) + short))


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
    call_out : CallOut or None
        Who is hired by the hour, and for how many days.
    """

    line: AssemblyLine
    need: Values
    with_waste: Values
    multiple: Values | None
    minimum: Values | None
    call_out: CallOut | None = None


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
    assembly: Assembly,
    has_crew: bool,
    inputs: Mapping[str, Values],
    slopes: Slopes | None = None,
    delays: Delays | None = None,
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
    slopes : Slopes or None
        How inputs that are several depths are spread around their means.
    delays : Delays or None
        What makes the crew slower than the production rate.

    Returns
    -------
    dict of str to float array
        `inputs`, the derived inputs, `quantity` and, with a crew, `crew_hours`. What divides by
        zero is infinite or NaN here; the caller refuses it by item.
    """
    values: dict[str, Values] = dict(inputs) if slopes is None else OverSlope(inputs, slopes)
    is_before_quantity = True
    for name, formula in assembly.steps:
        is_before_quantity = is_before_quantity and name != QUANTITY
        if isinstance(values, OverSlope) and is_before_quantity:
            is_length = assembly.input_by_name[name].unit.dimension == _LENGTH
            values.keep_along(name, values.values_along(formula), is_length=is_length)
        else:
            values[name] = evaluated(formula, values)
        if name == CREW_HOURS:
            _delay(values, delays)
    if has_crew and CREW_HOURS not in values:
        with np.errstate(all="ignore"):
            values[CREW_HOURS] = np.asarray(values[QUANTITY] / values[PRODUCTION_RATE])
        _delay(values, delays)
    return values


def _delay(values: dict[str, Values], delays: Delays | None) -> None:
    if delays is not None:
        values[CREW_HOURS] = delays.hours(values[CREW_HOURS], float(values[SHIFT]))


def working_days(values: Mapping[str, Values]) -> Values:
    """Return the days of the work: its hours over the shift, or what has to wait if that is more.

    See Also
    --------
    waiting_days
    """
    hours = values.get(CREW_HOURS, np.zeros(1))
    return np.asarray(np.maximum(hours / values[SHIFT], waiting_days(values)))


def waiting_days(values: Mapping[str, Values]) -> Values:
    """Return the days that work waits, at whatever pace: a lift a day, strength reached.

    They are the assembly's derived input `least_days`; 0 where it has none.
    """
    return values.get(LEAST_DAYS, np.zeros(1))


def line_need(line: AssemblyLine, values: Mapping[str, Values], per: Unit, count: int) -> LineNeed:
    """Return what a line needs for `count` items.

    Parameters
    ----------
    line : AssemblyLine
        A line of the assembly, or of its crew.
    values : mapping of str to float array
        From `worked_out`, in base units.
    per : Unit
        Of the resource.
    count : int
        Number of items, n.
    """
    unit_factor = float(per.factor)
    need = np.broadcast_to(evaluated(line.formula, values) / unit_factor, (count,))
    with_waste = need if line.waste is None else need * (1.0 + evaluated(line.waste, values))
    return LineNeed(
        line,
        need,
        with_waste,
        _in_unit(line, "order_multiple", values, unit_factor, count),
        _in_unit(line, "minimum", values, unit_factor, count),
        _call_out(line, values, per, count),
    )


def _call_out(
    line: AssemblyLine, values: Mapping[str, Values], per: Unit, count: int
) -> CallOut | None:
    """Return who is called out by the hour: hired with a system, or with a minimum charge."""
    if line.hired is not None:
        if line.minimum is None and line.order_multiple is None:
            return None
        number, days = line.hired.evaluate(values), working_days(values)
        if CREW_HOURS not in line.formula.names:  # who brings to a pile is gone before the crew
            days = evaluated(line.formula, values) / number / values[SHIFT]
    elif line.minimum is None or line.ordered_per == "phase" or per.dimension != _HOUR.dimension:
        return None
    else:
        number, days = _who_comes(line, values)
    parts = number, days, values[SHIFT] / float(per.factor)
    return CallOut(*(np.broadcast_to(one, (count,)) for one in parts))


def _who_comes(line: AssemblyLine, values: Mapping[str, Values]) -> tuple[Values, Values]:
    """Return how many are called out where no system says so, and for how many days.

    Whose hours are the crew's come with it, every day: as many as one more hour of the crew takes
    of their hours. Others have hours of their own: as few come as keep up with the crew, one where
    there is none, and only on the days that these hours fill.
    """
    with np.errstate(all="ignore"):
        if CREW_HOURS in line.formula.names:
            longer = {**values, CREW_HOURS: values[CREW_HOURS] + 1.0}
            more = line.formula.evaluate(longer) - line.formula.evaluate({**values})
            return np.maximum(whole_above(more), 1.0), working_days(values)
        days = evaluated(line.formula, values) / values[SHIFT]
        of_crew = working_days(values)
        number = np.where(of_crew > 0.0, np.maximum(whole_above(days / of_crew), 1.0), 1.0)
        return number, days / number


def _in_unit(
    line: AssemblyLine, what: str, values: Mapping[str, Values], unit_factor: float, count: int
) -> Values | None:
    """Return an order multiple or minimum in the resource's unit; a plain number already is."""
    formula = getattr(line, what)
    if formula is None:
        return None
    divisor = 1.0 if formula.plain_number is not None else unit_factor
    return np.broadcast_to(evaluated(formula, values) / divisor, (count,))
