"""Who takes over from whom: the order in which few hands go from one piece of work to the next."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from estimator.scheduling.activities import Activity, Link


@dataclass
class _Hands:
    """Some of a crew that go the same way: how many, from which work, and since when."""

    number: int
    last: str
    free_at: int


def with_crew_links(
    activities: Sequence[Activity], starts: Mapping[str, int], there: Mapping[str, int]
) -> list[Activity]:
    """Return activities with a further link for each from which few hands come over.

    Any times that keep to these links keep within what is there: so what may be late by how much,
    with the crews in this order, is the float of the longest path through them.

    Parameters
    ----------
    activities : sequence of Activity
        With their needs.
    starts : mapping of str to int
        [working time] When each begins, in an order that keeps within what is there.
    there : mapping of str to int
        How many of each crew or machine there are.

    Notes
    -----
    Hands that have been free the longest are taken first, so that nothing waits without need.
    """
    links: dict[str, dict[str, None]] = {one.code: {} for one in activities}
    in_time = sorted(activities, key=lambda one: starts[one.code])
    for resource, number in there.items():
        hands = [_Hands(number, "", 0)]
        for one in in_time:
            if one.length and one.needs.get(resource):
                links[one.code] |= dict.fromkeys(_taken(hands, one, resource, starts[one.code]))
    return [
        replace(one, links=(*one.links, *(Link(other) for other in links[one.code])))
        for one in activities
    ]


def _taken(hands: list[_Hands], one: Activity, resource: str, start: int) -> list[str]:
    """Return from which work the hands of an activity come, and let them go on to it."""
    left, come_from = one.needs[resource], []
    for some in sorted(hands, key=lambda free: free.free_at):
        if left and some.number and some.free_at <= start:
            taken = min(left, some.number)
            some.number -= taken
            left -= taken
            come_from.append(some.last)
    hands[:] = [some for some in hands if some.number]
    hands.append(_Hands(one.needs[resource], one.code, start + one.length))
    return [code for code in come_from if code]
