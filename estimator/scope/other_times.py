"""What if time changes: a first day, a week and a crew that go before those of the scope."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from types import MappingProxyType

from estimator.scope.calendar_reader import CALENDAR
from estimator.scope.job_crew import CREW
from estimator.scope.located import Listing, Located, Section, Text


@dataclass(frozen=True)
class OtherTimes:
    """What goes before the times that a scope states.

    Parameters
    ----------
    start : Text or None
        First day of work.
    week : Text or None
        Such as `4 days of 10 hr`.
    crew : mapping of str to Text
        How many there are, by resource; of others, as many as the scope says.
    """

    start: Text | None = None
    week: Text | None = None
    crew: Mapping[str, Text] = field(default_factory=lambda: MappingProxyType({}))


def with_other_times(scope: Located, times: OtherTimes) -> Located:
    """Return a scope as if it had been written with other times.

    Parameters
    ----------
    scope : Located
        As it is written.
    times : OtherTimes
        What goes before it.

    Notes
    -----
    A week takes the place of a `shift`, and of `weekdays` if these are not as many. A first day
    takes the place of that under `risk`.
    """
    if not isinstance(scope, Section):
        return scope
    entries = dict(scope.entries)
    calendar = {"start": times.start, "week": times.week}
    _put(entries, CALENDAR, {key: text for key, text in calendar.items() if text})
    _put(entries, CREW, times.crew)
    if times.week:
        entries.pop("shift", None)
        _drop(entries, CALENDAR, "weekdays", unless=times.week.value.strip()[:1])
    if times.start:
        _drop(entries, "risk", "start")
    return replace(scope, entries=entries)


def _put(entries: dict[str, Located], key: str, texts: Mapping[str, Text]) -> None:
    """Put texts under a key; what stands there and is no section is a fault that is noted later."""
    there = entries.get(key, Section({}, key))
    if texts and isinstance(there, Section):
        entries[key] = replace(there, entries={**there.entries, **texts})


def _drop(entries: dict[str, Located], key: str, name: str, unless: str = "") -> None:
    """Take a name out under a key, unless it lists so many."""
    there = entries.get(key)
    if isinstance(there, Section) and name in there.entries:
        part = there.entries[name]
        if not (isinstance(part, Listing) and str(len(part.parts)) == unless):
            left = {each: one for each, one in there.entries.items() if each != name}
            entries[key] = replace(there, entries=left)
