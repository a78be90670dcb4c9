"""Lines whose cost is not certain: by factors on the estimate, or by the cost itself."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import prod

import numpy as np
from numpy.random import Generator

from estimator.errors import Faults, RangeFaulty, fault, quoted
from estimator.ranges.distributions import Distribution, Fixed
from estimator.ranges.pert_quantiles import Values
from estimator.ranges.range_check import check_cents

CERTAIN = Fixed(1.0)


@dataclass(frozen=True)
class LineRange:
    """A line of the estimate, and by what factors it may come out differently.

    Parameters
    ----------
    name : str
        Of the line, such as `20.010/3`.
    estimate_cents : int [cent]
        As priced; negative for salvage.
    quantity, rate, production : Distribution
        Factors on the quantity, the rate and the production rate; 1 is as estimated.
        `Triangular(36, 40, 50).scaled(1 / 40)` makes a factor of a rate.
    kind : str
        The group by which lines move together, such as `labor`.
    phase : str
        Where the money goes.
    item : str
        Cost code; lines may move together by it.

    Raises
    ------
    RangeFaulty
        If a factor may be below zero, a production factor may be zero, or the estimate is not in
        whole cents.

    Notes
    -----
    Cost = estimate x quantity x rate / production. The three vary independently of each other;
    what moves together is the cost of one line with the cost of another.

    Examples
    --------
    >>> from estimator.ranges.distributions import Triangular, Uniform
    >>> line = LineRange("20.010/1", 400_000, rate=Uniform(0.9, 1.2), production=Fixed(0.8))
    >>> round(line.least_cents), round(line.most_cents)
    (450000, 600000)
    """

    name: str
    estimate_cents: int
    quantity: Distribution = CERTAIN
    rate: Distribution = CERTAIN
    production: Distribution = CERTAIN
    kind: str = ""
    phase: str = ""
    item: str = ""

    def __post_init__(self) -> None:
        where, faults = f"line {quoted(self.name)}", Faults()
        check_cents(self.estimate_cents, where, faults)
        for aspect in ("quantity", "rate", "production"):
            may_be_zero = aspect != "production"
            check_factor(getattr(self, aspect), f"{where}, {aspect}", faults, may_be_zero)
        faults.raise_if_any(RangeFaulty)

    @property
    def is_certain(self) -> bool:
        """Whether nothing about it varies."""
        return self.estimate_cents == 0 or not any(True for _ in self._varying())

    @property
    def least_cents(self) -> float:
        """The least that it may cost [cent]."""
        return min(self._extremes())

    @property
    def most_cents(self) -> float:
        """The most that it may cost [cent]."""
        return max(self._extremes())

    def costs(self, chance: Generator, iterations: int) -> Values:
        """Return a Latin sample of the cost in random order [cent]."""
        sample = np.full(iterations, self._fixed_part())
        for factor, divides in self._varying():
            drawn = factor.rising_sample(chance, iterations)
            chance.shuffle(drawn)
            sample = sample / drawn if divides else sample * drawn
        return sample

    def rising_costs(self, chance: Generator, iterations: int) -> Values:
        """Return a Latin sample of the cost in rising order [cent]."""
        varying = list(self._varying())
        if len(varying) != 1:
            return np.sort(self.costs(chance, iterations))
        factor, divides = varying[0]
        drawn = factor.rising_sample(chance, iterations)
        sample = self._fixed_part() / drawn if divides else self._fixed_part() * drawn
        return sample[::-1] if sample[0] > sample[-1] else sample

    def _varying(self) -> Iterator[tuple[Distribution, bool]]:
        """Yield the factors that vary, and whether the cost is divided by them."""
        for factor, divides in (
            (self.quantity, False), (self.rate, False), (self.production, True)
        ):  # fmt: skip
            if factor.low < factor.high:
                yield factor, divides

    def _fixed_part(self) -> float:
        certain = [one.low for one in (self.quantity, self.rate) if one.low == one.high]
        divisor = self.production.low if self.production.low == self.production.high else 1.0
        return self.estimate_cents * prod(certain) / divisor

    def _extremes(self) -> tuple[float, float]:
        least = self.quantity.low * self.rate.low / self.production.high
        most = self.quantity.high * self.rate.high / self.production.low
        return self.estimate_cents * least, self.estimate_cents * most


@dataclass(frozen=True)
class CostRange:
    """A line known by what it may cost.

    Parameters
    ----------
    name : str
        As the report calls it.
    cost : Distribution [cent]
        Its likely value, to the cent, is the estimate.
    kind, phase, item : str
        As of `LineRange`.

    Raises
    ------
    RangeFaulty
        If the cost is not a range.

    Examples
    --------
    >>> from estimator.ranges.distributions import Triangular
    >>> CostRange("roofer", Triangular(900_000, 1_000_000, 1_400_000)).estimate_cents
    1000000
    """

    name: str
    cost: Distribution
    kind: str = ""
    phase: str = ""
    item: str = ""

    def __post_init__(self) -> None:
        if not isinstance(self.cost, Distribution):
            where = f"line {quoted(self.name)}"
            raise fault(RangeFaulty, "its cost is not a range", "give low, likely and high", where)

    @property
    def estimate_cents(self) -> int:
        """What the estimate has for it: the likely cost [cent]."""
        return int(np.rint(self.cost.likely))

    @property
    def is_certain(self) -> bool:
        """Whether nothing about it varies."""
        return self.cost.low == self.cost.high

    @property
    def least_cents(self) -> float:
        """The least that it may cost [cent]."""
        return self.cost.low

    @property
    def most_cents(self) -> float:
        """The most that it may cost [cent]."""
        return self.cost.high

    def costs(self, chance: Generator, iterations: int) -> Values:
        """Return a Latin sample of the cost in random order [cent]."""
        sample = self.rising_costs(chance, iterations)
        chance.shuffle(sample)
        return sample

    def rising_costs(self, chance: Generator, iterations: int) -> Values:
        """Return a Latin sample of the cost in rising order [cent]."""
        return self.cost.rising_sample(chance, iterations)


def check_factor(factor: object, where: str, faults: Faults, may_be_zero: bool = True) -> None:
    """Note a factor that is not a range, or may be below zero."""
    if not isinstance(factor, Distribution):
        faults.add(where, "is not a range", "give low, likely and high")
    elif factor.low < 0.0 or (factor.low == 0.0 and not may_be_zero):
        remedy = "a factor on the estimate is above zero, such as 0.9"
        faults.add(where, f"may be as low as {factor.low:g}", remedy)
