"""Reading when a phase or an item may be done: after what, with what, along what, how long."""

from __future__ import annotations

import re

from estimator.errors import Faults, quoted
from estimator.quantity.measures import read_measure
from estimator.quantity.units import unit
from estimator.scope.located import Listing, Located, Section, Text
from estimator.scope.located_reader import LocatedReader
from estimator.scope.risk_reader import DURATION, read_duration
from estimator.scope.work_plan import NO_PLAN, NO_WAIT, Wait, WorkPlan

AFTER, WAIT, STARTS_WITH, ALONG = "after", "wait", "starts_with", "along"
PLAN_KEYS = (AFTER, WAIT, STARTS_WITH, ALONG, DURATION)
LONGEST_WAIT_DAYS = 3_650

_WAIT = re.compile(r"(\S+) (working|calendar) days?", re.ASCII)


def read_plan(section: Section, faults: Faults) -> WorkPlan:
    """Return what a phase or an item says of when it is done, noting all faults."""
    if not section.entries.keys() & set(PLAN_KEYS):
        return NO_PLAN
    return _PlanReader(faults).plan(section)


class _PlanReader(LocatedReader):
    def plan(self, section: Section) -> WorkPlan:
        plan = WorkPlan(
            after=self.texts(section, AFTER) if AFTER in section.entries else None,
            days=read_duration(section, self.faults),
            waits=self.waits(section),
            starts_with=self.texts(section, STARTS_WITH),
            along=self.texts(section, ALONG),
        )
        named = len(plan.after or ()) + len(plan.starts_with)
        if len(plan.waits) > 1 and len(plan.waits) != named:
            what = f"{WAIT} has {len(plan.waits)} values for {named} that are waited for"
            self.faults.add(section.entries[WAIT].where, what, "give one for all, or one for each")
        for key in (AFTER, WAIT, STARTS_WITH, DURATION):
            if plan.along and key in section.entries:
                what = f"{key} stands beside {ALONG}"
                remedy = "what runs along others begins and ends with them: take one out"
                self.faults.add(section.entries[key].where, what, remedy)
        return plan

    def waits(self, section: Section) -> tuple[Wait, ...]:
        """Return the waits, none where all are zero, so that these change nothing."""
        written = section.entries.get(WAIT)
        if written is None:
            return ()
        parts = written.parts if isinstance(written, Listing) else (written,)
        waits = tuple(read_wait(part, WAIT, self.faults) for part in parts)
        return waits if any(one.days for one in waits) else ()


def read_wait(part: Located, key: str, faults: Faults) -> Wait:
    """Return a time such as `7 days` or `3 working days`, noting all faults.

    Parameters
    ----------
    part : Located
        What is written.
    key : str
        Under which it stands, for the faults.
    faults : Faults
        Where faults are noted.
    """
    text = " ".join(part.value.split()) if isinstance(part, Text) else ""
    match = _WAIT.fullmatch(text)
    by_calendar = match is None or match[2] == "calendar"
    plain = f"{match[1]} days" if match else text
    measure = LocatedReader(faults).tried(part.where, key, read_measure, plain, unit("day"))
    if measure is None:
        return NO_WAIT
    days = measure.in_unit(unit("day"))
    if days > LONGEST_WAIT_DAYS:
        faults.add(part.where, f"{key} {quoted(text)} is above ten years")
    elif by_calendar and days.denominator != 1:
        what = f"{key} {quoted(text)} is not in whole days"
        faults.add(part.where, what, "round it up, or write working days")
    return Wait(float(days), by_calendar) if days else NO_WAIT
