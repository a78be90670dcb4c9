"""Reading the working system of a method: carriers, load, cycle, stations, lifts, who is hired."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal

from estimator.assemblies.assembly import Assembly
from estimator.errors import Faults, quoted
from estimator.production.cycle import CycleStep, FlowStep, Load, Step, TravelStep
from estimator.production.lifts import Lift, check_shares
from estimator.production.passages import INSIDE, with_passage
from estimator.production.working_system import Station, WorkingSystem
from estimator.quantity.measures import Measure
from estimator.quantity.units import Unit, unit
from estimator.scope.located import Located, Section, Text
from estimator.scope.located_reader import LocatedReader
from estimator.scope.methods.method import Brought, Hired, Production

PRODUCTION_KEYS = (
    "carrier", "carriers", "load", "cycle", "stations", "efficiency", "placing", "lifts", "hired",
    "each carrier brings", "passage",
)  # fmt: skip
STEP_KEYS = ("step", "time", "distance", "speed", "flow", "station")
STATION_KEYS = ("name", "places", "taken_by_others")
LIFT_KEYS = ("name", "share", "speed")
PASSAGE_KEYS = ("way", "in", "out", "room")
CARRIERS, BRINGS = "carriers", "each carrier brings"

_USUAL_CARRIER = "carrier"
_ONE_OF = "a step takes time, or distance and speed, or flow"
_PER_HOUR = "/hr"
_MINUTE, _FOOT, _SPEED = unit("min"), unit("ft"), unit("mile/hr")


@dataclass(frozen=True)
class SystemOf:
    """Whose system it is: the method's name, what its assembly uses, and the scope's hours.

    Parameters
    ----------
    method : str
        Name of the method.
    assembly : Assembly
        That the method prices.
    resources : frozenset of str
        Of the assembly, those that are paid by the hour: who may be hired.
    members : frozenset of str
        Of the crew: who and what may come with a carrier.
    machines : mapping of str to Decimal
        Of these, the machines, and how many the crew has.
    shift_hr : float [hr/day]
        Length of the working day.
    """

    method: str
    assembly: Assembly
    resources: frozenset[str]
    members: frozenset[str]
    machines: Mapping[str, Decimal]
    shift_hr: float

    @property
    def operators(self) -> list[str]:
        """Members of the crew that drive a machine, by their name."""
        return sorted(code for code in self.members if "operator" in code)


def read_production(written: Located, of: SystemOf, faults: Faults) -> Production | None:
    """Return the system that a method's key `production` describes, or None with faults noted."""
    return _ProductionReader(faults).production(written, of)


