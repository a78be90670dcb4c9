"""A carrier that passes a station twice in a cycle: a door both ways, a scale in and out.

The closed network adds up the times of both visits. That is exact where they take equally long;
where they do not, short visits wait behind long ones more than it thinks, and its output is too
high: 22 % at the worst that was played through. What is worked out here tells by how much.
"""

from __future__ import annotations

from itertools import groupby

from estimator.production.working_system import WorkingSystem

_MARGIN = 1.5  # over all systems played through, the difference of the two means falls short


def may_be_high_by(system: WorkingSystem) -> float:
    """Return by which share the output with waiting may be too high; 0 where it is exact.

    Notes
    -----
    One and a half times the distance to the mean values of a network in which each visit waits for
    whoever is present, by the time of their own visits: W_v = s_v + sum over u of s_u Q_u, raised
    by one carrier at a time. The margin is taken from systems that were played through.

    References
    ----------
    M. Reiser, A queueing network analysis of computer communication networks with window flow
    control, IEEE Transactions on Communications 27 (1979) (from memory): the approximation for
    lines in order of arrival with different times.

    Examples
    --------
    >>> from estimator.production.cycle import Load, Step
    >>> from estimator.production.working_system import Station
    >>> def both_ways(minutes_in, minutes_out):
    ...     cycle = (Step("in", minutes_in, "door"), Step("tip", 3.0),
    ...              Step("out", minutes_out, "door"), Step("fetch", 3.0))
    ...     return WorkingSystem("carts", 4, Load(1.0, "ton"), cycle, (Station("door"),))
    >>> may_be_high_by(both_ways(2.0, 2.0)), round(may_be_high_by(both_ways(0.5, 3.5)), 2)
    (0.0, 0.18)
    """
    visits = _visits(system)
    repeated = {place: len({s for p, s in visits if p == place}) for place, _ in visits if place}
    if max(repeated.values(), default=1) < 2:
        return 0.0
    summed = {place: sum(s for p, s in visits if p == place) for place, _ in visits}
    apart = _cycles_per_minute(system, visits)
    together = _cycles_per_minute(system, list(summed.items()))
    return min(1.0, max(0.0, _MARGIN * (1.0 - apart / together)))


def _visits(system: WorkingSystem) -> list[tuple[str, float]]:
    """Return each stay of a cycle: the station and its minutes, those of travel together."""
    minutes = [(step.station, step.minutes_for(system.load)) for step in system.cycle]
    stays = [
        (place, sum(time for _, time in steps))
        for place, steps in groupby(minutes, key=lambda one: one[0])
    ]
    return [stay for stay in stays if stay[0]] + [("", system.travel_minutes)]


def _cycles_per_minute(system: WorkingSystem, visits: list[tuple[str, float]]) -> float:
    slowed = {one.name: 1.0 / (one.places * (1.0 - one.taken_by_others)) for one in system.stations}
    present = [0.0] * len(visits)
    rate = 0.0
    for carriers in range(1, system.carriers + 1):
        stays = [
            time + sum(
                other * slowed[place] * there
                for (at, other), there in zip(visits, present, strict=True)
                if at == place
            )
            if place
            else time
            for place, time in visits
        ]  # fmt: skip
        rate = carriers / sum(stays)
        present = [rate * stay for stay in stays]
    return rate
