"""The way in and out as stations: who holds it, and for how long.

A door, a ramp or a haul road lets one machine through at a time. Whether that limits the work
depends on where machines can pass each other.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from estimator.errors import Faults, ProductionFaulty, did_you_mean, quoted
from estimator.production.closed_network import MOST_PLACES
from estimator.production.cycle import CycleStep, FlowStep, TravelStep
from estimator.production.number_check import Count, check_count, number_inputs
from estimator.production.working_system import Station, WorkingSystem

WAYS = ("one way", "no passing", "passing place", "turning inside")
"""In at one end and out at the other; one at a time in and out again; the lane in two halves with a
place between them where machines pass; room inside for several, who turn there."""

LANE, OUTER, INNER, INSIDE = "lane", "lane outside", "lane inside", "room inside"
WAY_IN, WAY_OUT = "way in", "way out"

_OWN = {LANE, OUTER, INNER, INSIDE, WAY_IN, WAY_OUT}


@number_inputs()
def with_passage(
    system: WorkingSystem, way: str, drive_in: str, drive_out: str, room: Count = 1
) -> WorkingSystem:
    """Return the same system with its way in and out as stations.

    Parameters
    ----------
    system : WorkingSystem
        As it works where nobody is in another's way.
    way : str
        One of `WAYS`.
    drive_in, drive_out : str
        Steps of the cycle that drive through, the first before the second; neither at a station.
    room : int
        With `turning inside`: how many machines there is room for beyond the lane.

    Raises
    ------
    ProductionFaulty
        If the way is not known, a step is not there, needs a station already or comes in the wrong
        order, there is no room, or the lane has the name of another station.

    Notes
    -----
    `one way`: the way in and the way out are a station each. `no passing`: a machine holds the lane
    from the way in to the way out, with all it does between. `passing place`: each half of the lane
    is held by itself, the outer one for half of each drive, the inner one from there and back with
    all that is done inside. `turning inside`: the lane is held for each drive, and a place inside
    for what is done between. What is done inside at a station of its own keeps it where several
    machines can be there; with `no passing` and `passing place` there is one, and it waits for
    nobody. Machines wait before a station, never in it.

    Examples
    --------
    >>> from estimator.production.bottleneck import balance
    >>> from estimator.production.cycle import Load, Step
    >>> cycle = (Step("load", 2.0), Step("drive in", 1.0), Step("tip", 3.0), Step("drive out", 1.0))
    >>> loaders = WorkingSystem("loaders", 3, Load(0.7, "ton"), cycle)
    >>> for way in WAYS:
    ...     output = balance(with_passage(loaders, way, "drive in", "drive out", room=2))
    ...     print(way, round(output.output_per_hr, 1), *output.bottlenecks)
    one way 18.0 carriers
    no passing 8.4 lane
    passing place 10.5 lane inside
    turning inside 18.0 carriers
    """
    _check(system, way, drive_in, drive_out, room)
    names = [step.name for step in system.cycle]
    first, last = names.index(drive_in), names.index(drive_out)
    inside = system.cycle[first + 1 : last]
    through = tuple(_through(way, system.cycle[first], inside, system.cycle[last]))
    cycle = (*system.cycle[:first], *through, *system.cycle[last + 1 :])
    return replace(system, cycle=cycle, stations=_stations(cycle, system, room))


def _through(
    way: str, there: CycleStep, inside: tuple[CycleStep, ...], back: CycleStep
) -> Iterator[CycleStep]:
    if way == "no passing":
        yield from _at(LANE, there, *inside, back)
    elif way == "passing place":
        yield _half(there, OUTER)
        yield from _at(INNER, _half(there, INNER), *inside, _half(back, INNER))
        yield _half(back, OUTER)
    else:
        door_in, door_out = (LANE, LANE) if way == "turning inside" else (WAY_IN, WAY_OUT)
        yield from _at(door_in, there)
        for step in inside:
            is_free = way == "turning inside" and not step.station
            yield replace(step, station=INSIDE) if is_free else step
        yield from _at(door_out, back)


def _at(station: str, *steps: CycleStep) -> Iterator[CycleStep]:
    return (replace(step, station=station) for step in steps)


def _half(step: CycleStep, lane: str) -> CycleStep:
    """Return half of a drive, at its half of the lane."""
    half = replace(step, name=f"{step.name}, {lane}", station=lane)
    if isinstance(half, TravelStep):
        return replace(half, distance_ft=half.distance_ft / 2.0)
    if isinstance(half, FlowStep):
        return replace(half, rate_per_hr=half.rate_per_hr * 2.0)
    return replace(half, minutes=half.minutes / 2.0)


def _stations(
    cycle: tuple[CycleStep, ...], system: WorkingSystem, room: int
) -> tuple[Station, ...]:
    """Return the stations of a cycle: those of the system that it still uses, then the new ones."""
    known = {one.name: one for one in system.stations}
    names = dict.fromkeys([*known, *(step.station for step in cycle)])
    used = {step.station for step in cycle if step.station}
    return tuple(
        known.get(name) or Station(name, room if name == INSIDE else 1)
        for name in names
        if name in used
    )


def _check(system: WorkingSystem, way: str, drive_in: str, drive_out: str, room: int) -> None:
    faults = Faults()
    if way not in WAYS:
        faults.add("way", f"{quoted(way)} is not known", did_you_mean(way, WAYS))
    names = [step.name for step in system.cycle]
    for name in (drive_in, drive_out):
        _check_drive(system, names, name, faults)
    if drive_in in names and drive_out in names and names.index(drive_in) >= names.index(drive_out):
        faults.add(quoted(drive_out), f"does not come after {quoted(drive_in)}", "swap them")
    for name in {one.name for one in system.stations} & _OWN:
        faults.add(f"station {quoted(name)}", "is what the passage calls its own", "rename it")
    faults.raise_if_any(ProductionFaulty)
    check_count("room", room, MOST_PLACES)


def _check_drive(system: WorkingSystem, names: list[str], name: str, faults: Faults) -> None:
    if name not in names:
        faults.add("passage", f"no step {quoted(name)}", did_you_mean(name, names))
    elif system.cycle[names.index(name)].station:
        faults.add(f"step {quoted(name)}", "needs a station already", "leave it to the passage")
