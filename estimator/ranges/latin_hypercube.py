"""Latin hypercube samples that come out the same however the work is cut up.

Each line draws from a generator of its own, which follows from the seed and the number of the
line alone. So neither the size of a chunk, nor the order of lines, nor the number of processes can
change a byte.

References
----------
M. D. McKay, R. J. Beckman and W. J. Conover, "A comparison of three methods for selecting values
of input variables in the analysis of output from a computer code", Technometrics 21 (1979).
"""

from __future__ import annotations

from functools import lru_cache
from numbers import Integral
from statistics import NormalDist
from zlib import crc32

import numpy as np
from numpy.random import SFC64, Generator

from estimator.errors import Faults, RangeFaulty
from estimator.ranges.pert_quantiles import Values

LINES, EVENTS, LINE_SCORES, DURATIONS, DURATION_SCORES, FACTORS = range(6)

LEAST_ITERATIONS, MOST_ITERATIONS = 100, 1_000_000
DEFAULT_ITERATIONS = 10_000
DEFAULT_SEED = 1906

_SEEDS = 2**63


def check_run(seed: object, iterations: object) -> None:
    """Check the seed and the number of iterations of a simulation.

    Raises
    ------
    RangeFaulty
        If the seed is no whole number of 0 to 2^63 - 1, or the iterations are not 100 to a million.

    Examples
    --------
    >>> check_run(1906, 20)
    Traceback (most recent call last):
        ...
    estimator.errors.RangeFaulty: iterations: 20 are too few or too many; take 100 to 1,000,000
    """
    faults = Faults()
    if isinstance(seed, bool) or not isinstance(seed, Integral) or not 0 <= int(seed) < _SEEDS:
        faults.add("seed", "is not a whole number from 0 on", "take any, such as 1906")
    if isinstance(iterations, bool) or not isinstance(iterations, Integral):
        faults.add("iterations", "are not a whole number", f"take {DEFAULT_ITERATIONS:,}")
    elif not LEAST_ITERATIONS <= int(iterations) <= MOST_ITERATIONS:
        most = f"take {LEAST_ITERATIONS:,} to {MOST_ITERATIONS:,}"
        faults.add("iterations", f"{int(iterations):,} are too few or too many", most)
    faults.raise_if_any(RangeFaulty)


def line_generator(seed: int, stream: int, number: int) -> Generator:
    """Return the generator of one line, by seed, use and number alone.

    Parameters
    ----------
    seed : int
        Of the simulation.
    stream : int
        What is drawn: `LINES`, `EVENTS`, `LINE_SCORES`, ...
    number : int
        Of the line within the stream.

    Examples
    --------
    >>> one, again = (line_generator(1906, LINES, 7).random(2).tolist() for _ in range(2))
    >>> one == again
    True
    """
    # The words that SeedSequence(seed, spawn_key=(stream, number)) mixes, without the time that it
    # takes to make them.
    high, low = divmod(int(seed), 2**32)
    return Generator(SFC64(np.array([low, high, 0, 0, stream, number], dtype=np.uint32)))


def factor_generator(seed: int, name: str) -> Generator:
    """Return the generator of a factor that lines share: the same name gives the same factor."""
    return line_generator(seed, FACTORS, crc32(name.encode()))


def strata(chance: Generator, iterations: int) -> Values:
    """Return one random probability out of each of `iterations` equal strata, in rising order.

    Examples
    --------
    >>> points = strata(line_generator(1906, LINES, 0), 4)
    >>> np.floor(points * 4).tolist()
    [0.0, 1.0, 2.0, 3.0]
    """
    points = chance.random(iterations)
    points += _counts(iterations)
    points /= iterations
    # The last point may round up to 1 exactly, which is still a probability.
    return points


def normal_scores(chance: Generator, iterations: int) -> Values:
    """Return the normal scores of `iterations` strata in random order: mean 0, and no clusters.

    Notes
    -----
    Each stratum is taken at its middle: scores are only ranked or mixed, and a factor that all
    lines share must not add chance of its own.
    """
    scores = _rising_scores(iterations).copy()
    chance.shuffle(scores)
    return scores


@lru_cache(maxsize=2)
def _counts(iterations: int) -> Values:
    return np.arange(iterations, dtype=np.float64)


@lru_cache(maxsize=2)
def _rising_scores(iterations: int) -> Values:
    normal, half = NormalDist(), iterations // 2
    lower = np.array([normal.inv_cdf((place + 0.5) / iterations) for place in range(half)])
    middle = [0.0] if iterations % 2 else []
    return np.concatenate([lower, middle, -lower[::-1]])
