"""Results of a comparison: curves over one value or a map over two, break-evens, the rest."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from estimator.errors import MethodsFaulty, fault, quoted
from estimator.money import exact_arithmetic
from estimator.quantity.measures import read_measure
from estimator.studies.comparison.break_even import (
    CheapestIntervals,
    cheapest_intervals,
    what_would_change_the_choice,
)
from estimator.studies.comparison.changing_course import ChangedCourse
from estimator.studies.comparison.comparison import Comparison
from estimator.studies.comparison.cost_difference import (
    SaveOrScrap,
    is_save_or_scrap,
    save_or_scrap,
)
from estimator.studies.comparison.curves import CostMap, Curves, cost_curves, cost_map
from estimator.studies.comparison.varied import Sort, Varied, varied_named
from estimator.studies.comparison.work_apart import work_apart

Values = npt.NDArray[np.float64]

CURVE_POINTS = 81
MAP_ACROSS, MAP_UP = 120, 60


@dataclass(frozen=True)
class Variation:
    """One value that is to be varied, as a person asks for it.

    Parameters
    ----------
    name : str
        As `varied_named` knows it.
    low, high : str
        Measures; empty for half and double the value as written.
    """

    name: str
    low: str = ""
    high: str = ""


@dataclass(frozen=True)
class Findings:
    """What is known about a choice.

    Parameters
    ----------
    cheapest : tuple of CheapestIntervals
        Over the one value that is varied; if none was, over all that change the choice, the
        nearest change first.
    curves : Curves or None
        Over the value that is varied, or over the one whose change is nearest.
    cost_map : CostMap or None
        If two values are varied.
    is_varied : bool
        Whether one value was varied.
    saving : SaveOrScrap or None
        If one method keeps what it takes up.
    course : ChangedCourse or None
        If part of the work is done.
    notes : tuple of str
        Where methods no longer do the same work, without capitals and full stops.
    """

    cheapest: tuple[CheapestIntervals, ...] = ()
    curves: Curves | None = None
    cost_map: CostMap | None = None
    is_varied: bool = False
    saving: SaveOrScrap | None = None
    course: ChangedCourse | None = None
    notes: tuple[str, ...] = ()


@exact_arithmetic
def findings_of(
    comparison: Comparison,
    variations: tuple[Variation, ...] = (),
    course: ChangedCourse | None = None,
) -> Findings:
    """Return the results over the values that are varied: none, one or two.

    Raises
    ------
    MethodsFaulty
        If a name points to nothing, a range is empty or beyond what the value can be, or more than
        two values are varied.
    MeasureFaulty
        If an end of a range is not a measure of its kind.
    """
    saving = save_or_scrap(comparison) if is_save_or_scrap(comparison) else None
    if len(variations) > 2:
        raise fault(
            MethodsFaulty, f"{len(variations)} values are varied", "vary one, or two for a map"
        )
    if len(variations) == 2:
        return Findings(cost_map=_map(comparison, variations), saving=saving, course=course)
    if variations:
        varied = varied_named(comparison, variations[0].name)
        low, high = range_of_variation(varied, variations[0])
        return Findings(
            cheapest=(cheapest_intervals(comparison, varied, low, high),),
            curves=cost_curves(comparison, varied, _points(varied, low, high, CURVE_POINTS)),
            is_varied=True,
            saving=saving,
            course=course,
            notes=tuple(work_apart(comparison, varied, low, high)),
        )
    cheapest = what_would_change_the_choice(comparison)
    curves = None
    if cheapest:
        varied = cheapest[0].varied
        points = _points(varied, *varied.usual_range, CURVE_POINTS)
        curves = cost_curves(comparison, varied, points)
    notes = [
        note
        for one in cheapest
        for note in work_apart(comparison, one.varied, *one.varied.usual_range)
    ]
    return Findings(cheapest, curves, saving=saving, course=course, notes=tuple(notes))


def range_of_variation(varied: Varied, variation: Variation) -> tuple[float, float]:
    """Return the requested range, in the unit of what is varied.

    Raises
    ------
    MeasureFaulty
        If an end is not a measure of its kind.
    MethodsFaulty
        If the lower end is not below the upper one.
    """
    usual = varied.usual_range
    ends = []
    for text, end in zip((variation.low, variation.high), usual, strict=True):
        measured = read_measure(text, varied.unit).in_unit(varied.unit) if text else end
        if varied.unit.is_count and text and measured % 1:
            what = f"{quoted(text)} is not a whole number of {varied.unit.name}"
            raise fault(MethodsFaulty, what, "they are counted", varied.name)
        ends.append(float(measured))
    if not ends[0] < ends[1]:
        raise fault(
            MethodsFaulty,
            f"the range from {ends[0]:,.6g} to {ends[1]:,.6g} {varied.unit.name} is empty",
            "give its lower end first",
            quoted(varied.name),
        )
    return ends[0], ends[1]


def _points(varied: Varied, low: float, high: float, count: int) -> Values:
    """Return values over a range, the value as written among them; whole ones of a count."""
    values = np.linspace(low, high, count)
    if low < varied.base < high and varied.sort is not Sort.DAY_WORTH:
        values = np.append(values, varied.base)
    return np.unique(values.round() if varied.unit.is_count else values)


def _spaced(varied: Varied, low: float, high: float, count: int) -> Values:
    """Return values over a range in even steps; whole ones of a count."""
    values = np.linspace(low, high, count)
    return np.unique(values.round()) if varied.unit.is_count else values


def _map(comparison: Comparison, variations: tuple[Variation, ...]) -> CostMap:
    across, up = (varied_named(comparison, one.name) for one in variations)
    x = _spaced(across, *range_of_variation(across, variations[0]), MAP_ACROSS)
    y = _spaced(up, *range_of_variation(up, variations[1]), MAP_UP)
    return cost_map(comparison, across, up, x, y)
