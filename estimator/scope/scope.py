"""The scope: what is to be done, phase by phase and item by item, with measured inputs."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from decimal import Decimal
from functools import cached_property
from types import MappingProxyType

from estimator.assemblies.assembly import Assembly
from estimator.production.delays import Delays
from estimator.production.working_calendar import WorkingCalendar
from estimator.rates.labor.work_week import WorkWeek
from estimator.scope.input_value import InputValue
from estimator.scope.job_calendar import NO_CALENDAR, JobCalendar
from estimator.scope.level import Level
from estimator.scope.methods.method import Method
from estimator.scope.stated_price import StatedPrice
from estimator.scope.stated_ranges import NOTHING_STATED, JobRiskStated, Spread
from estimator.scope.title_block import NO_TITLE, TitleBlock
from estimator.scope.work_plan import NO_PLAN, WorkPlan


@dataclass(frozen=True)
class Item:
    """One priced piece of work.

    Parameters
    ----------
    code : str
        The cost code, `phase.item`.
    name : str
        The work in the scope's words.
    assembly : Assembly
        The assembly that the work is measured by; `method` has the one it is priced by.
    inputs : mapping of str to InputValue
        What the scope gives; the assembly's defaults stand for the rest.
    crew : str
        Who does it; empty for work that is bought.
    element : str
        UNIFORMAT II element, or empty.
    note : str
        A sentence for the printed estimate.
    where : str
        Where it stands in the scope.
    methods : tuple of Method
        Ways to do the work.
    spread : Spread
        How far quantity and pace may come out differently.
    choice : str
        Name of the method that the item is priced by; empty for the first.
    stated : StatedPrice or None
        The price as a sum, in place of an assembly of the tables.
    level : Level or None
        Of its top, if it is a fill that rises.
    plan : WorkPlan
        When it may be done, where it does not simply follow the item before it.
    delays : Delays or None
        What makes its crew slower than its production rate, if it lists no methods.
    """

    code: str
    name: str
    assembly: Assembly
    inputs: Mapping[str, InputValue]
    crew: str
    element: str
    note: str
    where: str
    methods: tuple[Method, ...] = ()
    spread: Spread = NOTHING_STATED
    choice: str = ""
    stated: StatedPrice | None = None
    level: Level | None = None
    plan: WorkPlan = NO_PLAN
    delays: Delays | None = None

    @cached_property
    def method(self) -> Method:
        """The way to do the work that it is priced by: the chosen one, or the item's own."""
        own = Method(
            self.name, self.assembly, self.inputs, self.crew, where=self.where, delays=self.delays
        )
        methods = self.methods or (own,)
        return next((one for one in methods if one.name == self.choice), methods[0])

    @property
    def lasts_along(self) -> bool:
        """Whether the dates say how long a time of it is."""
        return any(value.is_along for value in self.inputs.values())

    @property
    def until(self) -> str:
        """The work whose end ends such a time; empty where it is as long as what it runs along."""
        return next((value.until for value in self.inputs.values() if value.is_along), "")


@dataclass(frozen=True)
class Phase:
    """A stage of the job, and when it may be done."""

    code: str
    name: str
    items: tuple[Item, ...]
    plan: WorkPlan = NO_PLAN

    def own(self, items: Iterable[Item]) -> tuple[Item, ...]:
        """Return those items whose cost codes begin with the code of the phase."""
        return tuple(item for item in items if item.code.partition(".")[0] == self.code)


@dataclass(frozen=True)
class Alternate:
    """Work that may be added to the base or taken out of it.

    Parameters
    ----------
    code, name : str
        The key, and what it is.
    is_accepted : bool
        Whether it is part of the totals.
    adds, takes_out : tuple of Item
        What comes with it, and what of the base goes with it.
    """

    code: str
    name: str
    is_accepted: bool
    adds: tuple[Item, ...]
    takes_out: tuple[Item, ...]


@dataclass(frozen=True)
class Scope:
    """What is to be done.

    Parameters
    ----------
    project : str
        What the building or the job is called.
    shift : InputValue
        [hr/day] Length of the working day.
    on : date or None
        The pricing date, if the scope names one.
    markups : tuple of str or None
        Codes of the markups that apply; None for all of the tables.
    assumptions : tuple of str
        Sentences for the printed estimate.
    phases : tuple of Phase
        In order.
    day_worth : InputValue or None
        [$/day] What a day sooner is worth: site overhead and interest of a day. Methods are
        compared with it; it is in no price.
    risk : JobRiskStated
        How sure it is; in no price either.
    alternates : tuple of Alternate
        Work that is decided later; the phases have the accepted ones only.
    notes : tuple of str
        What of its file was set aside, which the printed estimate says.
    title_block : TitleBlock
        For whom and by whom the estimate is made, the address, and which revision it is.
    calendar : JobCalendar
        The first day of work, and the days that are worked.
    crew : mapping of str to int
        How many there are of each resource of crews that is few; what is not named is not.
    """

    project: str
    shift: InputValue
    on: date | None
    markups: tuple[str, ...] | None
    assumptions: tuple[str, ...]
    phases: tuple[Phase, ...]
    day_worth: InputValue | None = None
    risk: JobRiskStated = field(default_factory=JobRiskStated)
    notes: tuple[str, ...] = ()
    alternates: tuple[Alternate, ...] = ()
    title_block: TitleBlock = NO_TITLE
    calendar: JobCalendar = NO_CALENDAR
    crew: Mapping[str, int] = field(default_factory=lambda: MappingProxyType({}))

    @property
    def first_day(self) -> date | None:
        """The first day of work, None if nothing is said of it."""
        return self.calendar.start or self.risk.start

    @cached_property
    def working_calendar(self) -> WorkingCalendar:
        """The days that are worked: as stated, else weekdays without the federal holidays."""
        return self.calendar.working or WorkingCalendar()

    @cached_property
    def work_week(self) -> WorkWeek:
        """The hours and days of a week of work, and the rule of overtime."""
        hours = Decimal(str(self.shift.base_value))
        return WorkWeek(hours, len(self.working_calendar.weekdays), self.calendar.overtime)

    def with_alternates(self, accepted: Collection[str]) -> Scope:
        """Return the scope with the alternates of these codes in its phases, and no other."""
        taken = [one for one in self.alternates if one.code in accepted]
        out = {item.code for one in taken for item in one.takes_out}
        added = {item.code for one in taken for item in one.adds}
        of_alternates = {item.code for one in self.alternates for item in one.adds}
        known = {item.code: item for item in self.items}
        for one in self.alternates:
            known |= {item.code: item for item in (*one.takes_out, *one.adds)}
        items = [
            item
            for code, item in known.items()
            if code not in out and (code in added or code not in of_alternates)
        ]
        phases = (replace(phase, items=phase.own(items)) for phase in self.phases)
        return replace(self, phases=tuple(phase for phase in phases if phase.items))

    @cached_property
    def items(self) -> tuple[Item, ...]:
        """All items, in order."""
        return tuple(item for phase in self.phases for item in phase.items)
