"""What a practitioner would not sign in the tables: notes beside work that has no fault of form.

A machine without operator or fuel, a blade that no machine runs, hours that ignore a size, a truck
that does not wait for its loading, brick that is both set aside and tipped or not set aside at all,
concrete that nobody tests, strips or cures, a hazard that comes with the work, a resource, a crew
or an element (`hazards.csv`) and that no caution tells of, a number outside the range of its own
source. Where it is meant so, a row says why in its note, and the doubt is silent.
"""

from __future__ import annotations

import csv
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache, cached_property
from importlib.resources import files

from estimator.assemblies.assembly import (
    CREW_HOURS,
    PRODUCTION_RATE,
    QUANTITY,
    Assembly,
    AssemblyInput,
    AssemblyLine,
)
from estimator.assemblies.source_ranges import source_range_doubts
from estimator.assemblies.tables import Tables
from estimator.errors import quoted
from estimator.quantity.units import unit
from estimator.rates.resources import ResourceRate

HOURS_DO_NOT_FOLLOW = "hours do not depend on it:"
"""How the note of an input begins that says why no hours follow it."""

_RUNS_ITSELF = ("no operator", "with operator", "with driver")
_SAYS_FUEL = ("no fuel", "and fuel", "electric", "battery", "without fuel")
_RUNS = {
    "diamond-blade": ("saw",),
    "breaker-bit": ("breaker", "chipping hammer"),
    "rock-bit": ("rock drill",),
}
"""Words in the name of the machine that each rented tool's blade or bit needs."""
_CONCRETE = "ready-mix"
_ONE_WAY, _BOTH_WAYS = "one way", 2
_SITE_WORK, _DEMOLITION = "G", "F20"
_OWN_OR_BOUGHT = {"new_share", "old_share"}
_OWN_TRUCK, _BY_WEIGHT = "own truck", "charged by weight besides"
_SOUND, _NOT_RECOVERED = ("wood", "brick"), "nothing is recovered"
_HOUR = unit("hr").dimension
_AN_HOUR = "/hr"
_LENGTH = unit("ft").dimension


def trade_doubts(tables: Tables) -> tuple[str, ...]:
    """Return a sentence for each thing in the tables that a practitioner would not sign.

    Parameters
    ----------
    tables : Tables
        Checked tables.

    Returns
    -------
    tuple of str
        In the order of the assemblies; they price all the same.

    Notes
    -----
    What is meant as it stands says so: a machine in its note (`no operator`, `with driver`,
    `electric`, `no fuel`), an input in its note (`hours do not depend on it: ...`), concrete that
    is cured as an item of its own in the note of its assembly (`cured`), demolition that leaves
    nothing to use again in the note of its assembly (`nothing is recovered`), fuel of an own truck
    likewise (`own truck`).
    """
    works = [_Work(one, tables) for one in tables.catalogue.assemblies.values()]
    doubts = (
        f"assembly {quoted(work.assembly.code)}: {doubt}" for work in works for doubt in work.all()
    )
    return (*doubts, *source_range_doubts(tables))


