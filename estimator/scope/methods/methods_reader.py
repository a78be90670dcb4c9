"""Reading the methods of an item from located text: every fault noted at its place."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from estimator.assemblies.assembly import PRODUCTION_RATE, Assembly, AssemblyInput
from estimator.assemblies.tables import Tables
from estimator.errors import Faults, did_you_mean, quoted
from estimator.money import dollars
from estimator.quantity.dimension_check import formula_dimension
from estimator.quantity.formulas import read_formula
from estimator.quantity.measures import Measure
from estimator.quantity.units import unit
from estimator.scope.delays_reader import DELAYS, read_delays
from estimator.scope.input_reader import read_input
from estimator.scope.input_value import InputValue
from estimator.scope.located import Section
from estimator.scope.located_reader import LocatedReader
from estimator.scope.methods.method import KeptMaterial, Method, Production
from estimator.scope.methods.passage import (
    MACHINE,
    OPENING,
    THROUGH_OPENING,
    Size,
    read_size,
)
from estimator.scope.methods.production_reader import SystemOf, read_production

METHODS, CHOICE = "methods", "method"
METHOD_KEYS = (
    "name", "assembly", "inputs", "crew", "risks", "mobilization", "storage", "stands_for",
    "kept", "kept_as", "production", "days", DELAYS, MACHINE, THROUGH_OPENING,
)  # fmt: skip
MOST_METHODS = 12


@dataclass(frozen=True)
class ItemWork:
    """The work that the methods of an item stand in for."""

    code: str
    assembly: Assembly
    inputs: Mapping[str, InputValue]
    crew: str
    opening: Size | None = None


def read_methods(
    section: Section, work: ItemWork, tables: Tables, shift_hr: float, faults: Faults
) -> tuple[tuple[Method, ...], str]:
    """Return the methods that an item lists and the name of the chosen one, noting all faults.

    An opening of the item is for its methods: all go through it that do not say otherwise.
    """
    if section.entries.keys().isdisjoint((METHODS, OPENING, CHOICE)):
        return (), ""
    work = replace(work, opening=read_size(section, OPENING, faults))
    reader = _MethodsReader(work, tables, shift_hr, faults)
    reader.has_opening = OPENING in section.entries
    if reader.has_opening and METHODS not in section.entries:
        what = f"item {work.code} has an opening, and no methods that would pass it"
        faults.add(section.entries[OPENING].where, what, "list its methods, or remove the opening")
    methods = tuple(reader.methods(section)) if METHODS in section.entries else ()
    return methods, reader.choice(section, methods)


class _MethodsReader(LocatedReader):
    def __init__(self, work: ItemWork, tables: Tables, shift_hr: float, faults: Faults) -> None:
        super().__init__(faults)
        self.item, self.tables, self.shift_hr = work, tables, shift_hr
        self.has_opening = False
        self.faulty: frozenset[str] = frozenset()

    def methods(self, section: Section) -> Iterator[Method]:
        seen: set[str] = set()
        of_item = section.entries.get("inputs")
        if isinstance(of_item, Section):
            self.faulty = frozenset(of_item.entries) - self.item.inputs.keys()
        parts = self.parts(section, METHODS)
        if len(parts) > MOST_METHODS:
            where = section.entries[METHODS].where
            self.faults.add(where, f"item {self.item.code} has more than {MOST_METHODS} methods")
        for written in parts[:MOST_METHODS]:
            method = self.method(self.section(written, "method", METHOD_KEYS))
            if method is not None:
                if method.name.lower() in seen:
                    self.faults.add(method.where, f"repeats method {quoted(method.name)}")
                seen.add(method.name.lower())
                yield method

    def choice(self, section: Section, methods: Sequence[Method]) -> str:
        """Return the name of the method that the item is priced by; empty for the first."""
        named = {one.name.lower(): one.name for one in methods}
        wanted = self.text(section, CHOICE, required=False)
        if wanted and wanted.lower() not in named:
            remedy = did_you_mean(wanted, named.values(), "list it under methods")
            where = section.entries[CHOICE].where
            what = f"item {self.item.code} has no method {quoted(wanted)}"
            self.faults.add(where, what, remedy)
        return named.get(wanted.lower(), "")

    def method(self, section: Section) -> Method | None:
        name = self.text(section, "name")
        if ":" in name:
            self.faults.add(section.entries["name"].where, f"name {quoted(name)} has a colon")
        own = self.item.assembly
        known = self.tables.catalogue.assemblies
        assembly = known[self.known(section, "assembly", own.code, known)]
        if not name:
            return None
        crew = self.crew(section, assembly)
        return Method(
            name=name,
            assembly=assembly,
            inputs=self.inputs(section, name, assembly, crew),
            crew=crew,
            risks=self.texts(section, "risks"),
            mobilization=self.amount(section, "mobilization"),
            storage=self.amount(section, "storage"),
            stands_for=self.stands_for(section, name, assembly),
            kept=self.kept(section, assembly),
            production=self.production(section, name, assembly, crew),
            days=self.days(section, name, crew),
            machine=read_size(section, MACHINE, self.faults),
            opening=self.opening(section),
            where=section.where,
            delays=read_delays(section, _why_undelayed(section, crew), self.faults),
        )

    def opening(self, section: Section) -> Size | None:
        """Return the opening of the item, if the method goes through it."""
        goes_through = self.known(section, THROUGH_OPENING, "yes", ("no", "yes"))
        if THROUGH_OPENING in section.entries and not self.has_opening:
            where, remedy = (
                section.entries[THROUGH_OPENING].where,
                "write the item's opening: {...}",
            )
            self.faults.add(where, f"item {self.item.code} has no opening to go through", remedy)
        return self.item.opening if goes_through == "yes" else None

    def crew(self, section: Section, assembly: Assembly) -> str:
        usual = self.item.crew if assembly is self.item.assembly else assembly.crew
        crew = self.known(section, "crew", usual, self.tables.crews)
        if crew and not assembly.crew:
            where = section.entries["crew"].where
            self.faults.add(where, f"names a crew, but {quoted(assembly.code)} is bought work")
        return crew

    def production(
        self, section: Section, name: str, assembly: Assembly, crew: str
    ) -> Production | None:
        written = section.entries.get("production")
        if written is None:
            return None
        hourly = frozenset(
            line.resource
            for line in assembly.lines
            if self.tables.rates.unit_of(line.resource).dimension == unit("hr").dimension
        )
        members = self.tables.crews[crew].members if crew else ()
        machines = {
            one.resource: one.number
            for one in members
            if self.tables.rates.kind_of(one.resource) == "equipment"
        }
        resources = frozenset(one.resource for one in members)
        of = SystemOf(name, assembly, hourly, resources, machines, self.shift_hr)
        return read_production(written, of, self.faults)

    def days(self, section: Section, name: str, crew: str) -> InputValue | None:
        """Return how long bought work takes; a crew's work takes as long as its hours."""
        entered = _input_value(self.measured(section, "days", unit("day")))
        timed = bool(crew) or "production" in section.entries
        if entered is None and not timed and "days" not in section.entries:
            what = f"{quoted(name)} is bought work, and nothing says how long it takes"
            self.faults.add(section.where, what, "write days: 3 day")
        if entered is not None and timed:
            where = section.entries["days"].where
            self.faults.add(where, f"{quoted(name)} takes as long as its crew and system do")
        return entered

    def inputs(
        self, section: Section, name: str, assembly: Assembly, crew: str
    ) -> Mapping[str, InputValue]:
        written = section.entries.get("inputs", Section({}, section.where))
        settable = assembly.settable
        inputs = self.carried_over(assembly, crew, settable)
        if not isinstance(written, Section):
            self.faults.add(written.where, "inputs is not a set of keys")
            return inputs
        for key, value in written.entries.items():
            if key not in settable:
                what = f"{quoted(name)} gives {quoted(key)}, which {quoted(assembly.code)} does not"
                self.faults.add(value.where, f"{what} ask for", did_you_mean(key, settable))
                continue
            entered = self.tried(value.where, key, read_input, value, settable[key])
            if entered is not None:
                inputs[key] = entered
        seen = inputs.keys() | written.entries.keys() | self.faulty
        for key, one in settable.items():
            if one.is_required and key not in seen:
                what = f"{quoted(name)} does not give {quoted(key)} ({one.meaning})"
                self.faults.add(written.where, what, f"write it in {one.unit.name}")
        return inputs

    def carried_over(
        self, assembly: Assembly, crew: str, settable: Mapping[str, AssemblyInput]
    ) -> dict[str, InputValue]:
        """Return the item's inputs that fit; its pace fits only the same assembly and crew."""
        known = self.item.assembly.input_by_name
        same_work = assembly is self.item.assembly and crew == self.item.crew
        return {
            name: one
            for name, one in self.item.inputs.items()
            if name in settable
            and settable[name].unit.dimension == known[name].unit.dimension
            and (same_work or name != PRODUCTION_RATE)
        }

    def amount(self, section: Section, key: str) -> Decimal:
        entered = self.measured(section, key, unit("$"))
        if entered is None:
            return Decimal(0)
        cents = entered.in_unit(unit("$")) * 100
        if cents.denominator != 1:
            where = section.entries[key].where
            self.faults.add(
                where, f"{key} {quoted(entered.text)} is not an amount in dollars and cents"
            )
            return Decimal(0)
        return dollars(cents.numerator)

    def stands_for(self, section: Section, name: str, assembly: Assembly) -> InputValue | None:
        own, other = self.item.assembly.unit, assembly.unit
        if own.dimension == other.dimension and own.is_count == other.is_count:
            if "stands_for" in section.entries:
                where = section.entries["stands_for"].where
                self.faults.add(where, f"{quoted(name)} is in {own.name} already", "remove it")
            return None
        if "stands_for" not in section.entries:
            self.faults.add(
                section.where,
                f"{quoted(name)} is measured in {other.name}, item {self.item.code} in {own.name}",
                f"say what one does, as in stands_for: 1.35 {own.name}/{other.name}",
            )
        return _input_value(self.measured(section, "stands_for", unit(f"{own.name}/{other.name}")))

    def kept(self, section: Section, assembly: Assembly) -> KeptMaterial | None:
        text = self.text(section, "kept", required=False)
        resource = self.text(section, "kept_as", required=False)
        if bool(text) != bool(resource):
            self.faults.add(section.where, "kept and kept_as go together", "give both, or none")
        if not text or not resource:
            return None
        if resource not in self.tables.rates:
            remedy = did_you_mean(resource, self.tables.rates.codes)
            where = section.entries["kept_as"].where
            self.faults.add(where, f"unknown resource {quoted(resource)}", remedy)
            return None
        brought = [one.material for one in assembly.recoveries]
        if brought and resource not in brought:
            self.faults.add(
                section.entries["kept_as"].where,
                f"kept_as {quoted(resource)} is not what {quoted(assembly.code)} takes up",
                f"write {brought[0]}: it has one value, here and in the estimate",
            )
        where = section.entries["kept"].where
        formula = self.tried(where, "kept", read_formula, text)
        if formula is None or self.has_strange_names(where, formula.names, assembly):
            return None
        dimension = self.tried(where, "kept", formula_dimension, formula, assembly.dimensions)
        wanted = self.tables.rates.unit_of(resource)
        if dimension is not None and dimension != wanted.dimension:
            self.faults.add(where, f"kept is not in {wanted.name}, as {quoted(resource)} is")
        return KeptMaterial(formula, resource)

    def has_strange_names(self, where: str, names: frozenset[str], assembly: Assembly) -> bool:
        strange = sorted(names - assembly.dimensions.keys())
        for name in strange:
            remedy = did_you_mean(name, assembly.dimensions)
            self.faults.add(where, f"kept uses the unknown name {quoted(name)}", remedy)
        return bool(strange)


def _why_undelayed(section: Section, crew: str) -> str:
    """Return why nothing can delay a method; empty where its pace is a production rate."""
    if "production" in section.entries:
        return "a working system has its own efficiency and steps"
    return "" if crew else "it is bought work"


def _input_value(measure: Measure | None) -> InputValue | None:
    if measure is None:
        return None
    return InputValue(measure.value * measure.unit.factor, measure.text)
