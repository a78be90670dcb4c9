"""The check of the order of the work: names that are not there, contradictions, circles."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from graphlib import CycleError, TopologicalSorter
from itertools import groupby

from estimator.errors import Faults, Remedy, did_you_mean, quoted
from estimator.scope.input_value import UNTIL
from estimator.scope.inspection import check_inspections
from estimator.scope.located import Section
from estimator.scope.plan_reader import AFTER, ALONG, PLAN_KEYS, STARTS_WITH, WAIT
from estimator.scope.scope import Item, Phase, Scope
from estimator.scope.work_order import is_whole, of_phase, ordered_work
from estimator.scope.work_plan import NO_PLAN, WorkPlan

MOST_CIRCLES = 20
_MOST_NAMED = 4


def check_order(whole: Scope, chosen: Scope, places: Mapping[str, Section], faults: Faults) -> None:
    """Note every fault of the order of the work.

    Parameters
    ----------
    whole, chosen : Scope
        With the items of all alternates, and with those of the accepted ones only.
    places : mapping of str to Section
        What each phase and item says, by its code.
    faults : Faults
        Where faults are noted.
    """
    codes = [phase.code for phase in whole.phases]
    codes += [item.code for phase in whole.phases for item in phase.items]
    if "" in codes or len(set(codes)) < len(codes):
        return  # that is noted, and nothing can be said of the order
    check_inspections(whole.calendar.inspections, {*codes, *places}, faults)
    before = faults.count
    _OrderCheck(whole, chosen, places, faults).check()
    if faults.count == before and any(map(_says_order, places.values())):
        _note_circles(chosen, places, faults)


class _OrderCheck:
    def __init__(
        self, whole: Scope, chosen: Scope, places: Mapping[str, Section], faults: Faults
    ) -> None:
        self.whole, self.places, self.faults = whole, places, faults
        self.phases = {phase.code: phase for phase in whole.phases}
        # An item that cannot be read has a place, and may be named.
        self.items: dict[str, Item | None] = {code: None for code in places if "." in code}
        self.items |= {item.code: item for phase in whole.phases for item in phase.items}
        self.there = {item.code for item in chosen.items} | set(self.phases)

    def check_along(self, item: Item, phase: Phase) -> None:
        """Note inputs that last as long as other work, of an item that runs along none."""
        times = {name: value.until for name, value in item.inputs.items() if value.is_along}
        if not times:
            return
        if len(set(times.values())) > 1:
            what = f"item {item.code}: {' and '.join(times)} do not end with the same work"
            self.faults.add(item.where, what, "let both be until the same phase or item")
        for until in filter(None, times.values()):
            self.check_name(item.code, UNTIL, until, {**self.phases, **self.items})
        names = [name for name, until in times.items() if not until]
        if names and not (item.plan.along or phase.plan.along):
            what = f"item {item.code}, {names[0]}: it runs along no other work"
            remedy = (
                f"say {ALONG} which, write how long, or write {UNTIL} with the work that ends it"
            )
            self.faults.add(item.where, what, remedy)

    def check(self) -> None:
        self.check_waits([(phase.code, phase.plan) for phase in self.whole.phases])
        for phase in self.whole.phases:
            self.check_names(phase.code, phase.plan, {**self.phases, **self.items})
            if not is_whole(phase):
                self.check_waits([(item.code, item.plan) for item in phase.items])
            for item in phase.items:
                self.check_names(item.code, of_phase(item.plan, phase.code), self.items)
                self.check_along(item, phase)
                if is_whole(phase) and (item.plan.has_order or item.plan.days is not None):
                    why = f"runs {ALONG} others" if phase.plan.along else "states its duration"
                    what = (
                        f"phase {quoted(phase.code)} {why}, so its items have no dates of their own"
                    )
                    self.note(item.code, PLAN_KEYS, what, "take it out of the item")

    def check_waits(self, plans: list[tuple[str, WorkPlan]]) -> None:
        """Note the wait of what has nothing before it that it could wait for."""
        before: tuple[str, ...] = ()
        for code, plan in plans:
            if plan.waits and not plan.along and not any(plan.waits_for(before)):
                self.note(
                    code, (WAIT,), f"{WAIT} is given with nothing to wait for", f"say {AFTER} what"
                )
            if not (plan.along and code in self.items):
                before = (code,)

    def check_names(self, code: str, plan: WorkPlan, known: Mapping[str, object]) -> None:
        if not plan.has_order:
            return
        for key, names in (
            (AFTER, plan.after or ()), (STARTS_WITH, plan.starts_with), (ALONG, plan.along)
        ):  # fmt: skip
            for name, times in Counter(names).items():
                self.check_name(code, key, name, known)
                if times > 1:
                    what = f"{key} names {quoted(name)} {times} times"
                    self.note(code, (key,), what, "name it once, with one wait")
            absent = [name for name in names if self.items.get(name) and name not in self.there]
            if absent and len(absent) == len(names):
                what = f"{key} names only {', '.join(absent)}, which an alternate takes out"
                self.note(code, (key,), what, "name what stands in its place as well")

    def check_name(self, code: str, key: str, name: str, known: Mapping[str, object]) -> None:
        if name not in known:
            what = f"{key} names {quoted(name)}, which does not exist"
            alike = (one for one in known if ("." in one) == ("." in name))
            self.note(code, (key,), what, did_you_mean(name, alike))
        elif name == code or name.startswith(f"{code}."):
            self.note(code, (key,), f"{key} names itself, {quoted(name)}", "take it out")
        elif name in self.items and is_whole(self.phases[name.partition(".")[0]]):
            phase = name.partition(".")[0]
            what = f"{key} names {quoted(name)}, which has no dates of its own"
            self.note(code, (key,), what, f"name its phase, {phase}")
        elif key != AFTER and self.plan_of(name).along:
            what = f"{key} names {quoted(name)}, which itself runs {ALONG} others"
            along = self.plan_of(name).along
            more = f" and {len(along) - _MOST_NAMED:,} more" if len(along) > _MOST_NAMED else ""
            self.note(code, (key,), what, f"name these: {', '.join(along[:_MOST_NAMED])}{more}")

    def plan_of(self, code: str) -> WorkPlan:
        of = self.phases.get(code) or self.items.get(code)
        return of.plan if of else NO_PLAN

    def note(self, code: str, keys: tuple[str, ...], what: str, remedy: Remedy) -> None:
        where = _place(self.places.get(code), keys)
        named = "item" if code in self.items else "phase"
        self.faults.add(where, f"{named} {code}: {what}", remedy)


def _place(section: Section | None, keys: tuple[str, ...]) -> str:
    if section is None:
        return ""
    written = (section.entries[key] for key in keys if key in section.entries)
    return next(written, section).where


def _note_circles(scope: Scope, places: Mapping[str, Section], faults: Faults) -> None:
    """Note what waits for itself in the end, each circle once."""
    graph = {one.code: {other.code for other in one.after} for one in ordered_work(scope)}
    for _ in range(MOST_CIRCLES):
        try:
            TopologicalSorter(graph).prepare()
        except CycleError as error:
            circle = list(reversed(error.args[1][1:]))
            codes = list(_named(circle))
            place = next((code for code in codes if _says_order(places.get(code))), codes[0])
            chain = ", which waits for ".join(quoted(code) for code in (*codes[1:], codes[0]))
            faults.add(
                _place(places.get(place), PLAN_KEYS),
                f"{quoted(codes[0])} waits for {chain if len(codes) > 1 else 'itself'}",
                f"take one of them out of {AFTER}, {STARTS_WITH} or {ALONG}",
            )
            graph |= {code: set() for code in circle}
        else:
            return


def _says_order(section: Section | None) -> bool:
    return section is not None and bool({AFTER, STARTS_WITH, ALONG} & section.entries.keys())


def _named(circle: list[str]) -> Iterator[str]:
    """Yield the codes of a circle as the scope has them: phases, or the items of a single one."""
    codes = [code.removeprefix("begins ").removeprefix("ends ") for code in circle]
    phases = [code.partition(".")[0] for code in codes]
    shown = phases if len(set(phases)) > 1 else [code for code in codes if "." in code] or phases
    once = [code for code, _ in groupby(shown)]
    yield from once[:-1] if len(once) > 1 and once[0] == once[-1] else once
