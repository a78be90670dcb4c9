"""What a quantity, a rate or a duration may come to: the distributions, each checked when made.

All of them know their mean, variance and quantiles in closed form (PERT: quantiles by a table).
They carry no unit: a range of a duration is in working days, a range of a rate is a factor on it.
"""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass, fields, replace
from typing import Self

import numpy as np
import numpy.typing as npt
from numpy.random import Generator

from estimator.ranges.latin_hypercube import strata
from estimator.ranges.pert_quantiles import LAMBDA, Values, pert_quantiles
from estimator.ranges.range_check import positive, probabilities, take_numbers


@dataclass(frozen=True)
class _Checked:
    """Its numbers are finite and in rising order."""

    def __post_init__(self) -> None:
        take_numbers(self, *(one.name for one in fields(self)))

    def quantile(self, u: npt.ArrayLike) -> Values:
        """Return the value that is not exceeded with probability `u`."""
        raise NotImplementedError

    def rising_sample(self, chance: Generator, iterations: int) -> Values:
        """Return a Latin sample of the values in rising order."""
        return self.quantile(strata(chance, iterations))

    def scaled(self, factor: float) -> Self:
        """Return the distribution of the values times a positive factor."""
        by = positive(factor)
        return replace(self, **{one.name: getattr(self, one.name) * by for one in fields(self)})


@dataclass(frozen=True)
class Fixed(_Checked):
    """A value that is certain.

    Examples
    --------
    >>> Fixed(3.0).variance
    0.0
    """

    value: float

    @property
    def low(self) -> float:
        """The value."""
        return self.value

    likely = high = mean = low

    @property
    def variance(self) -> float:
        """Zero."""
        return 0.0

    def quantile(self, u: npt.ArrayLike) -> Values:
        """Return the value, once for each probability."""
        return np.full_like(probabilities(u), self.value)


@dataclass(frozen=True)
class Uniform(_Checked):
    """Anything from low to high, all of it as likely.

    Examples
    --------
    >>> Uniform(2.0, 5.0).variance
    0.75
    """

    low: float
    high: float

    @property
    def likely(self) -> float:
        """The middle: no value is likelier than another."""
        return self.low + (self.high - self.low) / 2.0

    mean = likely

    @property
    def variance(self) -> float:
        """(high - low)^2 / 12."""
        return (self.high - self.low) ** 2 / 12.0

    def quantile(self, u: npt.ArrayLike) -> Values:
        """Return the value that is not exceeded with probability `u`."""
        return self.low + (self.high - self.low) * probabilities(u)


@dataclass(frozen=True)
class _ThreePoint(_Checked):
    """Low, likely and high; the subclass knows the shape between, exactly or to 10^-6 of it."""

    low: float
    likely: float
    high: float

    def quantile(self, u: npt.ArrayLike) -> Values:
        """Return the value that is not exceeded with probability `u`."""
        share, width = probabilities(u), self.high - self.low
        return self._quantile(share, width) if width else np.full_like(share, self.low)

    def _quantile(self, share: Values, width: float) -> Values:
        raise NotImplementedError


@dataclass(frozen=True)
class Triangular(_ThreePoint):
    """Low, likely and high, joined by straight lines.

    Examples
    --------
    >>> Triangular(0.0, 1.0, 2.0).quantile([0.125, 0.5]).tolist()
    [0.5, 1.0]
    """

    @property
    def mean(self) -> float:
        """(low + likely + high) / 3."""
        return (self.low + self.likely + self.high) / 3.0

    @property
    def variance(self) -> float:
        """The square of the width, less what the likely value takes from it, over 18."""
        width, left = self.high - self.low, self.likely - self.low
        return (width**2 - left * (width - left)) / 18.0

    def rising_sample(self, chance: Generator, iterations: int) -> Values:
        """Return a Latin sample of the values in rising order."""
        # The quantiles to the bit; rising shares have one place where they pass the likely value,
        # so each side of it is worked out in place.
        sample = strata(chance, iterations)
        width, left = self.high - self.low, self.likely - self.low
        split = bisect_left(sample, left, key=width.__mul__)
        below, above = sample[:split], sample[split:]
        below *= left
        np.subtract(1.0, above, out=above)
        above *= width - left
        sample *= width
        np.sqrt(sample, out=sample)
        below += self.low
        np.subtract(self.high, above, out=above)
        return sample

    def _quantile(self, share: Values, width: float) -> Values:
        left = self.likely - self.low
        is_below = share * width < left
        outside = np.where(is_below, share * left, (1.0 - share) * (width - left))
        from_end = np.sqrt(outside * width)
        return np.where(is_below, self.low + from_end, self.high - from_end)


@dataclass(frozen=True)
class Pert(_ThreePoint):
    """Low, likely and high, with more weight on the likely value than a triangle gives it.

    Notes
    -----
    A beta distribution from low to high with alpha = 1 + 4 (likely - low) / (high - low) and
    alpha + beta = 6. Its variance is (mean - low) (high - mean) / 7. The standard deviation of
    (high - low) / 6 that many texts print is a rule of thumb: 4, 6, 12 has 1.43, not 1.33.

    References
    ----------
    D. G. Malcolm, J. H. Roseboom, C. E. Clark and W. Fazar, "Application of a technique for
    research and development program evaluation", Operations Research 7 (1959) (from memory).

    Examples
    --------
    >>> round(Pert(4.0, 6.0, 12.0).mean, 2)
    6.67
    """

    @property
    def mean(self) -> float:
        """(low + 4 likely + high) / 6."""
        return (self.low + LAMBDA * self.likely + self.high) / (LAMBDA + 2.0)

    @property
    def variance(self) -> float:
        """(mean - low) (high - mean) / 7."""
        return (self.mean - self.low) * (self.high - self.mean) / (LAMBDA + 3.0)

    def _quantile(self, share: Values, width: float) -> Values:
        return self.low + width * pert_quantiles(share, (self.likely - self.low) / width)


Distribution = Triangular | Pert | Uniform | Fixed
