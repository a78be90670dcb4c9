"""Two kinds of carrier in one system: a large truck and a small one at the same loader.

Each kind has its own load and its own times; what they share are the stations, by name.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np

from estimator.errors import Faults, ProductionFaulty, quoted
from estimator.production.mixed_waiting import Times, Values, cycles_and_waits
from estimator.production.working_system import Station, WorkingSystem

MOST_OF_A_KIND = 60
MOST_KINDS = 2

_HAIR = 1e-9
_TOO_HIGH = 0.08
_TOO_LOW = ((3.0, 0.22), (10.0, 0.32), (float("inf"), 1.0))


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
    full : tuple of str
        What limits it at best: kinds that never stand, and stations that are never free.
    """

    unit: str
    kinds: tuple[KindOutput, ...]
    at_best_per_hr: float
    full: tuple[str, ...]

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
    them (`cycles_and_waits`). At several places a carrier takes the share 1 / c of its time in line
    and the rest beside it; what others take makes a station slower. It is exact where all kinds
    hold stations of one place for the same time; where they do not, `mixed_off_by` tells how far
    off it may be.

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
    (83.6, 74.6)
    """
    check_mixture(systems)
    minutes = [
        {place: np.asarray(one.minutes_at(place)) for place in ("", *_station_names(one))}
        for one in systems
    ]
    rates = mixed_rates(systems, minutes)
    kinds = (
        KindOutput(one.name, one.carriers, one.per_hr(float(rate)), float(wait))
        for one, rate, wait in zip(systems, rates.cycles_per_minute, rates.waits, strict=True)
    )
    best = float(rates.at_best_per_hr)
    return MixedOutput(systems[0].load.unit, tuple(kinds), best, _full(systems, rates))


def _full(systems: Sequence[WorkingSystem], rates: MixedRates) -> tuple[str, ...]:
    """Return the kinds and the stations that have no time left at best."""
    each = tuple(zip(systems, rates.at_best_cycles, strict=True))
    used = {one.name: rate * one.cycle_minutes / one.carriers for one, rate in each}
    stations = {station.name: station for one in systems for station in one.stations}
    for name, station in stations.items():
        held = [rate * one.minutes_at(name) for one, rate in each]
        used[name] = np.sum(held, axis=0) / _served(station)
    return tuple(name for name, share in used.items() if share >= 1.0 - _HAIR)


def _station_names(system: WorkingSystem) -> tuple[str, ...]:
    return tuple(one.name for one in system.stations)


@dataclass(frozen=True)
class MixedRates:
    """What several kinds of carrier do for many sets of times; all arrays of shape (n,).

    Parameters
    ----------
    at_best_per_hr : float array [unit/hr]
        Of all kinds.
    at_best_cycles : tuple of float array [1/min]
        Of each kind: loads of all its carriers in that case.
    cycles_per_minute, waits : tuple of float array [1/min], [min]
        Of each kind: loads of all its carriers, and the mean wait of one in each cycle.
    """

    at_best_per_hr: Values
    at_best_cycles: tuple[Values, ...]
    cycles_per_minute: tuple[Values, ...]
    waits: tuple[Values, ...]


def mixed_rates(
    systems: Sequence[WorkingSystem], minutes: Sequence[Mapping[str, Values]]
) -> MixedRates:
    """Return what several kinds of carrier do for many sets of times.

    Parameters
    ----------
    systems : sequence of WorkingSystem
        As of `mixed_output`; the times of their steps are not used.
    minutes : sequence of mapping of str to float array, each of shape (n,) or () [min]
        Of each kind: of one cycle at each station, and of travel under an empty name.
    """
    stations = {station.name: station for one in systems for station in one.stations}
    none = np.zeros(np.broadcast_shapes(*(t.shape for one in minutes for t in one.values())))
    times = [{name: one.get(name, none) + none for name in (*stations, "")} for one in minutes]
    rates, waits = cycles_and_waits(systems, times, stations)
    best = _best_corner(systems, times, stations)
    worth = np.array([one.per_hr(1.0) for one in systems])
    cycles = tuple(best[..., kind] for kind in range(len(systems)))
    return MixedRates(best @ worth, cycles, tuple(rates), tuple(waits))


def _best_corner(
    systems: Sequence[WorkingSystem], times: Times, stations: Mapping[str, Station]
) -> Values:
    """Return the cycles of each kind that bring most of what carriers and stations allow."""
    none = np.zeros(times[0][""].shape)
    own = [np.add.outer(none, line) for line in np.eye(len(systems))]
    rows = [
        (line, np.asarray(one.carriers / sum(time.values())))
        for line, one, time in zip(own, systems, times, strict=True)
    ]
    rows += [(-line, none) for line in own]
    rows += [
        (np.stack([time[name] for time in times], axis=-1), none + _served(one))
        for name, one in stations.items()
    ]
    limits = np.stack([line for line, _ in rows], axis=-2)
    ends = np.stack([end for _, end in rows], axis=-1)
    worth = np.array([one.per_hr(1.0) for one in systems])
    best: Values = np.zeros((*none.shape, len(systems)))
    for chosen in map(list, combinations(range(len(rows)), len(systems))):
        meets = np.abs(np.linalg.det(limits[..., chosen, :])) > _HAIR
        corners = np.where(meets[..., None, None], limits[..., chosen, :], np.eye(len(systems)))
        corner = np.linalg.solve(corners, ends[..., chosen, None])
        fits = np.all((limits @ corner)[..., 0] <= ends + _HAIR, axis=-1)
        is_better = meets & fits & (corner[..., 0] @ worth > best @ worth)
        best = np.where(is_better[..., None], corner[..., 0], best)
    return best


def _served(station: Station) -> float:
    return station.places * (1.0 - station.taken_by_others)


def mixed_off_by(systems: Sequence[WorkingSystem]) -> tuple[float, float]:
    """Return by which share the output with waiting may be too high, and by which too low.

    Parameters
    ----------
    systems : sequence of WorkingSystem
        As of `mixed_output`.

    Notes
    -----
    Nothing where it is exact. Else the worst of 776 random sites that were played through for
    80,000 minutes each, rounded up: 7 % too high; too low by 21 % where no station is held by one
    kind for more than three times as long as by the other, by 31 % up to ten times, and by half of
    the true output beyond that.
    """
    stations = {station.name: station for one in systems for station in one.stations}
    held = [[one.minutes_at(name) for one in systems] for name in stations]
    shared = [times for times in held if min(times) > 0.0]
    apart = max((max(times) / min(times) for times in shared), default=1.0)
    if apart <= 1.0 + _HAIR and all(one.places == 1 for one in stations.values()):
        return 0.0, 0.0
    return _TOO_HIGH, next(low for most, low in _TOO_LOW if apart <= most)


def check_mixture(systems: Sequence[WorkingSystem]) -> None:
    """Refuse kinds of carrier that cannot be at work together.

    Raises
    ------
    ProductionFaulty
        As `mixed_output`.
    """
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
