"""A way to do the work of an item: its assembly, inputs and crew, and the system that does it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import cached_property

from estimator.assemblies.assembly import CREW_HOURS, Assembly
from estimator.production.cycle import CycleStep, cycle_minutes
from estimator.production.delays import Delays
from estimator.production.lifts import Lift
from estimator.production.many_outputs import Outputs, many_outputs, minutes_by_place
from estimator.production.mixed_carriers import mixed_output
from estimator.production.working_system import WorkingSystem, slowed_at
from estimator.quantity.formulas import Formula
from estimator.scope.input_value import InputValue
from estimator.scope.methods.passage import Size, obstacle

CARRIERS_OF_KINDS = ("carriers", "carriers_beside")
"""What formulas call the number of each kind of carrier."""


@dataclass(frozen=True)
class Hired:
    """A resource that is paid for every hour of the work, waiting or not.

    Parameters
    ----------
    resource : str
        One of the assembly or its crew.
    number : Decimal or None
        How many are there; None for as many as there are carriers.
    """

    resource: str
    number: Decimal | None


@dataclass(frozen=True)
class Brought:
    """A member of the crew that comes with each carrier: its operator, the machine itself.

    Parameters
    ----------
    resource : str
        One of the crew.
    number : Decimal
        How many come with one carrier.
    """

    resource: str
    number: Decimal


@dataclass(frozen=True)
class Pile:
    """What lies outside between those who bring it there and the carriers that take it from there.

    Parameters
    ----------
    holds : InputValue
        The most that may lie there; in the kind of the assembly's unit.
    comes : InputValue
        What is brought in an hour while there is room.
    hired : tuple of Hired
        Who is paid until the last of it is there.
    """

    holds: InputValue
    comes: InputValue
    hired: tuple[Hired, ...] = ()


@dataclass(frozen=True)
class Production:
    """The system that does the work of a method.

    Parameters
    ----------
    carrier : str
        What goes round, in a word or two: `truck`.
    system : WorkingSystem
        Carriers, steps and stations.
    hired : tuple of Hired
        Who is paid by the hour of it.
    placing : str
        The station that lifts slow; empty without lifts.
    lifts : tuple of Lift
        Shares of the fill that are placed at other speeds.
    brings : tuple of Brought or None
        What comes with each carrier; None where nothing is said.
    beside : Production or None
        A second kind of carrier at the same stations, with its own load, cycle and people.
    pile : Pile or None
        What the carriers take from, if it has a limit.
    """

    carrier: str
    system: WorkingSystem
    hired: tuple[Hired, ...] = ()
    placing: str = ""
    lifts: tuple[Lift, ...] = ()
    brings: tuple[Brought, ...] | None = None
    beside: Production | None = None
    pile: Pile | None = None

    @property
    def kinds(self) -> tuple[Production, ...]:
        """Each kind of carrier: this one, and the one beside it."""
        return (self,) if self.beside is None else (self, self.beside)

    @property
    def counted(self) -> tuple[tuple[str, Production], ...]:
        """Each kind of carrier, and what formulas call the number of it."""
        return tuple(zip(CARRIERS_OF_KINDS, self.kinds, strict=False))

    @property
    def systems(self) -> tuple[WorkingSystem, ...]:
        """The system of each kind of carrier."""
        return tuple(one.system for one in self.kinds)

    @property
    def says_who_comes(self) -> bool:
        """Whether it is known what one more carrier brings along: said, or hired with it."""
        return self.brings is not None or any(one.number is None for one in self.hired)

    @property
    def turnaround_minutes(self) -> float:
        """Time from one load of a carrier to its next, without waiting [min]."""
        return self.system.cycle_minutes

    @cached_property
    def outputs(self) -> Outputs:
        """What the system puts out with the times as they are written."""
        minutes = [minutes_by_place(one) for one in self.systems]
        return many_outputs(self.systems, minutes, self.placing, self.lifts)

    @cached_property
    def shares(self) -> tuple[float, ...]:
        """The share of the work that each kind of carrier brings, with waiting lines."""
        if self.beside is None:
            return (1.0,)
        lifts = self.lifts or (Lift("all", 1.0),)
        brought = [self._brought(one) for one in lifts]
        each = [
            sum(lift.share * lot[kind] / sum(lot) for lift, lot in zip(lifts, brought, strict=True))
            for kind in range(len(self.kinds))
        ]
        return tuple(each)

    def _brought(self, lift: Lift) -> list[float]:
        slowed = [
            slowed_at(one, self.placing, lift.speed_factor)
            if self.placing in [station.name for station in one.stations]
            else one
            for one in self.systems
        ]
        return [one.with_waiting_per_hr for one in mixed_output(slowed).kinds]

    @property
    def minutes_at_stations(self) -> float:
        """The part of the turnaround at stations, which no nearer yard shortens [min]."""
        steps = tuple(step for step in self.system.cycle if step.station)
        return cycle_minutes(steps, self.system.load)

    def step(self, name: str) -> CycleStep:
        """Return the step of a name that the cycle has."""
        return next(step for one in self.systems for step in one.cycle if step.name == name)


@dataclass(frozen=True)
class KeptMaterial:
    """What is kept for later use: how much, by a formula of the assembly, and its worth."""

    quantity: Formula
    resource: str


@dataclass(frozen=True)
class Method:
    """One way to do the work of an item.

    Parameters
    ----------
    name : str
        As sentences call it: `throwing it in by conveyor truck`.
    assembly : Assembly
        Its assembly.
    inputs : mapping of str to InputValue
        Its own, and those of the item for which its assembly asks too.
    crew : str
        Empty for work that is bought.
    risks : tuple of str
        What may go wrong, in sentences.
    mobilization : Decimal
        [$] Bringing, setting up and fetching away; carries markups as cost of haul.
    storage : Decimal
        [$] Keeping what is kept until it is used; carries markups as a fee.
    stands_for : InputValue or None
        What one unit of its assembly does in units of the item, where the two are measured
        differently: 1.365 ton/cy.
    kept : Kept or None
        What is saved for use in the building: no cash, but a cost that comes less later.
    production : Production or None
        If None, the assembly's own production rate counts.
    days : InputValue or None
        How long bought work takes.
    machine : Size or None
        What has to pass the opening.
    opening : Size or None
        The item's, if its work goes through it.
    where : str
        Where it stands in the scope.
    delays : Delays or None
        What makes its crew slower than its production rate.
    """

    name: str
    assembly: Assembly
    inputs: Mapping[str, InputValue]
    crew: str
    risks: tuple[str, ...] = ()
    mobilization: Decimal = Decimal(0)
    storage: Decimal = Decimal(0)
    stands_for: InputValue | None = None
    kept: KeptMaterial | None = None
    production: Production | None = None
    days: InputValue | None = None
    machine: Size | None = None
    opening: Size | None = None
    where: str = ""
    delays: Delays | None = None

    @property
    def obstacle(self) -> str:
        """Why its machine does not pass the opening; empty if it does, or nothing is said."""
        return obstacle(self.machine, self.opening)

    @cached_property
    def paced_assembly(self) -> Assembly:
        """The assembly; where a system gives the pace, its own working hours are left out."""
        if self.production is None:
            return self.assembly
        inputs = tuple(one for one in self.assembly.inputs if one.name != CREW_HOURS)
        return replace(self.assembly, inputs=inputs)

    @property
    def has_crew_hours(self) -> bool:
        """Whether hours at work follow from a pace, of the assembly or of a system."""
        return bool(self.crew) or self.production is not None

    @property
    def own_days(self) -> float:
        """How long bought work takes [day]; 0 for work that takes as long as its hours."""
        return 0.0 if self.days is None else self.days.base_value
