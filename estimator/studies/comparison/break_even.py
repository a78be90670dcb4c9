"""Where the better choice flips: the value at which another method becomes the cheapest.

Prices go in steps (whole loads, half days, cents), so that two of them seldom meet exactly. What is
looked for is the pair of neighboring printable values between which the ranking changes; both
sides are priced as any estimate is, and the answer gives both.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from math import floor, log10

import numpy as np
import numpy.typing as npt

from estimator.errors import BreakEvenMissing, InputFaulty, MethodsFaulty, fault, quoted
from estimator.money import dollars, exact_arithmetic, money_text
from estimator.studies.comparison.comparison import Comparison
from estimator.studies.comparison.curves import cost_curves
from estimator.studies.comparison.varied import Varied, all_varied

Values = npt.NDArray[np.float64]
Places = npt.NDArray[np.int64]

_SCANNED = 129
_NARROWED = 33
_DIGITS = 4


@dataclass(frozen=True)
class Side:
    """One side of a turning point, priced.

    Parameters
    ----------
    value : float
        [unit of what is varied]
    method : int
        Place of the method that is the better one here.
    costs : tuple of Decimal
        [$] In all: of the method that is better below, and of the one that is better above.
    """

    value: float
    method: int
    costs: tuple[Decimal, Decimal]

    @property
    def gain(self) -> Decimal:
        """How much less the better one costs here [$]."""
        return abs(self.costs[0] - self.costs[1])


@exact_arithmetic
@dataclass(frozen=True)
class TurningPoint:
    """Two neighboring values between which the choice flips.

    Parameters
    ----------
    varied : Varied
        What is varied.
    below, above : Side
        `above.value` is one step higher.
    """

    varied: Varied
    below: Side
    above: Side

    @property
    def distance(self) -> float:
        """How far it is from the value as written, as a factor of 1 or more."""
        base, value = self.varied.base, self.below.value
        if base <= 0.0 or value <= 0.0:
            return float("inf")
        return max(base / value, value / base)


@dataclass(frozen=True)
class _Steps:
    """Printable values: whole multiples of a power of ten; of a count, whole numbers."""

    exponent: int
    first: int
    last: int

    def values(self, places: Places) -> Values:
        if self.exponent < 0:
            return np.asarray(places / 10.0**-self.exponent)
        return np.asarray(places * 10.0**self.exponent)


@exact_arithmetic
def turning_points(
    comparison: Comparison,
    varied: Varied,
    low: float,
    high: float,
    methods: Sequence[int] | None = None,
) -> tuple[TurningPoint, ...]:
    """Return where the cheapest method changes between two values, from low to high.

    Parameters
    ----------
    comparison : Comparison
        The methods, priced.
    varied : Varied
        What is varied.
    low, high : float
        [unit of what is varied]
    methods : sequence of int or None
        Places of the methods that compete; None for all.

    Raises
    ------
    MethodsFaulty
        If the range is empty or reaches beyond what the value can be.
    ProductionFaulty
        If a step would take no time.

    Notes
    -----
    The range is scanned at 129 values; a change is then closed in, 33 values at a time, to
    neighbors. Changes that go back and forth between two scanned values count as one or none.
    """
    steps = _steps(varied, low, high)
    places = tuple(range(len(comparison.prepared))) if methods is None else tuple(methods)

    def cents(at: Places) -> npt.NDArray[np.int64]:
        return cost_curves(comparison, varied, steps.values(at)).cents[list(places)]

    turning = []
    for left, right in _changes(cents, steps.first, steps.last):
        costs = cents(np.array([left, right]))
        winners = np.argmin(costs, axis=0)
        pair = costs[winners]
        sides = [
            Side(
                float(steps.values(np.array(at))),
                places[winners[n]],
                (dollars(int(pair[0, n])), dollars(int(pair[1, n]))),
            )
            for n, at in enumerate((left, right))
        ]
        turning.append(TurningPoint(varied, *sides))
    return tuple(turning)


@exact_arithmetic
def break_even(
    comparison: Comparison, first: int, second: int, varied: Varied, low: float, high: float
) -> TurningPoint:
    """Return the first value at which one of two methods takes over from the other.

    Parameters
    ----------
    comparison : Comparison
        The methods, priced.
    first, second : int
        Places of the methods.
    varied : Varied
        What is varied.
    low, high : float
        [unit of what is varied]

    Raises
    ------
    BreakEvenMissing
        If one method costs less over the whole range; with the costs at both ends.
    MethodsFaulty, ProductionFaulty
        As `turning_points` does.
    """
    turning = turning_points(comparison, varied, low, high, (first, second))
    if turning:
        return turning[0]
    ends = cost_curves(comparison, varied, np.array([low, high])).cents[[first, second]]
    names = [comparison.prepared[place].method.name for place in (first, second)]
    better = names[int(np.argmin(ends[:, 0]))]
    at_ends = (
        f"at {value:,.6g} {varied.unit.name} {names[0]} comes to "
        f"{money_text(dollars(int(ends[0, n])))}, {names[1]} to "
        f"{money_text(dollars(int(ends[1, n])))}"
        for n, value in enumerate((low, high))
    )
    raise fault(
        BreakEvenMissing,
        f"{better} costs less over the whole range; {'; '.join(at_ends)}",
        "widen the range, or vary something else",
        varied.name,
    )


@exact_arithmetic
def what_would_change_the_choice(comparison: Comparison) -> tuple[TurningPoint, ...]:
    """Return, for each thing that can vary, where another method becomes cheapest; nearest first.

    Only between half and double the value as written. What makes no sense within that range (a
    step that takes no time) is passed over.
    """
    turning = []
    for varied in all_varied(comparison):
        low, high = varied.usual_range
        try:
            points = turning_points(comparison, varied, low, high)
        except InputFaulty:
            continue
        if points:
            turning.append(min(points, key=lambda one: one.distance))
    return tuple(sorted(turning, key=lambda one: one.distance))


def _changes(
    cents: Callable[[Places], npt.NDArray[np.int64]], first: int, last: int
) -> Iterator[tuple[int, int]]:
    """Return the pairs of neighbors between which the cheapest changes."""
    at = _spread(first, last, _SCANNED)
    winners = np.argmin(cents(at), axis=0)
    for n in np.flatnonzero(winners[1:] != winners[:-1]).tolist():
        yield _closed_in(cents, int(at[n]), int(at[n + 1]))


def _closed_in(
    cents: Callable[[Places], npt.NDArray[np.int64]], left: int, right: int
) -> tuple[int, int]:
    while right - left > 1:
        at = _spread(left, right, _NARROWED)
        winners = np.argmin(cents(at), axis=0)
        n = int(np.flatnonzero(winners != winners[0])[0])
        left, right = int(at[n - 1]), int(at[n])
    return left, right


def _spread(first: int, last: int, count: int) -> Places:
    return np.unique(np.linspace(first, last, count).round().astype(np.int64))


def _steps(varied: Varied, low: float, high: float) -> _Steps:
    if not low < high:
        raise fault(
            MethodsFaulty,
            f"the range from {low:,.6g} to {high:,.6g} is empty",
            "give the lower end first",
            varied.name,
        )
    exponent = floor(log10(high - low)) - _DIGITS
    if varied.unit.is_count:
        exponent = 0
    elif varied.is_money:
        exponent = min(exponent, -2)
    size = 10.0**exponent
    first, last = int(np.ceil(low / size - 1e-6)), int(np.floor(high / size + 1e-6))
    if last <= first:
        where = quoted(varied.name)
        raise fault(MethodsFaulty, f"{where} has no two values from {low:,.6g} to {high:,.6g}")
    return _Steps(exponent, first, last)
