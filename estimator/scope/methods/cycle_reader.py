"""Reading what goes round: loads, the steps of a cycle, stations, lifts."""

from __future__ import annotations

from collections.abc import Iterator

from estimator.assemblies.assembly import Assembly
from estimator.errors import quoted
from estimator.production.cycle import CycleStep, FlowStep, Load, Step, TravelStep
from estimator.production.lifts import Lift
from estimator.production.working_system import Station
from estimator.quantity.measures import Measure
from estimator.quantity.units import Unit, unit
from estimator.scope.located import Section
from estimator.scope.located_reader import LocatedReader

STEP_KEYS = ("step", "time", "distance", "speed", "flow", "station")
STATION_KEYS = ("name", "places", "taken_by_others")
LIFT_KEYS = ("name", "share", "speed")
PER_HOUR = "/hr"

_ONE_OF = "a step takes time, or distance and speed, or flow"
_MINUTE, _FOOT, _SPEED = unit("min"), unit("ft"), unit("mile/hr")


class CycleReader(LocatedReader):
    """Reads the parts of a working system; a fault is noted at its place."""

    def load(self, section: Section, assembly: Assembly) -> Load | None:
        """Return the load of a carrier, None with faults noted."""
        size = self.measured(section, "load", assembly.unit, required=True)
        if size is None:
            return None
        where = section.entries["load"].where
        return self.tried(where, "", Load, float(size.value), size.unit.name)

    def steps(self, section: Section) -> Iterator[CycleStep]:
        """Yield the steps of a cycle that can be read."""
        names: set[str] = set()
        for written in self.parts(section, "cycle"):
            one = self.section(written, "step", STEP_KEYS)
            step = self.tried(one.where, "", self.step, one)
            if step is not None:
                if step.name in names:
                    self.faults.add(one.where, f"repeats step {quoted(step.name)}")
                names.add(step.name)
                yield step

    def step(self, section: Section) -> CycleStep | None:
        """Return a step that is timed in one of three ways, None with faults noted."""
        name = self.text(section, "step")
        station = self.text(section, "station", required=False)
        ways = [key for key in ("time", "distance", "flow") if key in section.entries]
        if len(ways) != 1 or ("speed" in section.entries) != (ways == ["distance"]):
            self.faults.add(section.where, f"step {quoted(name)} is not timed in one way", _ONE_OF)
            return None
        timed = {"time": self._timed, "flow": self._flowing, "distance": self._travelling}
        return timed[ways[0]](section, name, station)

    def _timed(self, section: Section, name: str, station: str) -> CycleStep | None:
        time = self.measured(section, "time", _MINUTE, required=True)
        return None if time is None else Step(name, float(time.in_unit(_MINUTE)), station)

    def _travelling(self, section: Section, name: str, station: str) -> CycleStep | None:
        distance = self.measured(section, "distance", _FOOT, required=True)
        speed = self.measured(section, "speed", _SPEED, required=True)
        if distance is None or speed is None:
            return None
        feet, mph = float(distance.in_unit(_FOOT)), float(speed.in_unit(_SPEED))
        return TravelStep(name, feet, mph, station)

    def _flowing(self, section: Section, name: str, station: str) -> CycleStep | None:
        flow = self._flow(section)
        if flow is None:
            return None
        return FlowStep(name, float(flow.value), flow.unit.name.removesuffix(PER_HOUR), station)

    def _flow(self, section: Section) -> Measure | None:
        """Return a rate per hour in whatever its material is measured in."""
        text = self.text(section, "flow")
        where = section.entries["flow"].where
        wanted = self.tried(where, "flow", unit, text.rpartition(" ")[2])
        if wanted is None:
            return None
        if not wanted.name.endswith(PER_HOUR):
            self.faults.add(where, f"flow {quoted(text)} is not a quantity an hour", "45 ton/hr")
            return None
        return self.measured(section, "flow", wanted)

    def stations(self, section: Section) -> Iterator[Station]:
        """Yield the stations that can be read."""
        for written in self.parts(section, "stations", required=False):
            one = self.section(written, "station", STATION_KEYS)
            places = self.count(one, "places", 1)
            others = self.number(one, "taken_by_others", unit("fraction"), 0.0)
            name = self.text(one, "name")
            station = self.tried(one.where, "", Station, name, places, others)
            if station is not None:
                yield station

    def lifts(self, section: Section) -> Iterator[Lift]:
        """Yield the lifts that can be read."""
        for written in self.parts(section, "lifts", required=False):
            one = self.section(written, "lift", LIFT_KEYS)
            name = self.text(one, "name")
            share = self.number(one, "share", unit("fraction"), 0.0)
            speed = self.number(one, "speed", unit("fraction"), 1.0)
            lift = self.tried(one.where, "", Lift, name, share, speed)
            if lift is not None:
                yield lift

    def number(self, section: Section, key: str, wanted: Unit, usual: float) -> float:
        """Return a measure in the wanted unit; the usual one if it is not there."""
        measure = self.measured(section, key, wanted)
        return usual if measure is None else float(measure.in_unit(wanted))
