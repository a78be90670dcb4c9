"""Machines that stop now and then, and the few hands that serve them: finite-source queues.

The classic case of one waiting line: N machines run for a while, then need service by one of c
hands. It is the closed network with a single station, by its own formula; tables of it are in
every older handbook of production.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from estimator.errors import ProductionFaulty, fault
from estimator.production.closed_network import MOST_CARRIERS, MOST_PLACES
from estimator.production.number_check import check_count, check_numbers


@dataclass(frozen=True)
class FiniteSource:
    """Long-run means of machines that are served.

    Parameters
    ----------
    running : float
        Mean number that run.
    served : float
        Mean number in service.
    waiting : float
        Mean number that wait for it; the three add up to all machines.
    arrival_waits : float
        Probability that a machine which stops finds all hands busy, 0 to 1.
    efficiency : float
        Running and served over all, 0 to 1: what waiting leaves.
    probabilities : tuple of float
        That 0, 1, ... N machines are at a stand, waiting or served.
    """

    running: float
    served: float
    waiting: float
    arrival_waits: float
    efficiency: float
    probabilities: tuple[float, ...]


def finite_source(machines: int, service_factor: float, hands: int = 1) -> FiniteSource:
    """Return the long-run means of machines that run, stop and are served.

    Parameters
    ----------
    machines : int
        1 to 500.
    service_factor : float
        X = T / (T + U), service time over service and running time, between 0 and 1.
    hands : int
        How many machines can be served at once.

    Raises
    ------
    ProductionFaulty
        If a count is absurd, or the factor is not between 0 and 1.

    Notes
    -----
    With r = T / U, p(n) is proportional to r^n N! / ((N-n)! x 1 x ... x min(n, c)). A machine that
    stops sees the others only: what it finds is the state of N-1 machines. Running times of any
    spread give the same; service times are exponential.

    References
    ----------
    L. G. Peck and R. N. Hazelwood, Finite Queueing Tables (1958): X, D (an arrival waits) and F
    (efficiency).

    Examples
    --------
    >>> queue = finite_source(5, 0.100)
    >>> round(queue.arrival_waits, 3), round(queue.efficiency, 3)
    (0.386, 0.95)
    """
    check_count("machines", machines, MOST_CARRIERS)
    check_count("hands", hands, MOST_PLACES)
    check_numbers(service_factor=service_factor, fractions=("service_factor",))
    if not 0.0 < service_factor < 1.0:
        raise fault(
            ProductionFaulty,
            "is not between 0 and 1",
            "service time / (service time + running time)",
            "service_factor",
        )
    ratio = service_factor / (1.0 - service_factor)
    chances = _probabilities(machines, ratio, hands)
    stopped = np.arange(machines + 1.0)
    waiting = float(np.maximum(stopped - hands, 0.0) @ chances)
    served = float(np.minimum(stopped, hands) @ chances)
    seen = _probabilities(machines - 1, ratio, hands)
    return FiniteSource(
        running=float((machines - stopped) @ chances),
        served=served,
        waiting=waiting,
        arrival_waits=float(seen[hands:].sum()),
        efficiency=1.0 - waiting / machines,
        probabilities=tuple(float(chance) for chance in chances),
    )


def _probabilities(machines: int, ratio: float, hands: int) -> npt.NDArray[np.float64]:
    """Return the chance of 0 .. machines at a stand, by steps from one number to the next."""
    stopped = np.arange(1.0, machines + 1.0)
    steps = np.log(ratio * (machines - stopped + 1.0) / np.minimum(stopped, hands))
    weights = np.concatenate([[0.0], np.cumsum(steps)])
    chances = np.exp(weights - weights.max())
    return np.asarray(chances / chances.sum())
