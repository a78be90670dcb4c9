"""An item whose lines stand on one quantity."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.random import Generator

from estimator.errors import Faults, RangeFaulty, quoted
from estimator.ranges.distributions import Distribution
from estimator.ranges.line_ranges import CostRange, LineRange, check_factor
from estimator.ranges.pert_quantiles import Values


@dataclass(frozen=True)
class ItemRange:
    """All lines of an item, which stand on one quantity.

    If there is more to fill, stone, crew and machine all cost more: the quantity is drawn once for
    all of them, and each line's own rate and production besides.

    Parameters
    ----------
    name : str
        Such as `20.010`.
    quantity : Distribution
        Factor on the quantity of the item; 1 is as estimated.
    parts : tuple of LineRange or CostRange
        Its lines, with what else may vary about them; their kinds and phases are passed over.
    kind, phase, item : str
        As of `LineRange`, for the item as a whole.

    Raises
    ------
    RangeFaulty
        If there is no part, or the quantity is not a range or may be below zero.

    Examples
    --------
    >>> from estimator.ranges.distributions import Uniform
    >>> parts = LineRange("stone", 600_000, rate=Uniform(0.9, 1.2)), LineRange("crew", 400_000)
    >>> fill = ItemRange("20.010", Uniform(0.9, 1.5), parts)
    >>> fill.estimate_cents, round(fill.least_cents), round(fill.most_cents)
    (1000000, 846000, 1680000)
    """

    name: str
    quantity: Distribution
    parts: tuple[LineRange | CostRange, ...]
    kind: str = ""
    phase: str = ""
    item: str = ""

    def __post_init__(self) -> None:
        where, faults = f"item {quoted(self.name)}", Faults()
        object.__setattr__(self, "parts", tuple(self.parts))
        check_factor(self.quantity, f"{where}, quantity", faults)
        if not self.parts:
            faults.add(where, "has no line", "give its lines, those without a range, too")
        faults.raise_if_any(RangeFaulty)

    @property
    def estimate_cents(self) -> int:
        """As priced, all lines together [cent]."""
        return sum(part.estimate_cents for part in self.parts)

    @property
    def is_certain(self) -> bool:
        """Whether nothing about it varies."""
        return self.quantity.low == self.quantity.high and all(one.is_certain for one in self.parts)

    @property
    def least_cents(self) -> float:
        """The least that it may cost [cent]."""
        least = sum(part.least_cents for part in self.parts)
        return min(self.quantity.low * least, self.quantity.high * least)

    @property
    def most_cents(self) -> float:
        """The most that it may cost [cent]."""
        most = sum(part.most_cents for part in self.parts)
        return max(self.quantity.low * most, self.quantity.high * most)

    def costs(self, chance: Generator, iterations: int) -> Values:
        """Return a Latin sample of the cost in random order [cent]."""
        sample = self.quantity.rising_sample(chance, iterations)
        chance.shuffle(sample)
        of_one = np.zeros(iterations)
        for part in self.parts:
            of_one += part.costs(chance, iterations)
        return sample * of_one

    def rising_costs(self, chance: Generator, iterations: int) -> Values:
        """Return a Latin sample of the cost in rising order [cent]."""
        return np.sort(self.costs(chance, iterations))
