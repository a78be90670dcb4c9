"""Carriers that go round between waiting lines: the exact means of a closed network of queues.

All times vary at random (exponentially), which is about the worst that a site does; the other end
of the range is `bottleneck`, where no time varies at all. What stands here knows nothing of
materials: minutes and counts only.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import reduce

import numpy as np
import numpy.typing as npt

from estimator.errors import ProductionFaulty, fault
from estimator.production.number_check import check_count, check_numbers

MOST_CARRIERS = 500
MOST_PLACES = 500

Logarithms = npt.NDArray[np.float64]
Values = npt.NDArray[np.float64]

_MOST_WEIGHTS = 1_000_000


@dataclass(frozen=True)
class ClosedStation:
    """A station with a waiting line, as a network of queues sees it.

    Parameters
    ----------
    minutes : float [min]
        Mean time that one carrier holds one place in each cycle.
    places : int
        How many carriers it serves at once.
    taken_by_others : float
        Share of its time that customers from outside take, 0 to less than 1. They come at random
        and wait in the same line.

    Raises
    ------
    ProductionFaulty
        If the time is not above zero, a count is absurd, or nothing is left for these carriers.
    """

    minutes: float
    places: int = 1
    taken_by_others: float = 0.0

    def __post_init__(self) -> None:
        check_numbers(
            minutes=self.minutes,
            taken_by_others=self.taken_by_others,
            fractions=("taken_by_others",),
        )
        check_count("places", self.places, MOST_PLACES)
        if self.taken_by_others >= 1.0:
            raise fault(
                ProductionFaulty,
                "is all there is: nothing is left for these carriers",
                "enter a share below 1",
                "taken_by_others",
            )


@dataclass(frozen=True)
class NetworkMeans:
    """Long-run means of a closed network.

    Parameters
    ----------
    cycles_per_minute : float [1/min]
        Of all carriers together.
    present : tuple of float
        Mean number of carriers at each station, waiting or served, in the order given.
    waiting : tuple of float
        Mean number of them that wait.
    under_way : float
        Mean number of carriers at no station.
    """

    cycles_per_minute: float
    present: tuple[float, ...]
    waiting: tuple[float, ...]
    under_way: float


def network_means(
    carriers: int, stations: Sequence[ClosedStation], travel_minutes: float
) -> NetworkMeans:
    """Return the long-run means of carriers that visit each station once in a cycle.

    Parameters
    ----------
    carriers : int
        1 to 500.
    stations : sequence of ClosedStation
        In any order: it does not matter.
    travel_minutes : float [min]
        Mean time of a cycle that is spent at no station; may be zero.

    Raises
    ------
    ProductionFaulty
        If there is no carrier or an absurd number, or nothing takes any time.

    Notes
    -----
    With G(n) the sum over all ways to spread n carriers of the product of the stations' weights
    f_i, the throughput is G(N-1) / G(N), and station i holds k carriers with probability
    f_i(k) G_without_i(N-k) / G(N). For c places and time s, f(k) = s^k / (1 x ... x min(k, c)); for
    travel z, z^k / k!; with others that keep a places busy, f(k) sums over all numbers j of them
    C(k+j, j) s^k a^j / (1 x ... x min(k+j, c)). The answers are those of mean value analysis; sums
    of positive terms, in logarithms, stay exact where its recursion subtracts (several places) and
    cannot overflow. Times are exponential, lines are served in order of arrival; for travel any
    spread of times gives the same.

    References
    ----------
    J. P. Buzen, Computational algorithms for closed queueing networks with exponential servers,
    Communications of the ACM 16 (1973); F. Baskett, K. M. Chandy, R. R. Muntz, F. G. Palacios,
    Open, closed, and mixed networks of queues, Journal of the ACM 22 (1975) (both from memory).

    Examples
    --------
    >>> means = network_means(3, [ClosedStation(6.0)], 18.0)
    >>> round(means.cycles_per_minute, 4), round(means.waiting[0], 3)
    (0.109, 0.385)
    """
    check_count("carriers", carriers, MOST_CARRIERS)
    check_numbers(travel_minutes=travel_minutes, may_be_zero=("travel_minutes",))
    if not stations and travel_minutes == 0.0:
        raise fault(ProductionFaulty, "nothing in the cycle takes time", "enter its steps")
    weights = _weights(
        carriers,
        stations,
        [np.asarray(one.minutes) for one in stations],
        np.asarray(travel_minutes),
    )
    total = reduce(_spread, weights)
    rate = float(np.exp(total[carriers - 1] - total[carriers]))
    present = tuple(_mean_present(weights, place, total) for place in range(len(stations)))
    waiting = (
        max(0.0, there - rate * one.minutes) for there, one in zip(present, stations, strict=True)
    )
    return NetworkMeans(rate, present, tuple(waiting), rate * travel_minutes)


def cycle_rates(
    carriers: int,
    stations: Sequence[ClosedStation],
    minutes: Sequence[Values],
    travel_minutes: Values,
) -> Values:
    """Return the cycles in a minute of all carriers together, for many sets of times at once.

    Parameters
    ----------
    carriers : int
        1 to 500.
    stations : sequence of ClosedStation
        For their places and what others take.
    minutes : sequence of float arrays, each of shape (n,) or () [min]
        The time at each station, in the order of `stations`, above zero.
    travel_minutes : float array, shape (n,) or () [min]
        Zero or more.

    Notes
    -----
    The throughput of `network_means`, G(N-1) / G(N), for each set by itself.

    Examples
    --------
    >>> loader = ClosedStation(6.0)
    >>> cycle_rates(3, [loader], [np.array([6.0, 12.0])], np.array(18.0)).round(4)
    array([0.109 , 0.0721])
    """
    shape = np.broadcast_shapes(travel_minutes.shape, *(one.shape for one in minutes))
    flat = [np.broadcast_to(one, shape).ravel() for one in (*minutes, travel_minutes)]
    rates = np.empty(flat[0].size)
    most_at_once = max(1, _MOST_WEIGHTS // (carriers + 1))
    for first in range(0, rates.size, most_at_once):
        here = slice(first, first + most_at_once)
        *at_stations, travel = (one[here] for one in flat)
        total = reduce(_spread, _weights(carriers, stations, at_stations, travel))
        rates[here] = np.exp(total[carriers - 1] - total[carriers])
    return rates.reshape(shape)


def _weights(
    carriers: int,
    stations: Sequence[ClosedStation],
    minutes: Sequence[Values],
    travel_minutes: Values,
) -> list[Logarithms]:
    """Return the logarithm of f(k) of each station, and last of travel; k is the first axis."""
    from scipy.special import gammaln

    count = np.arange(carriers + 1.0)
    weights = [
        np.add.outer(_unit_weights(station, count), np.zeros(time.shape))
        + np.multiply.outer(count, np.log(time))
        for station, time in zip(stations, minutes, strict=True)
    ]
    with np.errstate(divide="ignore", invalid="ignore"):
        powers = np.multiply.outer(count, np.log(travel_minutes))
    powers[0] = 0.0  # to the power of none is one, of no time too
    ways = np.add.outer(gammaln(count + 1.0), np.zeros(travel_minutes.shape))
    return [*weights, powers - ways]


def _unit_weights(station: ClosedStation, count: Logarithms) -> Logarithms:
    """Return the logarithm of f(k) of a station that takes one minute.

    Where carriers and others together fill all places, the sum over others is that of a negative
    binomial; its tail is an incomplete beta function.
    """
    from scipy.special import betainc, gammaln

    share, places = station.taken_by_others, station.places
    full_power = places * np.log(places) - gammaln(places + 1.0) - count * np.log(places)
    free = np.maximum(places - count, 0.0)  # so many others find a place beside k carriers
    share_of_tail = np.where(free > 0.0, betainc(np.maximum(free, 1.0), count + 1.0, share), 1.0)
    with np.errstate(divide="ignore"):
        terms = [full_power - (count + 1.0) * np.log1p(-share) + np.log(share_of_tail)]
    for others in range(places if share > 0.0 else 1):
        ways = gammaln(count + others + 1.0) - gammaln(count + 1.0) - gammaln(others + 1.0)
        offered = others * np.log(share * places) if others else 0.0
        term = ways + offered - gammaln(count + others + 1.0)
        terms.append(np.where(others < free, term, -np.inf))
    return np.asarray(np.logaddexp.reduce(terms))


def _spread(one: Logarithms, other: Logarithms) -> Logarithms:
    """Return the weights of two parts together: each carrier is in the one or in the other."""
    total = np.full_like(one, -np.inf)
    for count in range(len(one)):
        total[count] = np.logaddexp.reduce(one[: count + 1] + other[count::-1])
    return total


def _mean_present(weights: Sequence[Logarithms], place: int, total: Logarithms) -> float:
    elsewhere = reduce(_spread, [one for other, one in enumerate(weights) if other != place])
    chance = np.exp(weights[place] + elsewhere[::-1] - total[-1])
    return float(np.arange(len(chance)) @ chance)
