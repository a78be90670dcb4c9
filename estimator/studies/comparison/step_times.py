"""The step times of a method's system, as written or varied, gathered at its stations."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt

from estimator.errors import ProductionFaulty, fault, quoted
from estimator.production.cycle import FlowStep, TravelStep, travel_minutes
from estimator.production.many_outputs import TRAVEL, minutes_by_place
from estimator.scope.methods.method import Production

Values = npt.NDArray[np.float64]


@dataclass(frozen=True)
class StepTimes:
    """Times that are other than written; arrays of shape (n,) or ().

    Parameters
    ----------
    by_step : mapping of str to float array
        The own number of a step by its name: [min] of a fixed step, [ft] of travel, [unit/hr] of
        a flow.
    turnarounds : mapping of str to float array [min]
        By the carrier, from one load to its next; what is done at no station gives way.
    carriers : mapping of str to float array
        How many of each kind go round, by their name in formulas.
    """

    by_step: Mapping[str, Values] = field(default_factory=dict)
    turnarounds: Mapping[str, Values] = field(default_factory=dict)
    carriers: Mapping[str, Values] = field(default_factory=dict)

    @property
    def has_any(self) -> bool:
        """Whether anything is other than written."""
        return bool(self.by_step or self.turnarounds or self.carriers)


def times_by_place(production: Production, times: StepTimes) -> dict[str, Values]:
    """Return the minutes of a cycle of one kind at each station, and of travel under an empty name.

    Raises
    ------
    ProductionFaulty
        If a varied number is not above zero, or a turnaround is shorter than the time at stations.
    """
    minutes = minutes_by_place(production.system)
    own = {step.name: step for step in production.system.cycle}
    for name, values in times.by_step.items():
        if name not in own:
            continue
        step = own[name]
        _check_above_zero(values, f"step {quoted(name)}")
        other = _minutes(production, name, values) - step.minutes_for(production.system.load)
        minutes[step.station] = minutes[step.station] + other
    turnaround = times.turnarounds.get(production.carrier)
    if turnaround is None:
        return minutes
    at_stations = sum(time for place, time in minutes.items() if place != TRAVEL)
    travel = turnaround - at_stations
    if np.any(travel < 0.0):
        raise fault(
            ProductionFaulty,
            f"a turnaround of {np.min(turnaround):.4g} min is shorter than the time at its "
            f"stations, {np.max(at_stations):.4g} min",
            "vary the steps at the stations themselves",
            f"{quoted(production.system.name)}, {production.carrier} turnaround",
        )
    return minutes | {TRAVEL: travel}


def own_number(production: Production, name: str) -> tuple[float, str]:
    """Return the number that a step is given by, and its unit.

    Examples
    --------
    >>> from estimator.production.cycle import Load, Step
    >>> from estimator.production.working_system import WorkingSystem
    >>> cart = WorkingSystem("cart", 1, Load(0.5, "ton"), (Step("round", 6.0),))
    >>> own_number(Production("cart", cart), "round")
    (6.0, 'min')
    """
    step = production.step(name)
    if isinstance(step, TravelStep):
        return step.distance_ft, "ft"
    if isinstance(step, FlowStep):
        return step.rate_per_hr, f"{step.unit}/hr"
    return step.minutes, "min"


def _minutes(production: Production, name: str, values: Values) -> Values:
    step, load = production.step(name), production.system.load
    if isinstance(step, TravelStep):
        return values * travel_minutes(1.0, step.speed_mph)
    if isinstance(step, FlowStep):
        return step.minutes_for(load) * step.rate_per_hr / values
    return values


def _check_above_zero(values: Values, where: str) -> None:
    if not np.all(values > 0.0):
        least = float(np.min(values))
        raise fault(ProductionFaulty, f"comes to {least:.4g}", "it must be above zero", where)