class _ProductionReader(LocatedReader):
    def production(self, written: Located, of: SystemOf) -> Production | None:
        section = self.section(written, "production", PRODUCTION_KEYS)
        noted = len(self.faults.entries)
        load = self.load(section, of.assembly)
        cycle = tuple(self.steps(section))
        stations = tuple(self.stations(section))
        lifts = tuple(self.lifts(section))
        carriers = self.count(section, "carriers", 1)
        hired = tuple(self.hired(section, of.resources))
        brings = self.brings(section, of)
        efficiency = self.number(section, "efficiency", unit("fraction"), 1.0)
        placing = self.placing(section, stations, lifts)
        if len(self.faults.entries) > noted or load is None:
            return None
        system = self.tried(
            section.where, "production", WorkingSystem,
            of.method, carriers, load, cycle, stations, efficiency, of.shift_hr,
        )  # fmt: skip
        carrier = self.text(section, "carrier", required=False) or _USUAL_CARRIER
        if system is not None and "passage" in section.entries:
            system = self.passed(section.entries["passage"], system, placing)
        if system is None:
            return None
        production = Production(carrier, system, hired, placing, lifts, brings)
        self.check_machines(section, production, of)
        return production

    def passed(self, written: Located, system: WorkingSystem, placing: str) -> WorkingSystem | None:
        """Return a system with its way in and out as stations, or None with faults noted."""
        section = self.section(written, "passage", PASSAGE_KEYS)
        way, first, last = (self.text(section, key) for key in ("way", "in", "out"))
        room = self.count(section, "room", 1)
        if not (way and first and last):
            return None
        through = self.tried(section.where, "", with_passage, system, way, first, last, room)
        if through and "room" in section.entries and not through.minutes_at(INSIDE):
            self.faults.add(
                section.entries["room"].where, "room is held by no step of the cycle",
                "only with way: turning inside, for steps between that need no station",
            )  # fmt: skip
        if through and placing and placing not in [one.name for one in through.stations]:
            self.faults.add(
                section.where, f"the lane is held at the {placing}, which lifts slow by itself",
                "leave out the lifts, or find room inside",
            )  # fmt: skip
        return through

    def brings(self, section: Section, of: SystemOf) -> tuple[Brought, ...] | None:
        written = section.entries.get(BRINGS)
        if written is None:
            return None
        brought = self.section(written, BRINGS, tuple(sorted(of.members)))
        return tuple(
            Brought(resource, Decimal(self.count(brought, resource, 1)))
            for resource in brought.entries
            if resource in of.members
        )

    def check_machines(self, section: Section, production: Production, of: SystemOf) -> None:
        """Refuse carriers that the crew has too few machines for, unless it is said who comes."""
        carriers = production.system.carriers
        few = [code for code, number in of.machines.items() if number < carriers]
        if few and carriers > 1 and not production.says_who_comes:
            said = ", ".join(f"{code}: 1" for code in (*of.operators, *few))
            self.faults.add(
                section.entries[CARRIERS].where,
                f"{quoted(of.method)} has {carriers} carriers, but its crew has too few {few[0]}",
                f"write {BRINGS}: {{{said}}}, or {BRINGS}: {{}} if one serves them all",
            )

    def load(self, section: Section, assembly: Assembly) -> Load | None:
        size = self.measured(section, "load", assembly.unit, required=True)
        if size is None:
            return None
        where = section.entries["load"].where
        return self.tried(where, "", Load, float(size.value), size.unit.name)

    def steps(self, section: Section) -> Iterator[CycleStep]:
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
        name = self.text(section, "step")
        station = self.text(section, "station", required=False)
        ways = [key for key in ("time", "distance", "flow") if key in section.entries]
        if len(ways) != 1 or ("speed" in section.entries) != (ways == ["distance"]):
            self.faults.add(section.where, f"step {quoted(name)} is not timed in one way", _ONE_OF)
            return None
        timed = {"time": self.timed, "flow": self.flowing, "distance": self.travelling}
        return timed[ways[0]](section, name, station)

    def timed(self, section: Section, name: str, station: str) -> CycleStep | None:
        time = self.measured(section, "time", _MINUTE, required=True)
        return None if time is None else Step(name, float(time.in_unit(_MINUTE)), station)

    def travelling(self, section: Section, name: str, station: str) -> CycleStep | None:
        distance = self.measured(section, "distance", _FOOT, required=True)
        speed = self.measured(section, "speed", _SPEED, required=True)
        if distance is None or speed is None:
            return None
        feet, mph = float(distance.in_unit(_FOOT)), float(speed.in_unit(_SPEED))
        return TravelStep(name, feet, mph, station)

    def flowing(self, section: Section, name: str, station: str) -> CycleStep | None:
        flow = self.flow(section)
        if flow is None:
            return None
        return FlowStep(name, float(flow.value), flow.unit.name.removesuffix(_PER_HOUR), station)

    def flow(self, section: Section) -> Measure | None:
        """Return a rate per hour in whatever its material is measured in."""
        text = self.text(section, "flow")
        where = section.entries["flow"].where
        wanted = self.tried(where, "flow", unit, text.rpartition(" ")[2])
        if wanted is None:
            return None
        if not wanted.name.endswith(_PER_HOUR):
            self.faults.add(where, f"flow {quoted(text)} is not a quantity an hour", "45 ton/hr")
            return None
        return self.measured(section, "flow", wanted)

    def stations(self, section: Section) -> Iterator[Station]:
        for written in self.parts(section, "stations", required=False):
            one = self.section(written, "station", STATION_KEYS)
            places = self.count(one, "places", 1)
            others = self.number(one, "taken_by_others", unit("fraction"), 0.0)
            name = self.text(one, "name")
            station = self.tried(one.where, "", Station, name, places, others)
            if station is not None:
                yield station

    def lifts(self, section: Section) -> Iterator[Lift]:
        for written in self.parts(section, "lifts", required=False):
            one = self.section(written, "lift", LIFT_KEYS)
            name = self.text(one, "name")
            share = self.number(one, "share", unit("fraction"), 0.0)
            speed = self.number(one, "speed", unit("fraction"), 1.0)
            lift = self.tried(one.where, "", Lift, name, share, speed)
            if lift is not None:
                yield lift

    def placing(
        self, section: Section, stations: tuple[Station, ...], lifts: tuple[Lift, ...]
    ) -> str:
        if lifts:
            self.tried(section.where, "", check_shares, lifts)
            self.text(section, "placing")
        return self.known(section, "placing", "", [station.name for station in stations])

    def hired(self, section: Section, resources: frozenset[str]) -> Iterator[Hired]:
        written = section.entries.get("hired")
        if written is None:
            return
        hired = self.section(written, "hired", tuple(sorted(resources)))
        for resource, number in hired.entries.items():
            if resource not in resources:
                continue
            if isinstance(number, Text) and number.value.strip() == CARRIERS:
                yield Hired(resource, None)
            else:
                yield Hired(resource, Decimal(self.count(hired, resource, 1)))

    def number(self, section: Section, key: str, wanted: Unit, usual: float) -> float:
        """Return a measure in the wanted unit; the usual one if it is not there."""
        measure = self.measured(section, key, wanted)
        return usual if measure is None else float(measure.in_unit(wanted))
