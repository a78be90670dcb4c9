"""A working system: carriers that go round through stations, and the hours they do it.

How stone comes into a pit, concrete into a form or debris out of a cellar is always the same
picture: some carriers, each with a load, a cycle of steps, and stations that only so many of them
can use at once. A skid steer that wheels stone in, a conveyor truck that throws it in and
goes for more, trucks that stand while a pump empties them, and hands with barrows at a
chute differ in their steps and stations only.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from estimator.errors import (
    Faults,
    ProductionFaulty,
    did_you_mean,
    fault,
    quoted,
)
from estimator.production.closed_network import MOST_CARRIERS, ClosedStation
from estimator.production.cycle import CycleStep, FlowStep, Load, TravelStep, cycle_minutes
from estimator.production.number_check import (
    Count,
    Number,
    check_count,
    check_numbers,
    faults_under,
    number_inputs,
)

MOST_STEPS = 50


@number_inputs()
@dataclass(frozen=True)
class Station:
    """What only so many carriers can use at once: a loader, a ramp, an opening, a placing crew.

    Parameters
    ----------
    name : str
        As the steps name it.
    places : int
        How many carriers it serves at once.
    taken_by_others : float
        Share of its time that other customers take, 0 to less than 1: a supply plant seldom works
        for one site alone.

    Raises
    ------
    ProductionFaulty
        If a count is absurd or nothing is left for these carriers.
    """

    name: str
    places: Count = 1
    taken_by_others: Number = 0.0

    def __post_init__(self) -> None:
        faults = Faults()
        with faults_under(f"station {quoted(self.name)}", faults):
            self.with_minutes(1.0)
        faults.raise_if_any(ProductionFaulty)

    def with_minutes(self, minutes: float) -> ClosedStation:
        """Return the station as a network of queues sees it, held so long in each cycle [min]."""
        return ClosedStation(minutes, self.places, self.taken_by_others)


@number_inputs()
@dataclass(frozen=True)
class WorkingSystem:
    """Carriers, what they bring, their cycle, its stations, and the working hours.

    Parameters
    ----------
    name : str
        Of the way of working.
    carriers : int
        How many go round, 1 to 500.
    load : Load
        What each brings in a cycle.
    cycle : tuple of Step, FlowStep or TravelStep
        From one load to the next.
    stations : tuple of Station
        Each is used by at least one step; their order does not matter.
    efficiency : float
        Working share of an hour, above 0 to 1: 50/60 for the fifty-minute hour. All outputs per
        hour are multiplied by it.
    shift_hr : float [hr/day]
        Working hours of a day, 0 to 24.

    Raises
    ------
    ProductionFaulty
        With every fault at once: no steps, no carriers, a share outside 0 to 1, a step at an
        unknown station, a station that nobody uses, a flow that does not fit the load's unit.
    """

    name: str
    carriers: Count
    load: Load
    cycle: tuple[CycleStep, ...]
    stations: tuple[Station, ...] = ()
    efficiency: Number = 1.0
    shift_hr: Number = 8.0

    def __post_init__(self) -> None:
        faults = Faults()
        with faults_under("", faults):
            check_count("carriers", self.carriers, MOST_CARRIERS)
        with faults_under("", faults):
            check_numbers(efficiency=self.efficiency, fractions=("efficiency",))
            if self.efficiency == 0.0:
                remedy = "50/60 for a fifty-minute hour"
                faults.add("efficiency", "is zero: nothing gets done", remedy)
        with faults_under("", faults):
            check_numbers(shift_hr=self.shift_hr)
            if self.shift_hr > 24.0:
                faults.add("shift_hr", "is above 24", "enter the working hours of one day")
        _check_cycle(self, faults)
        _check_stations(self, faults)
        placed = Faults()
        with faults_under(quoted(self.name), placed):
            faults.raise_if_any(ProductionFaulty)
        placed.raise_if_any(ProductionFaulty)

    @property
    def cycle_minutes(self) -> float:
        """Time of one cycle with no waiting anywhere [min]."""
        return cycle_minutes(self.cycle, self.load)

    @property
    def travel_minutes(self) -> float:
        """Time of one cycle at no station [min]."""
        return self.minutes_at("")

    def minutes_at(self, station: str) -> float:
        """Return the time that one carrier holds a place of the station in each cycle [min].

        Steps at the same station add up.
        """
        return sum(one.minutes_for(self.load) for one in self.cycle if one.station == station)

    def per_hr(self, cycles_per_minute: float) -> float:
        """Return the output of so many cycles in a working minute [unit/hr]."""
        return 60.0 * self.efficiency * self.load.size * cycles_per_minute


def with_carriers(system: WorkingSystem, carriers: Count) -> WorkingSystem:
    """Return the same system with another number of carriers.

    Raises
    ------
    ProductionFaulty
        If the number is below 1 or absurd.
    """
    return replace(system, carriers=carriers)


@number_inputs()
def slowed_at(system: WorkingSystem, station: str, speed_factor: Number) -> WorkingSystem:
    """Return the same system with one station at another speed.

    Parameters
    ----------
    system : WorkingSystem
        As it works in the open.
    station : str
        The one that is slower.
    speed_factor : float
        0.5 takes twice as long at each of its steps.

    Raises
    ------
    ProductionFaulty
        If the factor is not above zero, or no such station is there.

    Examples
    --------
    >>> belt = FlowStep("throw", 45.0, "ton", "opening")
    >>> trucks = WorkingSystem("belt", 2, Load(18.0, "ton"), (belt,), (Station("opening"),))
    >>> slowed_at(trucks, "opening", 0.5).cycle_minutes
    48.0
    """
    check_numbers(speed_factor=speed_factor)
    known = [one.name for one in system.stations]
    if station not in known:
        raise fault(
            ProductionFaulty, f"no station {quoted(station)}", did_you_mean(station, known), "slow"
        )
    slower = (
        _slowed(step, speed_factor) if step.station == station else step for step in system.cycle
    )
    return replace(system, cycle=tuple(slower))


def _slowed(step: CycleStep, speed_factor: float) -> CycleStep:
    if isinstance(step, FlowStep):
        return replace(step, rate_per_hr=step.rate_per_hr * speed_factor)
    if isinstance(step, TravelStep):
        return replace(step, speed_mph=step.speed_mph * speed_factor)
    return replace(step, minutes=step.minutes / speed_factor)


def _check_cycle(system: WorkingSystem, faults: Faults) -> None:
    if not system.cycle:
        faults.add("cycle", "has no steps: nothing limits the output", "enter what takes time")
    if len(system.cycle) > MOST_STEPS:
        faults.add("cycle", f"has more than {MOST_STEPS} steps", "take small ones together")
        return
    known = {one.name for one in system.stations}
    for step in system.cycle:
        with faults_under("", faults):
            step.minutes_for(system.load)
        if step.station and step.station not in known:
            faults.add(
                f"step {quoted(step.name)}",
                f"needs the unknown station {quoted(step.station)}",
                did_you_mean(step.station, known, "enter the station"),
            )


def _check_stations(system: WorkingSystem, faults: Faults) -> None:
    used = {step.station for step in system.cycle}
    seen: set[str] = set()
    for station in system.stations:
        where = f"station {quoted(station.name)}"
        if not station.name:
            faults.add("station", "has no name", "steps find it by its name")
        elif station.name in seen:
            faults.add(where, "is listed twice", "one station with two places is another thing")
        elif station.name not in used:
            faults.add(where, "is used by no step", "name it in a step, or leave it out")
        seen.add(station.name)
