"""Reading the working system of a method: carriers, load, cycle, stations, lifts, who is hired."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from decimal import Decimal

from estimator.assemblies.assembly import Assembly
from estimator.errors import Faults, quoted
from estimator.production.cycle import CycleStep
from estimator.production.lifts import Lift, check_shares
from estimator.production.mixed_carriers import check_mixture
from estimator.production.passages import INSIDE, with_passage
from estimator.production.working_system import Station, WorkingSystem
from estimator.quantity.measures import Measure
from estimator.quantity.units import unit
from estimator.scope.input_value import InputValue
from estimator.scope.located import Located, Section, Text
from estimator.scope.methods.cycle_reader import PER_HOUR, CycleReader
from estimator.scope.methods.method import Brought, Hired, Pile, Production

PRODUCTION_KEYS = (
    "carrier", "carriers", "load", "cycle", "stations", "efficiency", "placing", "lifts", "hired",
    "each carrier brings", "passage", "beside", "pile",
)  # fmt: skip
KIND_KEYS = (
    "carrier", "carriers", "load", "cycle", "hired", "each carrier brings", "passage",
)  # fmt: skip
PILE_KEYS = ("holds", "comes", "hired")
PASSAGE_KEYS = ("way", "in", "out", "room")
CARRIERS, BRINGS, BESIDE, PILE = "carriers", "each carrier brings", "beside", "pile"

_USUAL_CARRIER = "carrier"


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


@dataclass(frozen=True)
class _Site:
    """What all kinds of carrier share: stations, the working share of an hour, where lifts slow."""

    stations: tuple[Station, ...]
    efficiency: float
    placing: str
    has_two_kinds: bool

    def stations_of(self, cycle: tuple[CycleStep, ...]) -> tuple[Station, ...]:
        """Return the stations of one kind: all of them, or those of two kinds that it passes."""
        used = {step.station for step in cycle}
        return tuple(one for one in self.stations if one.name in used or not self.has_two_kinds)


def read_production(written: Located, of: SystemOf, faults: Faults) -> Production | None:
    """Return the system that a method's key `production` describes, or None with faults noted."""
    return _ProductionReader(faults).production(written, of)


class _ProductionReader(CycleReader):
    def production(self, written: Located, of: SystemOf) -> Production | None:
        section = self.section(written, "production", PRODUCTION_KEYS)
        noted = len(self.faults.entries)
        stations = tuple(self.stations(section))
        lifts = tuple(self.lifts(section))
        efficiency = self.number(section, "efficiency", unit("fraction"), 1.0)
        placing = self.placing(section, stations, lifts)
        site = _Site(stations, efficiency, placing, BESIDE in section.entries)
        pile = self.pile(section, of, lifts)
        kind, beside = self.kind(section, of, site, noted), self.beside(section, of, site)
        if kind is None or len(self.faults.entries) > noted:
            return None
        kind = replace(kind, placing=placing, lifts=lifts, beside=beside, pile=pile)
        self.check_kinds(section, kind, stations)
        return kind if len(self.faults.entries) == noted else None

    def kind(self, section: Section, of: SystemOf, site: _Site, noted: int) -> Production | None:
        """Return one kind of carrier, or None where faults are noted, of it or before."""
        load = self.load(section, of.assembly)
        cycle = tuple(self.steps(section))
        carriers = self.count(section, CARRIERS, 1)
        hired = tuple(self.hired(section, of.resources))
        brings = self.brings(section, of)
        if len(self.faults.entries) > noted or load is None:
            return None
        system = self.tried(
            section.where, "production", WorkingSystem, of.method, carriers, load, cycle,
            site.stations_of(cycle), site.efficiency, of.shift_hr,
        )  # fmt: skip
        carrier = self.text(section, "carrier", required=False) or _USUAL_CARRIER
        if system is not None and "passage" in section.entries:
            system = self.passed(section.entries["passage"], system, site.placing)
        if system is None:
            return None
        production = Production(carrier, system, hired, brings=brings)
        self.check_machines(section, production, of)
        return production

    def beside(self, section: Section, of: SystemOf, site: _Site) -> Production | None:
        """Return the second kind of carrier; its steps have its name: `single axle haul`."""
        if BESIDE not in section.entries:
            return None
        written = self.section(section.entries[BESIDE], BESIDE, KIND_KEYS)
        carrier, noted = self.text(written, "carrier"), len(self.faults.entries)
        kind = self.kind(written, of, site, noted)
        if kind is None:
            return None
        cycle = tuple(replace(one, name=f"{carrier} {one.name}") for one in kind.system.cycle)
        return replace(kind, system=replace(kind.system, name=carrier, cycle=cycle))

    def check_kinds(
        self, section: Section, production: Production, stations: tuple[Station, ...]
    ) -> None:
        """Refuse two kinds of carrier that cannot be told apart or be at work together."""
        if production.beside is None:
            return
        where = section.entries[BESIDE].where
        names = [one.carrier for one in production.kinds]
        if names[0] == names[1]:
            self.faults.add(where, f"both kinds are called {quoted(names[0])}", "name each carrier")
        steps = [step.name for one in production.systems for step in one.cycle]
        for name in sorted({name for name in steps if steps.count(name) > 1}):
            self.faults.add(where, f"repeats step {quoted(name)}", "name each step")
        loads = [one.load.unit for one in production.systems]
        if loads[0] != loads[1]:
            what = f"the {names[1]}'s load is in {loads[1]}, the {names[0]}'s in {loads[0]}"
            self.faults.add(where, what, "write both in one unit")
            return
        used = {step.station for one in production.systems for step in one.cycle}
        for station in stations:
            if station.name not in used:
                what = f"station {quoted(station.name)} is used by no step"
                self.faults.add(section.where, what, "name it in a step, or leave it out")
        self.tried(where, BESIDE, check_mixture, production.systems)

    def pile(self, section: Section, of: SystemOf, lifts: tuple[Lift, ...]) -> Pile | None:
        """Return the pile that the carriers take from, if it has a limit."""
        if PILE not in section.entries:
            return None
        written = self.section(section.entries[PILE], PILE, PILE_KEYS)
        holds = self.measured(written, "holds", of.assembly.unit, required=True)
        comes = self.measured(
            written, "comes", unit(f"{of.assembly.unit.name}{PER_HOUR}"), required=True
        )
        hired = tuple(self.hired(written, of.resources))
        if lifts:
            what = "a fill whose lifts go at different speeds takes from its pile at no one pace"
            self.faults.add(written.where, what, "leave out the lifts, or make each its own item")
        for one in hired:
            if one.number is None:
                what = f"{one.resource} comes to the pile, and not with the carriers"
                self.faults.add(written.where, what, f"say how many: {one.resource}: 3")
        for key, measure in (("holds", holds), ("comes", comes)):
            if measure is not None and not measure.value:
                self.faults.add(written.entries[key].where, f"{key} is zero: nothing can be placed")
        if holds is None or comes is None:
            return None
        return Pile(_as_input(holds), _as_input(comes), hired)

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
            hands = ", ".join(f"{code}: 1" for code in (*of.operators, *few))
            self.faults.add(
                section.entries[CARRIERS].where,
                f"{quoted(of.method)} has {carriers} carriers, but its crew has too few {few[0]}",
                f"write {BRINGS}: {{{hands}}}, or {BRINGS}: {{}} if one serves them all",
            )

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


def _as_input(measure: Measure) -> InputValue:
    return InputValue(measure.value * measure.unit.factor, measure.text)
