"""Ranks for the lines of a simulation, so that their costs move together as wanted.

Each line has a normal score in every iteration; the scores correlate as the lines shall. A line's
costs, drawn in strata, are then laid out in the order of its scores (a Gaussian copula by rank
reordering), which keeps every stratum of every line.

References
----------
R. L. Iman and W. J. Conover, "A distribution-free approach to inducing rank correlation among
input variables", Communications in Statistics B 11 (1982).
"""

from __future__ import annotations

from collections.abc import Sequence
from math import sqrt
from typing import Protocol

import numpy as np
import numpy.typing as npt

from estimator.errors import CorrelationFaulty, fault
from estimator.ranges.correlation import ByGroups, Correlation, check_line_count
from estimator.ranges.item_correlation import ByItems
from estimator.ranges.latin_hypercube import (
    factor_generator,
    line_generator,
    normal_scores,
)
from estimator.ranges.pert_quantiles import Values

RankOrder = npt.NDArray[np.int64]
Scores = npt.NDArray[np.float32]

_ROWS_AT_ONCE = 256
_ITERATIONS_AT_ONCE = 512
_SCORE_GRID = 2.0**18
_MOST_SCORES = 50_000_000
_ALL_LINES = "all lines"


class Ranks(Protocol):
    """Tells for each line which iteration has its lowest score, the next, and so on."""

    def order(self, line: int) -> RankOrder | None:
        """Return the iterations in rising order of a line's score; None if any order will do."""


class _AnyOrder:
    def order(self, line: int) -> RankOrder | None:  # noqa: ARG002
        return None


class _GroupRanks:
    """Scores made of a factor that all lines share, one of the group and one of the line."""

    def __init__(
        self,
        correlation: ByGroups,
        groups: Sequence[str],
        seed: int,
        iterations: int,
        stream: int,
    ) -> None:
        self._correlation, self._groups = correlation, groups
        self._seed, self._iterations, self._stream = seed, iterations, stream
        self._factors: dict[str, Values] = {}

    def order(self, line: int) -> RankOrder | None:
        group, between = self._groups[line], self._correlation.between
        within = self._correlation.of_group(group)
        own = line_generator(self._seed, self._stream, line)
        score = normal_scores(own, self._iterations)
        score *= sqrt(1.0 - within)
        if between > 0.0:
            score += self._factor(_ALL_LINES, sqrt(between))
        if within > between:
            score += self._factor(f"group {group}", sqrt(within - between))
        return rising_order(score)

    def _factor(self, name: str, weight: float) -> Values:
        """Return a factor times its weight, which is the same for all lines that share it."""
        if name not in self._factors:
            chance = factor_generator(self._seed, name)
            self._factors[name] = weight * normal_scores(chance, self._iterations)
        return self._factors[name]


class _ItemRanks:
    """Scores made of a factor that all lines share, and of factors of the named items."""

    def __init__(
        self, correlation: ByItems, items: Sequence[str], seed: int, iterations: int, stream: int
    ) -> None:
        self._correlation, self._items = correlation, items
        self._seed, self._iterations, self._stream = seed, iterations, stream
        self._shared = self._factor(_ALL_LINES) * sqrt(correlation.between)
        self._factors = [self._factor(f"item {code}") for code in correlation.items]

    def order(self, line: int) -> RankOrder | None:
        named, between = self._correlation.items, self._correlation.between
        if (code := self._items[line]) in named:
            score = self._shared.copy()
            for weight, factor in zip(
                self._correlation.root[named.index(code)].tolist(), self._factors, strict=True
            ):
                score += weight * factor
            return rising_order(score)
        own = line_generator(self._seed, self._stream, line)
        return rising_order(
            self._shared + sqrt(1.0 - between) * normal_scores(own, self._iterations)
        )

    def _factor(self, name: str) -> Values:
        return normal_scores(factor_generator(self._seed, name), self._iterations)


class _MatrixRanks:
    """Scores by a root of the matrix, a block of lines at a time.

    The last bits of a matrix product depend on its shape, on the machine and on how many threads
    share it. So the root has 24 binary places and scores 18: their products add up to less than
    2^53 units of the 42nd place and are exact, in whatever order they are added.
    """

    def __init__(self, root: Values, seed: int, iterations: int, stream: int) -> None:
        self._root, self._first = root, -1
        self._own: Scores = np.empty((len(root), iterations), dtype=np.float32)
        self._block: Scores = np.empty((_ROWS_AT_ONCE, iterations), dtype=np.float32)
        for line, row in enumerate(self._own):
            scores = normal_scores(line_generator(seed, stream, line), iterations)
            row[:] = np.rint(scores * _SCORE_GRID) / _SCORE_GRID

    def order(self, line: int) -> RankOrder | None:
        first = line - line % _ROWS_AT_ONCE
        if first != self._first:
            self._mix(first)
        return rising_order(self._block[line - first].astype(np.float64))

    def _mix(self, first: int) -> None:
        """Work out the scores of a block of lines, a slab of iterations at a time."""
        rows = self._root[first : first + _ROWS_AT_ONCE]
        used = int(np.flatnonzero(rows.any(axis=0))[-1]) + 1
        for start in range(0, self._own.shape[1], _ITERATIONS_AT_ONCE):
            slab = slice(start, start + _ITERATIONS_AT_ONCE)
            mixed = rows[:, :used] @ self._own[:used, slab].astype(np.float64)
            self._block[: len(rows), slab] = mixed
        self._first = first


def ranks_of(
    correlation: Correlation, groups: Sequence[str], seed: int, iterations: int, stream: int
) -> Ranks:
    """Return the ranks of lines that move together.

    Parameters
    ----------
    correlation : ByGroups, ByItems or ByMatrix
        How the lines move together.
    groups : sequence of str, shape (n,)
        The group of each line; by items, the cost code of each.
    seed, iterations : int
        Of the simulation.
    stream : int
        What the lines' own scores are drawn for. The factors that lines share depend on the seed
        alone, so that two simulations of one job share them, too.

    Raises
    ------
    CorrelationFaulty
        If a matrix does not fit the lines, or they are too many for one.
    """
    if correlation.is_independent:
        return _AnyOrder()
    if isinstance(correlation, ByGroups):
        return _GroupRanks(correlation, groups, seed, iterations, stream)
    if isinstance(correlation, ByItems):
        return _ItemRanks(correlation, groups, seed, iterations, stream)
    check_line_count(correlation, len(groups))
    if len(groups) * iterations > _MOST_SCORES:
        raise fault(
            CorrelationFaulty,
            f"{len(groups):,} lines by {iterations:,} iterations are too many for a matrix",
            "take fewer iterations, or give coefficients by groups",
            "correlation",
        )
    return _MatrixRanks(correlation.root, seed, iterations, stream)


def rising_order(scores: Values) -> RankOrder:
    """Return the places of scores in rising order, ties by place.

    Notes
    -----
    The same as `argsort`, about a fifth faster, and with ties that do not depend on the machine:
    score and place are packed into one whole number. Of the score 61 bits are left, less those of
    the place: 47 for ten thousand iterations.

    Examples
    --------
    >>> rising_order(np.array([0.3, -1.0, 0.3])).tolist()
    [1, 0, 2]
    """
    bits = max(1, (len(scores) - 1).bit_length())
    largest = max(-float(scores.min()), float(scores.max()), 1e-9)
    packed = (scores * (2.0 ** (61 - bits) / largest)).astype(np.int64)
    packed <<= bits
    packed |= np.arange(len(scores))
    packed.sort()
    packed &= (1 << bits) - 1
    return packed
