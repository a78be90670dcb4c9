"""The order of phases: who waits for whom, refused where they wait for each other."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from estimator.errors import Faults, PhaseOrderFaulty, RangeFaulty, did_you_mean, fault, quoted
from estimator.ranges.distributions import Distribution


@dataclass(frozen=True)
class PhaseDuration:
    """A phase, how long it may take, and what must be done before.

    Parameters
    ----------
    code : str
        Of the phase.
    days : Distribution [working day]
        Net of weather; zero for a mere date.
    after : tuple of str
        Codes of the phases that must be finished first.
    waits : tuple of float
        [working day] How long after each of these, in their order; empty for no wait.
    kind : str
        The group by which durations move together; a kind of cost lines shares its luck with them.

    Raises
    ------
    RangeFaulty
        If the days are not a range, or may be below zero.
    """

    code: str
    days: Distribution
    after: tuple[str, ...] = ()
    kind: str = "duration"
    waits: tuple[float, ...] = ()

    def __post_init__(self) -> None:
        where = f"phase {quoted(self.code)}, days"
        object.__setattr__(self, "after", tuple(self.after))
        if not isinstance(self.days, Distribution):
            raise fault(RangeFaulty, "are not a range", "give low, likely and high", where)
        if self.days.low < 0.0:
            what = f"may be as few as {self.days.low:g}"
            raise fault(RangeFaulty, what, "work takes no time at least", where)


Predecessors = tuple[tuple[int, ...], ...]
Waits = tuple[tuple[float, ...], ...]


def waits_of(phases: Sequence[PhaseDuration], waits_for: Predecessors) -> Waits:
    """Return how long each phase waits after each of its predecessors, the longest that is said.

    Parameters
    ----------
    phases, waits_for
        As `working_order` takes and returns them.
    """
    waits = []
    for phase, before in zip(phases, waits_for, strict=True):
        pairs = list(zip(phase.after, phase.waits or (0.0,) * len(phase.after), strict=True))
        codes = (phases[one].code for one in before)
        waits.append(tuple(max(wait for other, wait in pairs if other == code) for code in codes))
    return tuple(waits)


def working_order(phases: Sequence[PhaseDuration]) -> tuple[tuple[int, ...], Predecessors]:
    """Return an order in which phases can be done, and what each waits for.

    Parameters
    ----------
    phases : sequence of PhaseDuration
        In any order.

    Returns
    -------
    order : tuple of int
        Places of the phases, each after all that it waits for; as given where it does not matter.
    predecessors : tuple of tuples of int
        By place, the places of the phases that it waits for.

    Raises
    ------
    PhaseOrderFaulty
        If there is none, a code is listed twice, a phase waits for one that is not there, or phases
        wait for each other; each loop is named.

    Examples
    --------
    >>> from estimator.ranges.distributions import Fixed
    >>> fill, footing = PhaseDuration("20", Fixed(5), ("30",)), PhaseDuration("30", Fixed(3))
    >>> working_order([fill, footing])[0]
    (1, 0)
    """
    place = {phase.code: number for number, phase in enumerate(phases)}
    faults = Faults()
    _check_codes(phases, place, faults)
    faults.raise_if_any(PhaseOrderFaulty)
    waits_for: Predecessors = tuple(
        tuple(dict.fromkeys(place[code] for code in phase.after)) for phase in phases
    )
    order: dict[int, None] = {}
    waiting = list(range(len(phases)))
    while waiting:
        ready = [one for one in waiting if all(before in order for before in waits_for[one])]
        if not ready:
            loop = _loop(waiting, waits_for)
            _note_loop([phases[one].code for one in loop], faults)
            ready = loop  # Go on as if they were done, to find the other loops.
        order |= dict.fromkeys(ready)
        waiting = [one for one in waiting if one not in order]
    faults.raise_if_any(PhaseOrderFaulty)
    return tuple(order), waits_for


def _check_codes(phases: Sequence[PhaseDuration], place: dict[str, int], faults: Faults) -> None:
    if not phases:
        faults.add("phases", "are missing", "give at least one")
    for number, phase in enumerate(phases):
        where = f"phase {quoted(phase.code)}"
        if place[phase.code] != number:
            faults.add(where, "is listed twice", "give each phase a code of its own")
        for code in phase.after:
            if code not in place:
                remedy = did_you_mean(code, place)
                faults.add(where, f"waits for {quoted(code)}, which is not a phase", remedy)


def _loop(waiting: list[int], waits_for: Predecessors) -> list[int]:
    """Return phases each of which waits for the next, and the last for the first."""
    path = [waiting[0]]
    while True:
        following = next(one for one in waits_for[path[-1]] if one in waiting)
        if following in path:
            return path[path.index(following) :]
        path.append(following)


def _note_loop(codes: list[str], faults: Faults) -> None:
    chain = ", which waits for ".join(quoted(code) for code in [*codes[1:], codes[0]])
    faults.add(
        f"phase {quoted(codes[0])}",
        f"waits for {chain}" if len(codes) > 1 else "waits for itself",
        "take one of them out of `after`",
    )
