"""Where the better choice flips: over which values of one thing each method is the cheapest.

Prices go in steps (whole loads, half days, cents), so that two methods may change places many
times within a narrow range. Every printable value of the range is priced; neighbors with the same
answer make an interval, and where the answer flickers one interval tells who takes part and how far
apart they come at most.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

import numpy as np
import numpy.typing as npt

from estimator.errors import InputFaulty
from estimator.money import dollars, exact_arithmetic
from estimator.studies.comparison.comparison import Comparison
from estimator.studies.comparison.curves import cost_curves
from estimator.studies.comparison.printable_values import printable_values
from estimator.studies.comparison.runs import Runs
from estimator.studies.comparison.varied import Varied, all_varied

Values = npt.NDArray[np.float64]
Places = npt.NDArray[np.int64]

_SAME = 1e-12


@dataclass(frozen=True)
class Interval:
    """Neighboring printable values with one answer.

    Parameters
    ----------
    first, last : Decimal
        [unit of what is varied] Both belong to it.
    methods : tuple of int
        Places of the methods that are cheapest: one; or several that cost the same all over it; or
        several by turns.
    apart : Decimal
        [$] The most that one of them costs more than another at any value; nothing where they cost
        the same.
    """

    first: Decimal
    last: Decimal
    methods: tuple[int, ...]
    apart: Decimal

    @property
    def is_by_turns(self) -> bool:
        """Whether its methods change places within it."""
        return self.apart > 0


@exact_arithmetic
@dataclass(frozen=True)
class CheapestIntervals:
    """Over which values of one thing each method is cheapest.

    Parameters
    ----------
    varied : Varied
        What is varied.
    step : Decimal
        From one value that was priced to the next.
    intervals : tuple of Interval
        From low to high; from the end of one to the start of the next is one step.
    as_written : int or None
        Place of the interval that holds the value as written.
    """

    varied: Varied
    step: Decimal
    intervals: tuple[Interval, ...]
    as_written: int | None

    @property
    def has_change(self) -> bool:
        """Whether not one method is cheapest over all of it."""
        return len(self.intervals) > 1 or self.intervals[0].is_by_turns

    @property
    def distance(self) -> float:
        """How far the value as written is from a change, as a factor of 1 or more."""
        if self.as_written is None or self.intervals[self.as_written].is_by_turns:
            return 1.0
        base, here = self.varied.base, self.as_written
        ends = [float(one.last) for one in self.intervals[:here]][-1:]
        ends += [float(one.first) for one in self.intervals[here + 1 :]][:1]
        factors = (max(base / end, end / base) for end in ends if base > 0.0 and end > 0.0)
        return min(factors, default=float("inf"))


@exact_arithmetic
def cheapest_intervals(
    comparison: Comparison,
    varied: Varied,
    low: float,
    high: float,
    methods: Sequence[int] | None = None,
) -> CheapestIntervals:
    """Return over which values between two each method is cheapest.

    Parameters
    ----------
    comparison : Comparison
        The methods, priced.
    varied : Varied
        What is varied.
    low, high : float
        [unit of what is varied]
    methods : sequence of int or None
        Places of the methods that compete; None for all that can be done.

    Raises
    ------
    MethodsFaulty
        If the range is empty or reaches beyond what the value can be.
    ProductionFaulty
        If a step would take no time.

    Notes
    -----
    All printable values are priced, as any estimate is, and the value as written with them. More
    than four intervals, of which one comes back, are too many to read: neighbors that come least
    far apart become one in which methods take turns.
    """
    printable = printable_values(varied, low, high)
    points = _points(printable.values, varied.base)
    places = comparison.competing if methods is None else tuple(methods)
    cents = cost_curves(comparison, varied, points.values).cents[list(places)]
    runs = Runs(cents)
    intervals: list[Interval] = []
    as_written = None
    for run in runs.readable:
        inside = points.printable[slice(*run)]
        inside = inside[inside >= 0]
        if not inside.size:
            continue
        if run.start <= points.as_written < run.stop:
            as_written = len(intervals)
        ends = printable.exact(int(inside[0])), printable.exact(int(inside[-1]))
        best = tuple(places[row] for row in runs.methods(run))
        intervals.append(Interval(*ends, best, dollars(runs.apart_cents(run))))
    return CheapestIntervals(varied, printable.step, tuple(intervals), as_written)


@exact_arithmetic
def what_would_change_the_choice(comparison: Comparison) -> tuple[CheapestIntervals, ...]:
    """Return, for each thing that can vary, over which values each method is cheapest.

    Only between half and double the value as written, and only what changes the choice; the
    nearest change first. What makes no sense within that range (a step that takes no time) is
    passed over.
    """
    changing = []
    for varied in all_varied(comparison):
        try:
            one = cheapest_intervals(comparison, varied, *varied.usual_range)
        except InputFaulty:
            continue
        if one.has_change:
            changing.append(one)
    return tuple(sorted(changing, key=lambda one: one.distance))


@dataclass(frozen=True)
class _Points:
    """Values that are priced.

    Parameters
    ----------
    values : float array, shape (n,)
        Those that can be printed, and the value as written among them.
    printable : int64 array, shape (n,)
        The place of each among the printable ones; -1 for one as written that is not.
    as_written : int
        The place of the value as written; -1 if it is beyond the range.
    """

    values: Values
    printable: Places
    as_written: int


def _points(values: Values, base: float) -> _Points:
    places = np.arange(len(values))
    if not values[0] <= base <= values[-1]:
        return _Points(values, places, -1)
    nearest = int(np.argmin(np.abs(values - base)))
    if np.isclose(values[nearest], base, rtol=_SAME, atol=0.0):
        return _Points(values, places, nearest)
    at = int(np.searchsorted(values, base))
    return _Points(np.insert(values, at, base), np.insert(places, at, -1), at)
