"""From located text to a scope: every fault is noted with its place and a remedy."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import replace

from estimator.assemblies.assembly import Assembly, AssemblyInput
from estimator.assemblies.tables import Tables
from estimator.errors import Faults, InputFaulty, ScopeFaulty, did_you_mean, fault, quoted
from estimator.ranges.distributions import Fixed
from estimator.scope.alternates_reader import ALTERNATE, ALTERNATES, read_alternates
from estimator.scope.calendar_reader import CALENDAR
from estimator.scope.delays_reader import DELAYS, read_delays
from estimator.scope.head_reader import HeadReader
from estimator.scope.input_reader import read_input
from estimator.scope.input_value import InputValue
from estimator.scope.job_crew import CREW, check_job_crew
from estimator.scope.level import DEPTH, LEVEL, read_level
from estimator.scope.located import Located, Section, Text, list_sizes
from estimator.scope.located_reader import LocatedReader
from estimator.scope.methods.methods_reader import CHOICE, METHODS, ItemWork, read_methods
from estimator.scope.methods.passage import OPENING
from estimator.scope.order_check import check_order
from estimator.scope.plan_reader import PLAN_KEYS, read_plan
from estimator.scope.risk_check import check_phases, check_risk
from estimator.scope.risk_reader import RISK, read_item_spread
from estimator.scope.scope import Item, Phase, Scope
from estimator.scope.stated_price import FORMS, SUBCONTRACT
from estimator.scope.stated_price_reader import read_stated_price, stated_form
from estimator.scope.stated_ranges import Spread
from estimator.scope.title_block import TITLE_KEYS
from estimator.scope.unknown_work import check_unknown_work

SCOPE_KEYS = (
    "project", *TITLE_KEYS, "on", "shift", "rates", "quotes", "markups", "day_worth",
    "assumptions", CALENDAR, CREW, RISK, ALTERNATES, "phases",
)  # fmt: skip
PHASE_KEYS = ("code", "name", *PLAN_KEYS, "items")
ITEM_KEYS = (
    "code", "name", "assembly", "inputs", "crew", DELAYS, "element", "note", LEVEL, OPENING,
    METHODS, CHOICE, RISK, *FORMS, ALTERNATE, *PLAN_KEYS,
)  # fmt: skip
MOST_ITEMS = 20_000

_BRACES = 'within braces a comma ends the value: put the measure in quotes, as in "1,900 sf"'


def read_scope(
    written: Located, tables: Tables, *, is_whole: bool = True, slips: Faults | None = None
) -> Scope:
    """Return the scope that a located text describes.

    Parameters
    ----------
    written : Text, Listing or Section
        From `read_yaml` or from a workbook.
    tables : Tables
        The rate tables whose assemblies it names.
    is_whole : bool
        Whether it is the whole job; of a part, the order of the work is not checked.
    slips : Faults, optional
        What was wrong with its form, noted when it was read.

    Raises
    ------
    ScopeFaulty
        With every fault at once, the slips first.
    """
    faults = Faults() if slips is None else slips
    scope = _ScopeReader(faults, tables).scope(written, is_whole=is_whole)
    faults.raise_if_any(ScopeFaulty)
    return scope


def read_head(written: Located, tables: Tables, phase_codes: Collection[str] = ()) -> Scope:
    """Return the scope that its head alone describes, without any phase.

    Parameters
    ----------
    written : Text, Listing or Section
        The keys of a scope; those of its phases are passed over.
    tables : Tables
        The rate tables whose markups it names.
    phase_codes : collection of str
        Phases that its risk may name.

    Raises
    ------
    ScopeFaulty
        With every fault at once.
    """
    faults = Faults()
    reader = _ScopeReader(faults, tables)
    section = reader.section(written, "scope", SCOPE_KEYS)
    scope = reader.head(section)
    check_phases(phase_codes, scope.risk, section, faults)
    faults.raise_if_any(ScopeFaulty)
    return scope


def read_phase_head(written: Located) -> Phase:
    """Return the phase that its code, name and plan describe, without any item.

    Raises
    ------
    ScopeFaulty
        With every fault at once.
    """
    faults = Faults()
    phase = _phase_head(LocatedReader(faults), written)[1]
    faults.raise_if_any(ScopeFaulty)
    return phase


def _phase_head(reader: LocatedReader, written: Located) -> tuple[Section, Phase]:
    section = reader.section(written, "phase", PHASE_KEYS)
    code = reader.code(section, "phase")
    name = reader.text(section, "name")
    return section, Phase(code, name, (), read_plan(section, reader.faults))


class _ScopeReader(HeadReader):
    def __init__(self, faults: Faults, tables: Tables) -> None:
        super().__init__(faults, tables)
        self.tags: dict[str, Text] = {}
        self.places: dict[str, Section] = {}

    def scope(self, written: Located, *, is_whole: bool) -> Scope:
        if list_sizes(written)["items"] > MOST_ITEMS:
            raise fault(ScopeFaulty, f"has more than {MOST_ITEMS:,} items", where=written.where)
        section = self.section(written, "scope", SCOPE_KEYS)
        scope = replace(self.head(section), notes=section.notes)
        scope = replace(scope, phases=tuple(self.phases(section)))
        check_risk(scope, section, self.faults)
        unread = {one for one in self.places if "." in one} - {one.code for one in scope.items}
        chosen = read_alternates(scope, section, self.tags, unread, self.faults)
        if is_whole:
            check_order(scope, chosen, self.places, self.faults)
        check_job_crew(chosen, self.tables, self.places, self.faults)
        return chosen

    def phases(self, section: Section) -> Iterator[Phase]:
        seen: dict[str, str] = {}
        for written in self.parts(section, "phases"):
            keys, phase = _phase_head(self, written)
            if phase.code:
                self.repeated(seen, "phase", phase.code, keys.where)
                self.places[phase.code] = keys
            yield replace(phase, items=tuple(self.items(keys, phase.code)))

    def items(self, phase: Section, phase_code: str) -> Iterator[Item]:
        seen: dict[str, str] = {}
        for written in self.parts(phase, "items"):
            section = self.section(written, "item", ITEM_KEYS)
            own_code = self.code(section, "item")
            code = f"{phase_code}.{own_code}"
            if own_code:
                self.repeated(seen, "item", code, section.where)
                self.places[code] = section
            item = self.item(section, code)
            tag = self.text(section, ALTERNATE, required=False)
            if tag:
                self.tags[code] = Text(tag, section.entries[ALTERNATE].where)
            if item is not None:
                yield item

    def repeated(self, seen: dict[str, str], what: str, code: str, where: str) -> None:
        if code in seen:
            self.faults.add(where, f"repeats {what} {quoted(code)} of {seen[code]}")
        seen.setdefault(code, where)

    def item(self, section: Section, code: str) -> Item | None:
        name = self.text(section, "name")
        if stated_form(section):
            return self.stated_item(section, code, name)
        assembly = self.assembly(section, code)
        crew = self.text(section, "crew", required=False)
        element = self.text(section, "element", required=False)
        note = self.text(section, "note", required=False)
        if assembly is None:
            read_item_spread(section, self.faults)
            check_unknown_work(section, code, self.tables, self.faults)
            return None
        self.check_crew(section, code, crew, assembly)
        inputs = self.inputs(section, code, assembly)
        work = ItemWork(code, assembly, inputs, crew or assembly.crew)
        shift_hr = self.shift_given.base_value
        methods, choice = read_methods(section, work, self.tables, shift_hr, self.faults)
        why_not = "its methods have their own" if methods else "it is bought work"
        return Item(
            code=code,
            name=name,
            assembly=assembly,
            inputs=inputs,
            crew=work.crew,
            element=element or assembly.element,
            note=note,
            where=section.where,
            methods=methods,
            spread=read_item_spread(section, self.faults),
            choice=choice,
            level=read_level(section, inputs.get(DEPTH), self.faults),
            plan=read_plan(section, self.faults),
            delays=read_delays(section, why_not if methods or not work.crew else "", self.faults),
        )

    def stated_item(self, section: Section, code: str, name: str) -> Item | None:
        """Return an item whose price stands in the scope; a quote is firm unless its risk says."""
        stated = read_stated_price(
            section, code, self.faults, is_alternate=ALTERNATE in section.entries
        )
        element = self.text(section, "element", required=False)
        note = self.text(section, "note", required=False)
        spread = read_item_spread(section, self.faults)
        if stated is None:
            return None
        if stated.form == SUBCONTRACT:
            spread = spread.within(Spread(quantity=Fixed(1.0)))
        return Item(
            code=code, name=name, assembly=stated.assembly, inputs={}, crew="", element=element,
            note=note, where=section.where, spread=spread, stated=stated,
            plan=read_plan(section, self.faults),
        )  # fmt: skip

    def assembly(self, section: Section, code: str) -> Assembly | None:
        wanted = self.text(section, "assembly")
        assemblies = self.tables.catalogue.assemblies
        if wanted and wanted not in assemblies:
            self.faults.add(
                section.entries["assembly"].where,
                f"item {code} names the unknown assembly {quoted(wanted)}",
                did_you_mean(wanted, assemblies, "'groundsill rates assemblies' lists them"),
            )
        return assemblies.get(wanted)

    def check_crew(self, section: Section, code: str, crew: str, assembly: Assembly) -> None:
        if not crew:
            return
        where = section.entries["crew"].where
        if crew not in self.tables.crews:
            self.faults.add(
                where,
                f"item {code} names the unknown crew {quoted(crew)}",
                did_you_mean(crew, self.tables.crews),
            )
        elif not assembly.crew:
            self.faults.add(
                where, f"item {code} names a crew, but {quoted(assembly.code)} is bought work"
            )

    def inputs(self, section: Section, code: str, assembly: Assembly) -> Mapping[str, InputValue]:
        written = section.entries.get("inputs", Section({}, section.where))
        if not isinstance(written, Section):
            self.faults.add(written.where, f"item {code}: inputs is not a set of keys")
            return {}
        settable, inputs = assembly.settable, {}
        for name, value in written.entries.items():
            if name in settable:
                input_value = self.input(value, f"item {code}, {name}", settable[name])
                if input_value is not None:
                    inputs[name] = input_value
            else:
                self.strange_input(value, code, name, assembly, settable)
        for one in assembly.required:
            if one.name not in written.entries:
                self.faults.add(
                    written.where,
                    f"item {code} does not give {quoted(one.name)} ({one.meaning})",
                    f"write it in {one.unit.name}",
                )
        return inputs

    def input(self, value: Located, what: str, wanted: AssemblyInput) -> InputValue | None:
        try:
            return read_input(value, wanted)
        except InputFaulty as error:
            self.faults.take(f"{value.where}, {what}", error)
            return None

    def strange_input(
        self, value: Located, code: str, name: str, assembly: Assembly, known: Collection[str]
    ) -> None:
        if name in assembly.input_by_name:
            what = (
                f"item {code} sets {quoted(name)}, which {quoted(assembly.code)} works out itself"
            )
            self.faults.add(value.where, what, "remove it")
            return
        self.faults.add(
            value.where,
            f"item {code} gives {quoted(name)}, which {quoted(assembly.code)} does not ask for",
            _BRACES if name[:1].isdigit() else did_you_mean(name, known),
        )
