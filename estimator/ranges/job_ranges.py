"""The ranges of a job: its lines and events, and how they are drawn."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from estimator.cents import Cents
from estimator.errors import AmountTooLarge, Faults, RangeFaulty, fault
from estimator.ranges.correlation import DEFAULT_CORRELATION, Correlation, check_line_count
from estimator.ranges.events import Event
from estimator.ranges.item_correlation import ByItems
from estimator.ranges.item_range import ItemRange
from estimator.ranges.latin_hypercube import (
    DEFAULT_ITERATIONS,
    DEFAULT_SEED,
    EVENTS,
    LINE_SCORES,
    LINES,
    check_run,
    line_generator,
    strata,
)
from estimator.ranges.line_ranges import CostRange, LineRange
from estimator.ranges.scores import Ranks, ranks_of

Line = LineRange | CostRange | ItemRange

_LARGEST_EXACT_FLOAT = 2.0**53
_LARGEST_SUM = 2.0**62
_MOST_TOTALS = 50_000_000


@dataclass(frozen=True)
class JobRanges:
    """The ranges of a job, and how they are drawn.

    Parameters
    ----------
    lines : tuple of LineRange, CostRange or ItemRange
        All lines of the estimate, those without a range, too.
    events : tuple of Event
        What may happen besides; independent of the lines and of each other, and no part of the
        estimate.
    correlation : ByGroups, ByItems or ByMatrix
        How the costs of lines move together.
    seed : int
        The same seed gives the same bytes.
    iterations : int
        100 to a million.

    Raises
    ------
    RangeFaulty
        If seed or iterations are absurd, or there is nothing to add up.
    CorrelationFaulty
        If a matrix does not fit the lines.
    AmountTooLarge
        If what the lines may cost at most cannot be added up to the cent.
    """

    lines: tuple[Line, ...]
    events: tuple[Event, ...] = ()
    correlation: Correlation = DEFAULT_CORRELATION
    seed: int = DEFAULT_SEED
    iterations: int = DEFAULT_ITERATIONS

    def __post_init__(self) -> None:
        object.__setattr__(self, "lines", tuple(self.lines))
        object.__setattr__(self, "events", tuple(self.events))
        check_run(self.seed, self.iterations)
        if not self.lines and not self.events:
            raise fault(RangeFaulty, "there is neither a line nor an event", "", "ranges")
        check_line_count(self.correlation, len(self.lines))
        if len(self.phases) * self.iterations > _MOST_TOTALS:
            raise fault(
                RangeFaulty,
                f"{len(self.phases):,} phases by {self.iterations:,} iterations are too many",
                "take fewer iterations",
                "iterations",
            )
        self._check_amounts()

    @cached_property
    def phases(self) -> tuple[str, ...]:
        """The phases that money goes to, in the order of the lines."""
        return tuple(dict.fromkeys(one.phase for one in (*self.lines, *self.events)))

    @property
    def count(self) -> int:
        """How many lines and events there are; events are numbered after the lines."""
        return len(self.lines) + len(self.events)

    @property
    def phase_estimates(self) -> tuple[int, ...]:
        """The estimate of each phase [cent]."""
        sums = dict.fromkeys(self.phases, 0)
        for line in self.lines:
            sums[line.phase] += line.estimate_cents
        return tuple(sums.values())

    def ranks(self) -> Ranks:
        """Return the ranks of the lines, ready to use."""
        by_items = isinstance(self.correlation, ByItems)
        groups = [line.item if by_items else line.kind for line in self.lines]
        return ranks_of(self.correlation, groups, self.seed, self.iterations, LINE_SCORES)

    def costs(self, number: int, ranks: Ranks) -> Cents:
        """Return the simulated costs of one line or event, iteration by iteration [cent].

        Parameters
        ----------
        number : int
            0 to `count` - 1.
        ranks : Ranks
            From `ranks()`; kept by the caller, because lines share their factors.
        """
        if number >= len(self.lines):
            return self._event_costs(number - len(self.lines))
        line = self.lines[number]
        chance = line_generator(self.seed, LINES, number)
        if line.is_certain:
            return np.full(self.iterations, np.rint(line.most_cents), dtype=np.int64)
        order = ranks.order(number)
        if order is None:
            costs = line.costs(chance, self.iterations)
            return np.rint(costs, out=costs).astype(np.int64)
        cents = np.empty(self.iterations, dtype=np.int64)
        cents[order] = np.rint(line.rising_costs(chance, self.iterations))
        return cents

    def _event_costs(self, number: int) -> Cents:
        chance = line_generator(self.seed, EVENTS, number)
        drawn = self.events[number].quantile(strata(chance, self.iterations))
        cents = np.rint(drawn).astype(np.int64)
        chance.shuffle(cents)
        return cents

    def _check_amounts(self) -> None:
        faults, largest = Faults(), 0.0
        for line in self.lines:
            most = max(abs(line.least_cents), abs(line.most_cents))
            largest += most
            if not most < _LARGEST_EXACT_FLOAT:
                faults.add(f"line {line.name}", "may cost more than can be counted in cents")
        largest += sum(max(abs(one.cost.low), abs(one.cost.high)) for one in self.events)
        if not faults.entries and not largest * self.iterations < _LARGEST_SUM:
            faults.add("ranges", "may add up to more than can be counted in cents")
        faults.raise_if_any(AmountTooLarge)
