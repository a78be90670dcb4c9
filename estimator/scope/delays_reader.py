"""Reading what makes the crew of an item or of a method slower than its production rate."""

from __future__ import annotations

from collections.abc import Iterator

from estimator.errors import Faults, quoted
from estimator.production.delays import Delays
from estimator.quantity.units import unit
from estimator.scope.located import Section
from estimator.scope.located_reader import LocatedReader

DELAYS = "delays"
KEYS = ("working_minutes", "conditions", "first_days")
MOST_FIRST_DAYS = 30


def read_delays(section: Section, why_not: str, faults: Faults) -> Delays | None:
    """Return what an item or a method says of delays, None where it says nothing.

    Parameters
    ----------
    section : Section
        The item or the method.
    why_not : str
        Why nothing can delay it; empty where its pace is a production rate.
    faults : Faults
        Where faults are noted.
    """
    if DELAYS not in section.entries:
        return None
    if why_not:
        faults.add(section.entries[DELAYS].where, f"{DELAYS} do not fit: {why_not}", "remove them")
        return None
    return _DelaysReader(faults).delays(section)


class _DelaysReader(LocatedReader):
    def delays(self, section: Section) -> Delays | None:
        where = section.entries[DELAYS].where
        written = self.section(section.entries[DELAYS], DELAYS, KEYS)
        if isinstance(section.entries[DELAYS], Section) and not written.entries:
            self.faults.add(where, f"{DELAYS} says nothing", f"write one of {', '.join(KEYS)}")
        noted = len(self.faults.entries)
        minutes = self.measured(written, "working_minutes", unit("min"))
        conditions = tuple(self.conditions(written))
        first_days = tuple(self.first_days(written))
        if len(self.faults.entries) > noted:
            return None
        worked = 60.0 if minutes is None else float(minutes.in_unit(unit("min")))
        return self.tried(where, DELAYS, Delays, worked, conditions, first_days)

    def conditions(self, section: Section) -> Iterator[tuple[str, float]]:
        written = section.entries.get("conditions")
        if written is None:
            return
        names = tuple(written.entries) if isinstance(written, Section) else ("site", "weather")
        each = self.section(written, "conditions", names)
        for name in each.entries:
            yield name, self.share(each, name)

    def first_days(self, section: Section) -> Iterator[float]:
        parts = self.parts(section, "first_days", required="first_days" in section.entries)
        if len(parts) > MOST_FIRST_DAYS:
            what = f"first_days has more than {MOST_FIRST_DAYS} days"
            self.faults.add(section.entries["first_days"].where, what)
        for number, part in enumerate(parts[:MOST_FIRST_DAYS], start=1):
            key = f"first_days {number}"
            yield self.share(Section({key: part}, part.where), key)

    def share(self, section: Section, key: str) -> float:
        measure = self.measured(section, key, unit("fraction"), required=True)
        share = 1.0 if measure is None else float(measure.in_unit(unit("fraction")))
        if not 0.0 < share <= 1.0:
            what = f"{key} {quoted(measure.text if measure else '')} is not above 0 and up to 100 %"
            self.faults.add(section.entries[key].where, what, "leave it out where nothing delays")
            return 1.0
        return share
