"""Waits of the calendar past work of no length: on which day that is done.

Work that takes time is done on the evening of its last day. Work of no length is done when what it
waits for lets it: on the evening on which other work ends, on the morning on which other work
begins, or on the morning on which a wait of its own is over. As working time, an evening and the
next morning are the same, so a wait that counts from such a morning says so by a link of its own.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from estimator.scheduling.activities import FINISH, START, Activity, Link, in_working_order


def with_mornings(activities: Sequence[Activity]) -> list[Activity]:
    """Return activities whose waits of the calendar count from the right day.

    A wait from work of no length that is done in the morning gets a second link, to what begins on
    that morning: other work, or an activity of no length that stands for the end of a wait. Such
    follow the others, which keep their order.

    Parameters
    ----------
    activities : sequence of Activity
        In any order.

    Raises
    ------
    PhaseOrderFaulty
        As of `in_working_order`.
    """
    ordered = in_working_order(activities)
    mornings = _Mornings({one.code: one for one in ordered})
    worked = {one.code: one for one in activities}
    for one in ordered:
        further = []
        for link in one.links:
            if link.calendar_days and link.from_ == FINISH:
                for morning, ends in mornings.of[link.after].items():
                    worked |= {ends.code: ends} if ends else {}
                    further.append(replace(morning, calendar_days=link.calendar_days))
        if further:
            worked[one.code] = replace(one, links=(*one.links, *further))
        mornings.add(one)
    return list(worked.values())


class _Mornings:
    """For each activity the mornings on which it may be done: links, and the ends of waits."""

    def __init__(self, by_code: Mapping[str, Activity]) -> None:
        self.by_code = by_code
        self.of: dict[str, dict[Link, Activity | None]] = {}

    def add(self, one: Activity) -> None:
        self.of[one.code] = {} if one.length else dict(self.mornings(one))

    def mornings(self, one: Activity) -> Iterator[tuple[Link, Activity | None]]:
        earlier = self.before_work(one)
        for link in one.links:
            if link.calendar_days:
                ends = Activity(f"{link} of {one.code}", "", 0, (link,))
                yield Link(ends.code, from_=START), ends
            elif link.from_ == START:
                yield link, None
            elif not link.wait and link.after not in earlier:
                yield from self.of[link.after].items()

    def before_work(self, one: Activity) -> set[str]:
        """Return what is done before other work that an activity waits for, and so never last."""
        before = (self.by_code[link.after] for link in one.links if link.from_ == FINISH)
        return {link.after for other in before if other.length for link in other.links}
