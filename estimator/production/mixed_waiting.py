"""Waiting lines of several kinds of carrier: mean values by the number of each kind at work."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import product

import numpy as np
import numpy.typing as npt

from estimator.production.working_system import Station, WorkingSystem

Values = npt.NDArray[np.float64]
Times = Sequence[Mapping[str, Values]]
Lines = list[list[Values]]

_ROUNDS = 4


def cycles_and_waits(
    systems: Sequence[WorkingSystem], times: Times, stations: Mapping[str, Station]
) -> tuple[list[Values], list[Values]]:
    """Return of each kind the cycles a minute of all its carriers, and the wait in each cycle.

    Parameters
    ----------
    systems : sequence of WorkingSystem
        One a kind, for the number of its carriers.
    times : sequence of mapping of str to float array, each of shape (n,) [min]
        Of each kind: at each station, 0 where it does not pass, and of travel under an empty name.
    stations : mapping of str to Station
        Those of all kinds.

    Notes
    -----
    Carriers are added one by one. One that comes finds those who are there without it, Q_j, and
    waits for the time of each of them: s_i + sum(s_j Q_j m_j). Of its own kind m is 1. Another kind
    may hold the station for longer than the one that comes takes to go round: it cannot meet the
    same stay twice, so m_j is no more than c / (s_j + z), its own cycle over that stay and the part
    of the cycle that it is elsewhere. A kind waits with the share 1 / c of its time at c places.
    """
    lines = _LinesOfKinds(times, stations)
    present: dict[tuple[int, ...], Lines] = {}
    rates: list[Values] = []
    stays: Lines = []
    for here in product(*(range(one.carriers + 1) for one in systems)):
        without = [present.get(_less_one(here, kind)) for kind in range(len(here))]
        stays = lines.stays(without, _ROUNDS if min(here) else 1)
        rates = [
            np.asarray(number / cycle)
            for number, cycle in zip(here, lines.cycles(stays), strict=True)
        ]
        present[here] = [
            [rate * at for at in stay] for rate, stay in zip(rates, stays, strict=True)
        ]
        present.pop(_less_one(here, 0), None)
    unhindered = (np.asarray(sum(one.values())) for one in times)
    waits = zip(lines.cycles(stays), unhindered, strict=True)
    return rates, [np.asarray(cycle - free) for cycle, free in waits]


def _less_one(here: tuple[int, ...], kind: int) -> tuple[int, ...]:
    return (*here[:kind], here[kind] - 1, *here[kind + 1 :])


class _LinesOfKinds:
    """The lines at all stations as the kinds see them."""

    def __init__(self, times: Times, stations: Mapping[str, Station]) -> None:
        served = {name: one.places * (1.0 - one.taken_by_others) for name, one in stations.items()}
        self.held = [[time[name] / share for name, share in served.items()] for time in times]
        self.beside = [
            [time[name] * (1.0 - 1.0 / one.places) for name, one in stations.items()]
            for time in times
        ]
        self.apart = [
            time[""] + sum(beside) for time, beside in zip(times, self.beside, strict=True)
        ]

    def cycles(self, stays: Lines) -> list[Values]:
        """Return the minutes of a cycle of each kind."""
        return [
            np.asarray(apart + sum(stay)) for apart, stay in zip(self.apart, stays, strict=True)
        ]

    def stays(self, without: Sequence[Lines | None], rounds: int) -> Lines:
        """Return how long each kind is in line or served at each station, without the rest."""
        stays = self._stays(without, None)
        for _ in range(1, rounds):
            stays = self._stays(without, stays)
        return stays

    def _stays(self, without: Sequence[Lines | None], before: Lines | None) -> Lines:
        return [
            [
                own + (own > 0.0) * self._in_line(kind, at, without[kind], before)
                for at, own in enumerate(held)
            ]
            for kind, held in enumerate(self.held)
        ]

    def _in_line(
        self, kind: int, at: int, there: Lines | None, before: Lines | None
    ) -> Values | float:
        if there is None:
            return 0.0
        met = (
            self.held[other][at] * there[other][at] * self._met(kind, other, at, before)
            for other in range(len(there))
        )
        return np.asarray(sum(met))

    def _met(self, kind: int, other: int, at: int, before: Lines | None) -> Values | float:
        """Return how many of the stays of another kind one carrier can meet, of those there are."""
        if before is None or other == kind:
            return 1.0
        cycle = np.asarray(self.apart[kind] + sum(before[kind]))
        elsewhere = cycle - before[kind][at] - self.beside[kind][at]
        return np.asarray(np.minimum(1.0, cycle / (self.held[other][at] + elsewhere)))
