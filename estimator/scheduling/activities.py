"""Activities and the links between them: what must be done before what, and how long apart."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from graphlib import CycleError, TopologicalSorter
from types import MappingProxyType

from estimator.errors import Fault, Faults, PhaseOrderFaulty, did_you_mean, quoted

FINISH, START = "finish", "start"


@dataclass(frozen=True)
class Link:
    """An activity waits for another.

    Parameters
    ----------
    after : str
        Code of the other.
    wait : int
        [working time] Least time between: from its finish, or from its start; zero for none.
    from_ : str
        `finish`: begin once the other is done; `start`: once it has begun.
    calendar_days : int
        Least time between in days of the calendar, nights and Sundays counted; with `wait` zero.
    """

    after: str
    wait: int = 0
    from_: str = FINISH
    calendar_days: int = 0


@dataclass(frozen=True)
class Activity:
    """A piece of work with a length.

    Parameters
    ----------
    code, name : str
        As in the scope.
    length : int
        [working time] In whole units of the caller's choice: minutes, tenths of a day.
    links : tuple of Link
        What it waits for.
    needs : mapping of str to int
        How many of each crew or machine it keeps busy while it lasts.
    """

    code: str
    name: str
    length: int
    links: tuple[Link, ...] = ()
    needs: Mapping[str, int] = field(default_factory=lambda: MappingProxyType({}))


def in_working_order(activities: Sequence[Activity]) -> list[Activity]:
    """Return activities so that each comes after all that it waits for.

    Parameters
    ----------
    activities : sequence of Activity
        Each with a code of its own.

    Raises
    ------
    PhaseOrderFaulty
        With every fault: a code twice, a link to one that is not there, a length or a wait below
        zero, and a circle, which is named.
    """
    _check(activities)
    by_code = {one.code: one for one in activities}
    sorter = TopologicalSorter({one.code: [x.after for x in one.links] for one in activities})
    try:
        sorter.prepare()
    except CycleError as error:
        raise _circle(error.args[1]) from error
    ordered: list[Activity] = []
    while sorter.is_active():
        ready = sorter.get_ready()
        ordered += (by_code[code] for code in ready)
        sorter.done(*ready)
    return ordered


def _check(activities: Sequence[Activity]) -> None:
    faults, times = Faults(), Counter(one.code for one in activities)
    for code, number in times.items():
        if number > 1:
            faults.add(f"activity {quoted(code)}", "is listed twice")
    for one in activities:
        where = f"activity {quoted(one.code)}"
        if one.length < 0:
            faults.add(where, f"lasts {one.length}", "a length is zero or more")
        for link in one.links:
            if link.after not in times:
                what = f"waits for {quoted(link.after)}, which does not exist"
                faults.add(where, what, did_you_mean(link.after, times))
            if link.wait < 0 or link.calendar_days < 0:
                wait = min(link.wait, link.calendar_days)
                faults.add(where, f"waits {wait} after {link.after}", "zero or more")
    faults.raise_if_any(PhaseOrderFaulty)


def _circle(codes: Sequence[str]) -> PhaseOrderFaulty:
    """Return the fault that names a circle, of which each is waited for by the next."""
    path = " waits for ".join(reversed(codes))
    return PhaseOrderFaulty([Fault("after", f"goes in a circle: {path}", "cut one of them")])
