"""What each part of a working system could do alone, and which of them limits the whole.

No time varies here and no carrier waits unless a station is full: the best that can be expected.
`waiting_lines` gives the other end of the range.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from estimator.errors import ProductionFaulty, did_you_mean, fault, quoted
from estimator.production.closed_network import MOST_CARRIERS
from estimator.production.working_system import WorkingSystem
from estimator.quantity.rounding import whole_above

CARRIERS = "carriers"

_RELATIVE_HAIR = 1e-9


@dataclass(frozen=True)
class SystemPart:
    """A station, or the carriers together, and what it could do if nothing else limited it.

    Parameters
    ----------
    name : str
        Of the station, or `carriers`.
    capacity_per_hr : float [unit/hr]
        With the efficiency of the hour taken off, and the time that others take of a station.
    """

    name: str
    capacity_per_hr: float


@dataclass(frozen=True)
class Balance:
    """The best output of a working system and what limits it.

    Parameters
    ----------
    unit : str
        Of the load.
    output_per_hr : float [unit/hr]
        The least capacity of all parts.
    parts : tuple of Part
        The carriers, then the stations in the order given.
    """

    unit: str
    output_per_hr: float
    parts: tuple[SystemPart, ...]

    @property
    def bottlenecks(self) -> tuple[str, ...]:
        """Names of the parts that limit; several if they are balanced."""
        most = self.output_per_hr * (1.0 + _RELATIVE_HAIR)
        return tuple(part.name for part in self.parts if part.capacity_per_hr <= most)

    def idle_share(self, part: str, output_per_hr: float | None = None) -> float:
        """Return the share of its time that a part is not used, 0 to 1.

        Parameters
        ----------
        part : str
            The carriers or a station, by name.
        output_per_hr : float [unit/hr]
            What the system really puts out; if left out, its best.

        Raises
        ------
        ProductionFaulty
            If no part has this name.
        """
        for one in self.parts:
            if one.name == part:
                output = self.output_per_hr if output_per_hr is None else output_per_hr
                return max(0.0, 1.0 - output / one.capacity_per_hr)
        known = did_you_mean(part, [one.name for one in self.parts])
        raise fault(ProductionFaulty, f"no part {quoted(part)}", known)


def balance(system: WorkingSystem) -> Balance:
    """Return what every part of a system could do in an hour, and the least of them.

    Notes
    -----
    A station of c places that each carrier holds s minutes gives 60 E c (1 - others) / s loads in
    an hour of efficiency E; N carriers with a cycle of C minutes, 60 E N / C. The output is the
    least of them: no arrangement of the work does better.

    References
    ----------
    Asymptotic bounds of a closed network: P. J. Denning and J. P. Buzen, The operational analysis
    of queueing network models, ACM Computing Surveys 10 (1978) (from memory).

    Examples
    --------
    >>> from estimator.production.cycle import Load, Step
    >>> from estimator.production.working_system import Station
    >>> cycle = (Step("load", 6.0, "loader"), Step("haul, dump, return", 18.0))
    >>> trucks = WorkingSystem("trucks", 3, Load(12.0, "cy"), cycle, (Station("loader"),))
    >>> balance(trucks).output_per_hr, balance(trucks).bottlenecks
    (90.0, ('carriers',))
    """
    parts = [SystemPart(CARRIERS, system.per_hr(system.carriers / system.cycle_minutes))]
    for station in system.stations:
        served = station.places * (1.0 - station.taken_by_others)
        minutes = system.minutes_at(station.name)
        parts.append(SystemPart(station.name, system.per_hr(served / minutes)))
    return Balance(system.load.unit, min(part.capacity_per_hr for part in parts), tuple(parts))


def balanced_carriers(system: WorkingSystem) -> int:
    """Return how many carriers keep the slowest station busy, if nothing varies.

    Raises
    ------
    ProductionFaulty
        If the system has no station, so that one more carrier always helps, or it would take more
        than 500.

    Notes
    -----
    N = C / s of the slowest station, raised to a whole carrier: 8.4 / 2.8 is 3, although binary
    floats give a hair more.

    Examples
    --------
    >>> from estimator.production.cycle import Load, Step
    >>> from estimator.production.working_system import Station
    >>> cycle = (Step("load", 2.8, "loader"), Step("haul, dump, return", 5.6))
    >>> balanced_carriers(WorkingSystem("t", 1, Load(64.0, "cy"), cycle, (Station("loader"),)))
    3
    """
    carriers, *stations = balance(system).parts
    if not stations:
        raise fault(
            ProductionFaulty,
            f"{quoted(system.name)} has no station: nothing limits it but its carriers",
            "enter the loader, the opening or the placing crew as a station",
        )
    slowest = min(part.capacity_per_hr for part in stations)
    wanted = slowest / (carriers.capacity_per_hr / system.carriers)
    if wanted > MOST_CARRIERS:
        raise fault(
            ProductionFaulty,
            f"{quoted(system.name)} would need more than {MOST_CARRIERS} carriers",
            "check the minutes and the number of places",
        )
    return int(whole_above(np.asarray(wanted)))
