"""The longest path through the work: earliest and latest times, and how late each may be."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

from estimator.scheduling.activities import START, Activity, Link, in_working_order
from estimator.scheduling.waits_in_a_row import with_mornings
from estimator.scheduling.worked_days import WorkedDays


@dataclass(frozen=True)
class Timetable:
    """When each activity is done, all in working time from the start of the job.

    Parameters
    ----------
    starts, finishes : mapping of str to int
        By code, in working order.
    total_float : mapping of str to int
        By how much an activity may be late without putting off the end of the job.
    """

    starts: Mapping[str, int]
    finishes: Mapping[str, int]
    total_float: Mapping[str, int]

    @property
    def finish(self) -> int:
        """When the last activity is done; zero without any."""
        return max(self.finishes.values(), default=0)

    @property
    def critical(self) -> tuple[str, ...]:
        """The activities that would put off the end if they were late, in working order."""
        return tuple(code for code, spare in self.total_float.items() if spare == 0)


def critical_path(activities: Sequence[Activity], days: WorkedDays | None = None) -> Timetable:
    """Return the earliest times of all activities, and their float, with crews without limit.

    Parameters
    ----------
    activities : sequence of Activity
        In any order.
    days : WorkedDays or None
        The days of the job, by which waits of the calendar are counted; without them, these are
        none.

    Raises
    ------
    PhaseOrderFaulty
        If they go in a circle or name what is not there.

    Notes
    -----
    Forward: start = max over links of the other's finish (or start) + wait. Backward: latest finish
    = min over those that wait of their latest start - wait; of a link from the start, the latest
    start is bound likewise. Float = latest start - start.

    Examples
    --------
    >>> dig = Activity("dig", "Trench", 3)
    >>> pour = Activity("pour", "Footing", 1, (Link("dig"),))
    >>> wall = Activity("wall", "Wall", 5, (Link("pour", wait=2),))
    >>> yard = Activity("yard", "Yard", 4)
    >>> table = critical_path([dig, pour, wall, yard])
    >>> table.finish, table.critical, table.total_float["yard"]
    (11, ('dig', 'pour', 'wall'), 7)
    """
    ordered = in_working_order(with_mornings(activities))
    starts: dict[str, int] = {}
    finishes: dict[str, int] = {}
    for one in ordered:
        ready = (earliest(link, starts, finishes, days) for link in one.links)
        starts[one.code] = max(ready, default=0)
        finishes[one.code] = starts[one.code] + one.length
    latest = _latest_starts(ordered, max(finishes.values(), default=0), days)
    own = {one.code for one in activities}
    starts = {code: start for code, start in starts.items() if code in own}
    spare = {code: latest[code] - start for code, start in starts.items()}
    finishes = {code: finishes[code] for code in starts}
    return Timetable(MappingProxyType(starts), MappingProxyType(finishes), MappingProxyType(spare))


def earliest(
    link: Link, starts: Mapping[str, int], finishes: Mapping[str, int], days: WorkedDays | None
) -> int:
    """Return when a link lets the one that has it begin.

    Parameters
    ----------
    link : Link
        To one that has its times.
    starts, finishes : mapping of str to int
        [working time] By code.
    days : WorkedDays or None
        As of `critical_path`.
    """
    from_start = link.from_ == START
    other = (starts if from_start else finishes)[link.after] + link.wait
    return days.after(other, link.calendar_days, from_start=from_start) if days else other


def _latest_starts(
    ordered: Sequence[Activity], end: int, days: WorkedDays | None
) -> dict[str, int]:
    length = {one.code: one.length for one in ordered}
    latest = {one.code: end - one.length for one in ordered}
    for one in reversed(ordered):
        for link in one.links:
            from_start, bound = link.from_ == START, latest[one.code]
            if days:
                bound = days.latest(bound, link.calendar_days, from_start=from_start)
            bound -= link.wait if from_start else link.wait + length[link.after]
            latest[link.after] = min(latest[link.after], bound)
    return latest
