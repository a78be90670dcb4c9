"""Two kinds of carrier in one system: a large truck and a small one at the same loader.

Each kind has its own load and its own times; what they share are the stations, by name.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations, product

import numpy as np

from estimator.errors import Faults, ProductionFaulty, quoted
from estimator.production.working_system import Station, WorkingSystem

MOST_OF_A_KIND = 60
MOST_KINDS = 2

_HAIR = 1e-9
_Population = tuple[int, ...]


@dataclass(frozen=True)
class KindOutput:
    """What one kind of carrier brings beside the others.

    Parameters
    ----------
    name : str
        Of its system.
    carriers : int
        Of this kind.
    with_waiting_per_hr : float [unit/hr]
        If times vary at random.
    wait_minutes : float [min]
        Mean wait of one of them in each cycle, if times vary.
    """

    name: str
    carriers: int
    with_waiting_per_hr: float
    wait_minutes: float


@dataclass(frozen=True)
class MixedOutput:
    """What several kinds of carrier bring together.

    Parameters
    ----------
    unit : str
        Of all loads.
    kinds : tuple of KindOutput
        In the order given.
    at_best_per_hr : float [unit/hr]
        Of all kinds: no order of the work does better.
    """

    unit: str
    kinds: tuple[KindOutput, ...]
    at_best_per_hr: float

    @property
    def with_waiting_per_hr(self) -> float:
        """Of all kinds, if times vary at random [unit/hr]."""
        return sum(one.with_waiting_per_hr for one in self.kinds)


def mixed_output(systems: Sequence[WorkingSystem]) -> MixedOutput:
    """Return what several kinds of carrier bring that meet at the same stations.

    Parameters
    ----------
    systems : sequence of WorkingSystem
        One a kind, one or two. Stations of one name are one station.

    Raises
    ------
    ProductionFaulty
        If there are none or too many kinds or carriers, two have one name, or loads, hours or a
        station of one name differ.

    Notes
    -----
    At best the loads of all kinds are the most that fits: of each kind no more cycles than its
    carriers go round, and at each station no more time than it has,
    sum(x_k s_k) <= c (1 - others).

    With waiting lines, mean value analysis by the number of each kind: a carrier that comes finds
    at a station those of all kinds that are there without it, and waits for the time of each of
    them, s_i + sum(s_j Q_j). At several places a carrier takes the share 1 / c of its time in line
    and the rest beside it; what others take makes a station slower. It is exact where all kinds
    hold stations of one place for the same time; where they do not, sites that are played through
    event by event come out within some percent.

    References
    ----------
    M. Reiser, S. S. Lavenberg, Mean-value analysis of closed multichain queuing networks, Journal
    of the ACM 27 (1980); M. Reiser, A queueing network analysis of computer communication networks
    with window flow control, IEEE Transactions on Communications 27 (1979) (both from memory).

    Examples
    --------
    >>> from estimator.production.cycle import Load, Step
    >>> large, small = (
    ...     WorkingSystem(name, 2, Load(size, "ton"),
    ...                   (Step("load", minutes, "loader"), Step("haul and return", 30.0)),
    ...                   (Station("loader"),))
    ...     for name, size, minutes in (("tandem", 18.0, 9.0), ("single axle", 8.0, 4.0))
    ... )
    >>> both = mixed_output([large, small])
    >>> round(both.at_best_per_hr, 1), round(both.with_waiting_per_hr, 1)
    (83.6, 74.5)
    """
    _check(systems)
    stations = {station.name: station for one in systems for station in one.stations}
    rates, waits = _waiting(systems, stations)
    kinds = (
        KindOutput(one.name, one.carriers, one.per_hr(rate), wait)
        for one, rate, wait in zip(systems, rates, waits, strict=True)
    )
    return MixedOutput(systems[0].load.unit, tuple(kinds), _at_best(systems, stations))


def _at_best(systems: Sequence[WorkingSystem], stations: Mapping[str, Station]) -> float:
    """Return the most that fits: the best corner of what carriers and stations allow."""
    own = np.eye(len(systems))
    rows = [
        (line, one.carriers / one.cycle_minutes) for line, one in zip(own, systems, strict=True)
    ]
    rows += [(-line, 0.0) for line in own]
    rows += [
        (np.array([each.minutes_at(name) for each in systems]),
         one.places * (1.0 - one.taken_by_others))
        for name, one in stations.items()
    ]  # fmt: skip
    limits = np.array([line for line, _ in rows])
    ends = np.array([end for _, end in rows])
    worth = np.array([one.per_hr(1.0) for one in systems])
    best = 0.0
    for chosen in map(list, combinations(range(len(rows)), len(systems))):
        if abs(np.linalg.det(limits[chosen])) > _HAIR:
            corner = np.linalg.solve(limits[chosen], ends[chosen])
            if np.all(limits @ corner <= ends + _HAIR):
                best = max(best, float(worth @ corner))
    return best


def _waiting(
    systems: Sequence[WorkingSystem], stations: Mapping[str, Station]
) -> tuple[list[float], list[float]]:
    """Return cycles a minute of each kind and its wait in each cycle, by mean value analysis."""
    kinds = range(len(systems))
    shares = {name: one.places * (1.0 - one.taken_by_others) for name, one in stations.items()}
    held = [[one.minutes_at(name) / share for name, share in shares.items()] for one in systems]
    apart = [
        one.cycle_minutes - sum(one.minutes_at(name) / stations[name].places for name in stations)
        for one in systems
    ]
    places = range(len(stations))
    present: dict[_Population, list[list[float]]] = {}
    rates, stays = [0.0] * len(systems), [[0.0] * len(stations)] * len(systems)
    for here in product(*(range(one.carriers + 1) for one in systems)):
        rates, stays = [], []
        for kind in kinds:
            without = present.get((*here[:kind], here[kind] - 1, *here[kind + 1 :]))
            stay = [
                held[kind][at] + sum(held[j][at] * without[j][at] for j in kinds)
                if without and held[kind][at]
                else held[kind][at]
                for at in places
            ]
            stays.append(stay)
            rates.append(here[kind] / (apart[kind] + sum(stay)))
        present[here] = [[rates[kind] * stay for stay in stays[kind]] for kind in kinds]
    waits = [
        beside + sum(stay) - one.cycle_minutes
        for one, beside, stay in zip(systems, apart, stays, strict=True)
    ]
    return rates, waits


def _check(systems: Sequence[WorkingSystem]) -> None:
    faults = Faults()
    if not 1 <= len(systems) <= MOST_KINDS:
        faults.add("kinds", f"are {len(systems)}", f"enter 1 to {MOST_KINDS} kinds of carrier")
    names = [one.name for one in systems]
    for name in sorted({name for name in names if names.count(name) > 1}):
        faults.add(f"kind {quoted(name)}", "is listed twice", "add up its carriers")
    for one in systems:
        if one.carriers > MOST_OF_A_KIND:
            faults.add(f"kind {quoted(one.name)}", f"has more than {MOST_OF_A_KIND} carriers")
        first = systems[0]
        if (one.load.unit, one.efficiency, one.shift_hr) != (
            first.load.unit, first.efficiency, first.shift_hr,
        ):  # fmt: skip
            faults.add(
                f"kind {quoted(one.name)}", f"has another unit or other hours than {first.name}",
                "they work on one site",
            )  # fmt: skip
    known: dict[str, Station] = {}
    for station in (station for one in systems for station in one.stations):
        if known.setdefault(station.name, station) != station:
            faults.add(f"station {quoted(station.name)}", "is not the same for all kinds")
    faults.raise_if_any(ProductionFaulty)
