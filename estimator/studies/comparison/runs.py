"""Runs of neighboring values at which the same methods are cheapest, made few enough to be read."""

from __future__ import annotations

from collections.abc import Callable
from functools import cached_property
from itertools import groupby, pairwise
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from estimator.cents import Cents

Marks = npt.NDArray[np.bool_]

MOST_RUNS = 4
# Shorter neighbors than this share of all values are never looked at singly where there are many.
_SHORT = 0.01


class Run(NamedTuple):
    """Values from the place `start` up to, and without, the place `stop`."""

    start: int
    stop: int


class Runs:
    """The runs over which the same methods are cheapest, and what holds in any stretch of them.

    Parameters
    ----------
    cents : int64 array, shape (methods, n)
        What each method costs at each of n neighboring values.
    """

    def __init__(self, cents: Cents) -> None:
        self._cents = cents
        self._is_best: Marks = cents == cents.min(axis=0)
        self._apart: dict[Run, int] = {}

    def methods(self, run: Run) -> tuple[int, ...]:
        """Return the rows that are cheapest anywhere in a run."""
        return tuple(np.flatnonzero(self._is_best[:, slice(*run)].any(axis=1)).tolist())

    def apart_cents(self, run: Run) -> int:
        """Return the most that one of a run's methods costs more than another at any value of it.

        Nothing if one is cheapest all over it, or several cost the same.
        """
        if run not in self._apart:
            cents = self._cents[list(self.methods(run)), slice(*run)]
            self._apart[run] = int((cents.max(axis=0) - cents.min(axis=0)).max())
        return self._apart[run]

    @cached_property
    def readable(self) -> tuple[Run, ...]:
        """No more than four runs unless each of them has another answer.

        Neighbors are made one, those first that come least far apart.
        """
        runs = self._all
        if self._is_too_many(runs):
            shortest = _SHORT * self._cents.shape[1]
            runs = _joined(runs, lambda run: -1 if run.stop - run.start <= shortest else run.start)
        while self._is_too_many(runs):
            runs = _joined(self._closest_joined(runs), self._turns)
        return tuple(runs)

    @property
    def _all(self) -> list[Run]:
        changes = np.flatnonzero((self._is_best[:, 1:] != self._is_best[:, :-1]).any(axis=0)) + 1
        return [Run(*ends) for ends in pairwise([0, *changes.tolist(), self._cents.shape[1]])]

    def _is_too_many(self, runs: list[Run]) -> bool:
        """Whether there are many, and an answer comes back; methods that cross once never do."""
        return len(runs) > MOST_RUNS and len({self.methods(run) for run in runs}) < len(runs)

    def _closest_joined(self, runs: list[Run]) -> list[Run]:
        pairs = [Run(one.start, other.stop) for one, other in pairwise(runs)]
        place = min(range(len(pairs)), key=lambda n: self.apart_cents(pairs[n]))
        return [*runs[:place], pairs[place], *runs[place + 2 :]]

    def _turns(self, run: Run) -> object:
        """Return what sets a run apart: which methods take turns in it, or that it stands alone."""
        return self.methods(run) if self.apart_cents(run) else run


def _joined(runs: list[Run], key: Callable[[Run], object]) -> list[Run]:
    """Return runs with neighbors of the same key made one."""
    groups = (list(group) for _, group in groupby(runs, key))
    return [Run(group[0].start, group[-1].stop) for group in groups]