@dataclass(frozen=True)
class _Work:
    """An assembly with its own crew, and the rows of what it uses."""

    assembly: Assembly
    tables: Tables

    def all(self) -> Iterator[str]:
        for doubts in (
            self.machines, self.engines, self.worn, self.fumes, self.hazards, self.sizes,
            self.hired, self.trucks, self.tipped, self.boxes, self.shares, self.recovered,
            self.concrete, self.sweeping, self.credit, self.trips,
        ):  # fmt: skip
            yield from doubts()

    @cached_property
    def lines(self) -> tuple[tuple[AssemblyLine, ResourceRate], ...]:
        lines = self.tables.lines_of(self.assembly, self.assembly.crew)
        return tuple((one, self.tables.rates.newest_rate(one.resource)) for one in lines)

    def of_kind(self, kind: str) -> list[tuple[AssemblyLine, ResourceRate]]:
        return [(line, row) for line, row in self.lines if row.kind == kind]

    def has(self, kind: str, word: str = "") -> bool:
        return any(word in row.name.lower() for _, row in self.of_kind(kind))

    def machines(self) -> Iterator[str]:
        """Tell of each machine whose operator or fuel is missing."""
        for name, says in _machines(row for _, row in self.of_kind("equipment")).items():
            who = "operator" if "without operator" in says else ""
            if not self.has("labor", who) and not any(word in says for word in _RUNS_ITSELF):
                yield f"{name} has no operator; add one, or say in its note why there is none"
            if _burns(says) and not self.has("consumable", "fuel"):
                yield f"{name} has no fuel; add it, or say in its note why it takes none"
            if not any(word in says for word in _SAYS_FUEL):
                yield f"{name} does not say in its note whether fuel comes with it, or none is used"

    def engines(self) -> Iterator[str]:
        """Tell of fuel that no machine burns, nor an own truck."""
        says = _machines(row for _, row in self.of_kind("equipment")).values()
        fuels = [row for _, row in self.of_kind("consumable") if row.unit.name == "gal"]
        is_burned = _OWN_TRUCK in self.assembly.note or any(_burns(one) for one in says)
        if not is_burned and any("fuel" in row.name.lower() for row in fuels):
            yield f"fuel is burned, and no machine takes any; add it, or say {quoted(_OWN_TRUCK)}"

    def worn(self) -> Iterator[str]:
        """Tell of each blade or bit that wears, and no machine runs it."""
        for _, row in self.of_kind("consumable"):
            machines = _RUNS.get(row.code, ())
            if machines and not any(self.has("equipment", machine) for machine in machines):
                yield f"{row.code} wears, and no {' or '.join(machines)} runs it"

    def fumes(self) -> Iterator[str]:
        """Tell of an engine at work, but on the yard, that nobody is warned of."""
        says = " ".join(_machines(row for _, row in self.of_kind("equipment")).values())
        codes = {"engine-fumes"} & self.tables.catalogue.cautions.keys()
        is_outside = self.assembly.element.startswith(_SITE_WORK)
        if _burns(says) and not is_outside and not codes <= set(self.assembly.cautions):
            yield "an engine runs, and no caution mentions its fumes; add engine-fumes"

    def hazards(self) -> Iterator[str]:
        """Tell of what comes with the work itself or what it uses, and no caution tells of it."""
        is_at = {
            "work": {self.assembly.code},
            "resource": {line.resource for line, _ in self.lines},
            "crew": {self.assembly.crew},
            "element": {self.assembly.element} if self.assembly.crew else set(),
        }
        for one in _hazards():
            needed = [code for code in one["cautions"].split(";")
                      if code in self.tables.catalogue.cautions]  # fmt: skip
            silent = [code for code in needed if code not in self.assembly.cautions]
            for of in is_at[one["by"]].intersection(one["of"].split(";")) if silent else ():
                hazard = f"{of}: {one['because']}"
                yield f"{hazard}, and not every caution mentions it; add {', '.join(silent)}"

    def sizes(self) -> Iterator[str]:
        """Tell of each size that must be given and that no hours follow."""
        if not self.assembly.crew:
            return
        followed = self.needed(self.hour_names)
        for one in self.assembly.inputs:
            if one.is_required and one not in followed and not _is_excused(one):
                yield f"hours do not follow {quoted(one.name)} ({one.meaning})"

    def hired(self) -> Iterator[str]:
        """Tell of lengths and paces that machines follow and no hours of labor do, or only these.

        A pace of its own (`saw_speed`) is time in which somebody runs the machine.
        """
        of_crew = self._measures(self.hour_names)
        for line, row in self.of_kind("equipment") if self.assembly.crew else ():
            own = set() if line.is_crew else self._measures(line.formula.names)
            for name in sorted(own - of_crew):
                yield f"{row.code} follows {quoted(name)}, hours of the crew do not"
            is_hourly = row.unit.dimension == _HOUR and not line.is_crew
            for name in sorted(of_crew - own) if is_hourly else ():
                yield f"hours of the crew follow {quoted(name)}, those of {row.code} do not"

    def _measures(self, names: Iterable[str]) -> set[str]:
        """Return lengths and paces that names come from, without those whose note says why not."""
        return {
            one.name
            for one in self.needed(names)
            if (one.unit.dimension == _LENGTH or one.unit.name.endswith(_AN_HOUR))
            and not _is_excused(one)
        }

    def trucks(self) -> Iterator[str]:
        """Tell of a truck by the hour that does not wait for loading, or comes for nothing."""
        for line, row in self.of_kind("haul"):
            if row.unit.dimension != _HOUR:
                continue
            names = {one.name for one in self.needed(line.formula.names)}
            if self.assembly.crew and not names & {PRODUCTION_RATE, "loading_rate"}:
                yield f"{row.code} does not wait as long as its loading takes"
            if line.minimum is None and "least_charge" not in names:
                yield f"{row.code} has no minimum charge"

    def tipped(self) -> Iterator[str]:
        """Tell of own material that is recovered and paid for at the tip as well.

        Tipping follows all that the recovery follows, or the share that is recovered; or the whole
        work is recovered, and what is tipped is something else.
        """
        lines = self.of_kind("disposal")
        tipped = self.needed(name for line, _ in lines for name in line.formula.names)
        shares = {one.name for one in tipped if one.unit.name == "fraction"}
        for one in self.assembly.recoveries if lines else ():
            parts = self.needed(one.formula.names)
            is_whole = one.formula.text == QUANTITY
            is_shared = any(part.name in shares for part in parts)
            if not (is_whole or is_shared or all(part in tipped for part in parts)):
                yield f"{one.material} is recovered, and tipping does not become less by it"

    def boxes(self) -> Iterator[str]:
        """Tell of boxes that are charged by weight besides, and no weight is paid."""
        rows = [row for _, row in self.of_kind("disposal")]
        if any(_BY_WEIGHT in row.note for row in rows) and len({row.code for row in rows}) == 1:
            yield f"{rows[0].code} is pulled, and nothing is paid for its weight at the dump"

    def shares(self) -> Iterator[str]:
        """Tell of material, part own and part bought, of which one part has no line."""
        texts = [line.formula.text for line, _ in self.of_kind("material")]
        for name in sorted(_OWN_OR_BOUGHT & self.assembly.input_by_name.keys()):
            rest = f"(1 - {name})"
            has_share = any(name in text.replace(rest, "") for text in texts)
            if has_share != any(rest in text for text in texts):
                yield f"one part of the material by {quoted(name)} has a line, the rest none"

    def recovered(self) -> Iterator[str]:
        """Tell of old work that is taken down, and nothing is said of what comes out sound."""
        assembly = self.assembly
        if assembly.recoveries or not assembly.element.startswith(_DEMOLITION):
            return
        if "recovery" in assembly.input_by_name:
            yield "what comes out sound is not counted; add it to own_material.csv"
        is_sold = bool(self.of_kind("salvage")) or _NOT_RECOVERED in assembly.note
        if any(self.has("disposal", word) for word in _SOUND) and not is_sold:
            yield f"all of it is tipped; recover a part, or say {quoted(_NOT_RECOVERED)}"

    def concrete(self) -> Iterator[str]:
        """Tell of concrete that nobody tests, cures or strips."""
        codes = {line.resource for line, _ in self.lines}
        if not self.assembly.crew or not any(code.startswith(_CONCRETE) for code in codes):
            return
        names = self.assembly.input_by_name
        if "concrete-test" not in codes:
            yield "concrete is placed and not tested"
        if "cure_days" not in names and "cured" not in self.assembly.note:
            yield "concrete is placed and not cured"
        if "form-lumber" in codes and "strip_rate" not in names:
            yield "forms are set and not stripped"

    def sweeping(self) -> Iterator[str]:
        """Tell of brooms where a caution forbids to sweep dry."""
        cautions = self.tables.catalogue.cautions
        warned = any("not sweep" in cautions[code].caution for code in self.assembly.cautions)
        for _, row in self.lines:
            if warned and ("broom" in row.name.lower() or "sweeping" in row.name.lower()):
                yield f"{row.code} is for sweeping, and a caution warns of it"

    def credit(self) -> Iterator[str]:
        """Tell of site work that counts toward the credit as if it were the building."""
        if self.assembly.element.startswith(_SITE_WORK) and self.assembly.credit == "yes":
            yield "site work is said to count toward the credit, which is for the building"

    def trips(self) -> Iterator[str]:
        """Tell of what is brought and never fetched, where a trip is one way."""
        for line, row in self.of_kind("haul"):
            for one in self.needed(line.formula.names) if _ONE_WAY in row.name else ():
                is_trip = one.unit.name.partition("/")[0] == row.unit.name
                if is_trip and one.default is not None and one.default < _BOTH_WAYS:
                    ways = f"{quoted(one.name)} {one.default}"
                    yield f"{row.code} brings it and does not pick it up: {ways}"

    @property
    def hour_names(self) -> set[str]:
        """The names that hours of labor come from."""
        labor = {name for line, _ in self.of_kind("labor") for name in line.formula.names}
        return labor | {CREW_HOURS}

    def needed(self, names: Iterable[str]) -> list[AssemblyInput]:
        """Return the entered inputs that names come from, through all that is worked out."""
        inputs, seen, open_names = self.assembly.input_by_name, set[str](), list(names)
        while open_names:
            name = open_names.pop()
            if name in seen:
                continue
            seen.add(name)
            one = inputs.get(name)
            if name == QUANTITY:
                open_names += self.assembly.quantity.names
            elif one is not None and one.formula is not None:
                open_names += one.formula.names
            elif name == CREW_HOURS:
                open_names += (QUANTITY, PRODUCTION_RATE)
        return [one for name, one in self.assembly.settable.items() if name in seen]


def _is_excused(one: AssemblyInput) -> bool:
    return one.note.startswith(HOURS_DO_NOT_FOLLOW)


@cache
def _hazards() -> tuple[dict[str, str], ...]:
    text = (files("estimator.assemblies") / "hazards.csv").read_text("utf-8")
    return tuple(csv.DictReader(text.splitlines()))


def _machines(rows: Iterable[ResourceRate]) -> dict[str, str]:
    """Return what each machine says of operator and fuel, in its name and note."""
    return {row.code: f"{row.name}; {row.note}".lower() for row in rows}


def _burns(says: str) -> bool:
    return "without fuel" in says or "without operator and fuel" in says
