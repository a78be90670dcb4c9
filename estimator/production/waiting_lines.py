"""The output of a working system when its times vary, and who waits where.

Trucks bunch: two arrive at once, then none for a while, and the loader that has enough of them on
paper stands idle and has a line by turns. With exponential times the means of that are exact; a
site is seldom worse. `bottleneck` gives the other end of the range.
"""

from __future__ import annotations

from dataclasses import dataclass

from estimator.production.closed_network import network_means
from estimator.production.repeat_visits import may_be_high_by
from estimator.production.working_system import WorkingSystem


@dataclass(frozen=True)
class WaitingLine:
    """One station in the long run.

    Parameters
    ----------
    station : str
        Where the carriers wait.
    present : float
        Mean number of carriers there, waiting or served.
    waiting : float
        Mean number of them that wait.
    wait_minutes : float [min]
        Mean wait of a carrier in each cycle, in working minutes.
    """

    station: str
    present: float
    waiting: float
    wait_minutes: float


@dataclass(frozen=True)
class QueuedOutput:
    """A working system whose times vary.

    Parameters
    ----------
    unit : str
        Of the load.
    output_per_hr : float [unit/hr]
        What comes through, with the waiting.
    cycle_minutes : float [min]
        Mean time from one load to the next, with waiting, in working minutes.
    lines : tuple of WaitingLine
        In the order of the system's stations.
    under_way : float
        Mean number of carriers at no station.
    may_be_high_by : float
        Share by which the output may be too high, where a station is passed twice in a cycle.

    Notes
    -----
    Little's law: everything present, with those under way, is the number of carriers, and the
    number that wait is the cycles in a minute times the wait in each.
    """

    unit: str
    output_per_hr: float
    cycle_minutes: float
    lines: tuple[WaitingLine, ...]
    under_way: float
    may_be_high_by: float = 0.0

    @property
    def wait_minutes(self) -> float:
        """Mean wait of a carrier in each cycle at all stations together [min]."""
        return sum(line.wait_minutes for line in self.lines)


def queued_output(system: WorkingSystem) -> QueuedOutput:
    """Return the mean output and the waiting lines of a system whose times vary at random.

    Notes
    -----
    A closed network with exponential times (see `closed_network`); never more than the balance of
    the same system. Steps at the same station that follow each other are one stay, whose time is
    taken as exponential as a whole: a little too random, so that the output is rather low. Where a
    carrier comes back to a station later in its cycle, the times of both visits are added, which is
    exact where they are equal; `may_be_high_by` tells how far off it may be where they are not.

    Examples
    --------
    >>> from estimator.production.cycle import Load, Step
    >>> from estimator.production.working_system import Station
    >>> cycle = (Step("load", 6.0, "loader"), Step("haul, dump, return", 18.0))
    >>> trucks = WorkingSystem("trucks", 3, Load(12.0, "cy"), cycle, (Station("loader"),))
    >>> queued = queued_output(trucks)
    >>> round(queued.output_per_hr, 1), round(queued.wait_minutes, 2)
    (78.5, 3.53)
    """
    stations = [one.with_minutes(system.minutes_at(one.name)) for one in system.stations]
    means = network_means(system.carriers, stations, system.travel_minutes)
    lines = (
        WaitingLine(station.name, present, waiting, waiting / means.cycles_per_minute)
        for station, present, waiting in zip(
            system.stations, means.present, means.waiting, strict=True
        )
    )
    return QueuedOutput(
        unit=system.load.unit,
        output_per_hr=system.per_hr(means.cycles_per_minute),
        cycle_minutes=system.carriers / means.cycles_per_minute,
        lines=tuple(lines),
        under_way=means.under_way,
        may_be_high_by=may_be_high_by(system),
    )
