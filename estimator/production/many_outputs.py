"""The output of one working system for many sets of step times at once: curves and maps.

The same range as `production_range` and `time_in_lifts` give, with arrays in place of numbers.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from estimator.errors import ProductionFaulty, fault
from estimator.production.closed_network import cycle_rates
from estimator.production.lifts import Lift, check_shares
from estimator.production.mixed_carriers import mixed_rates
from estimator.production.working_system import WorkingSystem, with_carriers

Values = npt.NDArray[np.float64]

TRAVEL = ""


@dataclass(frozen=True)
class Outputs:
    """Outputs of a system, each a float array of shape (n,) [unit of the load/hr]."""

    at_best_per_hr: Values
    with_waiting_per_hr: Values


def minutes_by_place(system: WorkingSystem) -> dict[str, Values]:
    """Return the minutes of one cycle at each station, and of travel under an empty name.

    Examples
    --------
    >>> from estimator.production.cycle import Load, Step
    >>> from estimator.production.working_system import Station
    >>> cycle = (Step("load", 6.0, "loader"), Step("haul", 10.0), Step("return", 8.0))
    >>> trucks = WorkingSystem("t", 3, Load(12.0, "cy"), cycle, (Station("loader"),))
    >>> {place: float(minutes) for place, minutes in minutes_by_place(trucks).items()}
    {'loader': 6.0, '': 18.0}
    """
    places = (*(station.name for station in system.stations), TRAVEL)
    return {place: np.asarray(float(system.minutes_at(place))) for place in places}


def many_outputs(
    systems: Sequence[WorkingSystem],
    minutes: Sequence[Mapping[str, Values]],
    placing: str = "",
    lifts: Sequence[Lift] = (),
    carriers: Sequence[Values | None] = (),
) -> Outputs:
    """Return the outputs of one or two kinds of carrier together for many sets of times.

    Parameters
    ----------
    systems : sequence of WorkingSystem
        One a kind: carriers, load, stations and efficiency; the times of its steps are not used.
    minutes : sequence of mapping of str to float array, each of shape (n,) or () [min]
        Of each kind, as `minutes_by_place` returns them, some of them varied.
    placing : str
        The station that lifts slow.
    lifts : sequence of Lift
        Shares that add up to 1; none for a fill that goes at one pace.
    carriers : sequence of float array, shape (n,) or (), or None
        Of each kind in whole numbers; None, or nothing at all, for as many as the system has.

    Raises
    ------
    ProductionFaulty
        If a station's time is not above zero, no time of the cycle is, or the shares of the lifts
        do not add up to 1.

    Notes
    -----
    At best the least of 60 E N / C and 60 E c (1 - others) / s of each station, with waiting that
    of `cycle_rates`; of two kinds as in `mixed_rates`. Over lifts, hours add up: the harmonic mean
    of the outputs by share.

    Examples
    --------
    >>> from estimator.production.cycle import Load, Step
    >>> from estimator.production.working_system import Station
    >>> cycle = (Step("load", 6.0, "loader"), Step("haul, return", 18.0))
    >>> trucks = WorkingSystem("t", 3, Load(12.0, "cy"), cycle, (Station("loader"),))
    >>> times = minutes_by_place(trucks) | {"": np.array([18.0, 6.0])}
    >>> many_outputs([trucks], [times]).at_best_per_hr
    array([ 90., 120.])
    """
    if any(one is not None for one in carriers):
        return _with_carriers(systems, minutes, placing, lifts, carriers)
    if not lifts:
        return _at_one_pace(systems, minutes)
    check_shares(lifts)
    slowed = [
        _at_one_pace(systems, [_slowed(one, placing, lift.speed_factor) for one in minutes])
        for lift in lifts
    ]
    shares = [lift.share for lift in lifts]
    return Outputs(
        _over_lifts([one.at_best_per_hr for one in slowed], shares),
        _over_lifts([one.with_waiting_per_hr for one in slowed], shares),
    )


def _slowed(minutes: Mapping[str, Values], placing: str, speed: float) -> Mapping[str, Values]:
    return {**minutes, placing: minutes[placing] / speed} if placing in minutes else minutes


def _with_carriers(
    systems: Sequence[WorkingSystem],
    minutes: Sequence[Mapping[str, Values]],
    placing: str,
    lifts: Sequence[Lift],
    carriers: Sequence[Values | None],
) -> Outputs:
    """Return the outputs of systems for each of several numbers of carriers."""
    counts = [
        np.asarray(one.carriers) if count is None else count
        for one, count in zip(systems, carriers, strict=True)
    ]
    shape = np.broadcast_shapes(
        *(one.shape for one in counts), *(t.shape for one in minutes for t in one.values())
    )
    counted = np.stack([np.broadcast_to(one, shape) for one in counts], axis=-1)
    best, waiting = np.empty(shape), np.empty(shape)
    for numbers in np.unique(counted.reshape(-1, len(systems)), axis=0).tolist():
        here = np.all(counted == numbers, axis=-1)
        some = [{p: np.broadcast_to(t, shape)[here] for p, t in one.items()} for one in minutes]
        there = [with_carriers(one, int(n)) for one, n in zip(systems, numbers, strict=True)]
        one = many_outputs(there, some, placing, lifts)
        best[here], waiting[here] = one.at_best_per_hr, one.with_waiting_per_hr
    return Outputs(best, waiting)


def _over_lifts(outputs: Sequence[Values], shares: Sequence[float]) -> Values:
    hours = [share / output for share, output in zip(shares, outputs, strict=True)]
    return np.asarray(1.0 / np.sum(hours, axis=0))


def _at_one_pace(
    systems: Sequence[WorkingSystem], minutes: Sequence[Mapping[str, Values]]
) -> Outputs:
    for system, times in zip(systems, minutes, strict=True):
        _check_times(system, times)
    if len(systems) > 1:
        rates = mixed_rates(systems, minutes)
        each = zip(systems, rates.cycles_per_minute, strict=True)
        waiting = sum(one.per_hr(1.0) * cycles for one, cycles in each)
        return Outputs(rates.at_best_per_hr, np.asarray(waiting))
    return _of_one_kind(systems[0], minutes[0])


def _check_times(system: WorkingSystem, minutes: Mapping[str, Values]) -> None:
    at_stations = [minutes[station.name] for station in system.stations]
    cycle = np.sum(np.broadcast_arrays(minutes[TRAVEL], *at_stations), axis=0)
    if np.any(cycle <= 0.0) or any(np.any(one <= 0.0) for one in at_stations):
        raise fault(
            ProductionFaulty,
            "a step takes no time: nothing limits the output",
            "every station takes more than zero minutes",
            system.name,
        )


def _of_one_kind(system: WorkingSystem, minutes: Mapping[str, Values]) -> Outputs:
    at_stations = [minutes[station.name] for station in system.stations]
    limits = [system.carriers / np.sum(np.broadcast_arrays(minutes[TRAVEL], *at_stations), axis=0)]
    for station, time in zip(system.stations, at_stations, strict=True):
        limits.append(station.places * (1.0 - station.taken_by_others) / time)
    closed = [one.with_minutes(1.0) for one in system.stations]
    with_waiting = cycle_rates(system.carriers, closed, at_stations, minutes[TRAVEL])
    per_hr = system.per_hr(1.0)
    return Outputs(
        np.asarray(per_hr * np.min(np.broadcast_arrays(*limits), axis=0)),
        np.asarray(per_hr * with_waiting),
    )
