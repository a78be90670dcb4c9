"""What a quantity, a rate or a duration may come to: the distributions, each checked when made.

All of them know their mean, variance and quantiles in closed form (PERT: quantiles by a table).
They carry no unit: a range of a duration is in working days, a range of a rate is a factor on it.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from math import isfinite
from numbers import Real
from typing import Any

import numpy as np
import numpy.typing as npt

from estimator.errors import Faults, RangeFaulty, fault, quoted
from estimator.pricing.ranges.pert_quantiles import LAMBDA, Values, pert_quantiles

_RISING = "write low, likely and high in rising order"


@dataclass(frozen=True)
class Fixed:
    """A value that is certain.

    Examples
    --------
    >>> Fixed(3.0).variance
    0.0
    """

    value: float

    def __post_init__(self) -> None:
        _take_numbers(self, "value")

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
        return np.full_like(_probabilities(u), self.value)

    def scaled(self, factor: float) -> Fixed:
        """Return the value times a positive factor."""
        return Fixed(self.value * _positive(factor))


@dataclass(frozen=True)
class Uniform:
    """Anything from low to high, all of it as likely.

    Examples
    --------
    >>> Uniform(2.0, 5.0).variance
    0.75
    """

    low: float
    high: float

    def __post_init__(self) -> None:
        _take_numbers(self, "low", "high")

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
        return self.low + (self.high - self.low) * _probabilities(u)

    def scaled(self, factor: float) -> Uniform:
        """Return the distribution of the values times a positive factor."""
        return Uniform(self.low * _positive(factor), self.high * factor)


@dataclass(frozen=True)
class Triangular:
    """Low, likely and high, joined by straight lines.

    Examples
    --------
    >>> Triangular(0.0, 1.0, 2.0).quantile([0.125, 0.5]).tolist()
    [0.5, 1.0]
    """

    low: float
    likely: float
    high: float

    def __post_init__(self) -> None:
        _take_numbers(self, "low", "likely", "high")

    @property
    def mean(self) -> float:
        """(low + likely + high) / 3."""
        return (self.low + self.likely + self.high) / 3.0

    @property
    def variance(self) -> float:
        """The square of the width, less what the likely value takes from it, over 18."""
        width, left = self.high - self.low, self.likely - self.low
        return (width**2 - left * (width - left)) / 18.0

    def quantile(self, u: npt.ArrayLike) -> Values:
        """Return the value that is not exceeded with probability `u`, exactly."""
        share = _probabilities(u)
        width, left = self.high - self.low, self.likely - self.low
        if width == 0.0:
            return np.full_like(share, self.low)
        is_below = share * width < left
        outside = np.where(is_below, share * left, (1.0 - share) * (width - left))
        from_end = np.sqrt(outside * width)
        return np.where(is_below, self.low + from_end, self.high - from_end)

    def scaled(self, factor: float) -> Triangular:
        """Return the distribution of the values times a positive factor."""
        return Triangular(self.low * _positive(factor), self.likely * factor, self.high * factor)


@dataclass(frozen=True)
class Pert:
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

    low: float
    likely: float
    high: float

    def __post_init__(self) -> None:
        _take_numbers(self, "low", "likely", "high")

    @property
    def mean(self) -> float:
        """(low + 4 likely + high) / 6."""
        return (self.low + LAMBDA * self.likely + self.high) / (LAMBDA + 2.0)

    @property
    def variance(self) -> float:
        """(mean - low) (high - mean) / 7."""
        return (self.mean - self.low) * (self.high - self.mean) / (LAMBDA + 3.0)

    def quantile(self, u: npt.ArrayLike) -> Values:
        """Return the value not exceeded with probability `u`, to a millionth of the range."""
        share = _probabilities(u)
        width = self.high - self.low
        if width == 0.0:
            return np.full_like(share, self.low)
        return self.low + width * pert_quantiles(share, (self.likely - self.low) / width)

    def scaled(self, factor: float) -> Pert:
        """Return the distribution of the values times a positive factor."""
        return Pert(self.low * _positive(factor), self.likely * factor, self.high * factor)


Distribution = Triangular | Pert | Uniform | Fixed


@dataclass(frozen=True)
class Event:
    """Something that may happen, and what it then costs.

    Parameters
    ----------
    name : str
        "An old cistern turns up under the floor".
    probability : float
        0 to 1.
    cost : Distribution [cent]
        If it happens; below zero where it saves money.
    phase : str
        Where the money goes.

    Raises
    ------
    RangeFaulty
        If the probability is not within 0 to 1, the cost is missing or zero, or it may be either
        cost or saving.

    Examples
    --------
    >>> cistern = Event("old cistern", 0.25, Uniform(100_000, 300_000), phase="20")
    >>> cistern.mean
    50000.0
    >>> cistern.quantile([0.5, 0.75, 1.0]).tolist()
    [0.0, 100000.0, 300000.0]
    """

    name: str
    probability: float
    cost: Distribution
    phase: str = ""

    def __post_init__(self) -> None:
        where, faults = f"event {quoted(self.name)}", Faults()
        chance = _number(self.probability, f"{where}, probability", faults)
        if chance is not None and not 0.0 <= chance <= 1.0:
            faults.add(
                where,
                f"a probability of {chance:g} is not between 0 and 1",
                "write one chance in four as 0.25",
            )
        if not isinstance(self.cost, Distribution) or self.cost.low == self.cost.high == 0.0:
            faults.add(where, "has no cost", "say what it costs if it happens")
        elif self.cost.low < 0.0 < self.cost.high:
            faults.add(where, "may be a cost or a saving", "make two events of it")
        faults.raise_if_any(RangeFaulty)
        object.__setattr__(self, "probability", chance)

    @property
    def mean(self) -> float:
        """Probability times the mean cost [cent]."""
        return self.probability * self.cost.mean

    @property
    def variance(self) -> float:
        """By probability p: p (variance + mean^2) - (p mean)^2 [cent^2]."""
        return self.probability * (self.cost.variance + self.cost.mean**2) - self.mean**2

    def quantile(self, u: npt.ArrayLike) -> Values:
        """Return the cost not exceeded with probability `u`; 0 where it does not happen [cent]."""
        share = _probabilities(u)
        if self.probability == 0.0:
            return np.zeros_like(share)
        if self.cost.high <= 0.0:
            first, happens = 0.0, share <= self.probability
        else:
            first = 1.0 - self.probability
            happens = share >= first
        within = np.clip(share - first, 0.0, self.probability) / self.probability
        return np.where(happens, self.cost.quantile(within), 0.0)


def _take_numbers(distribution: object, *names: str) -> None:
    """Turn the named fields into floats in rising order, or tell all that is wrong with them."""
    faults = Faults()
    given = {name: _number(getattr(distribution, name), name, faults) for name in names}
    known = {name: value for name, value in given.items() if value is not None}
    low, high, likely = (known.get(name) for name in ("low", "high", "likely"))
    if low is not None and high is not None and low > high:
        faults.add("low", f"{low:g} is above the high of {high:g}", _RISING)
    elif likely is not None:
        if low is not None and likely < low:
            faults.add("likely", f"{likely:g} is below the low of {low:g}", _RISING)
        if high is not None and likely > high:
            faults.add("likely", f"{likely:g} is above the high of {high:g}", _RISING)
    faults.raise_if_any(RangeFaulty)
    for name, value in known.items():
        object.__setattr__(distribution, name, value)


def _number(given: Any, where: str, faults: Faults) -> float | None:
    if isinstance(given, bool) or not isinstance(given, (Real, Decimal, Fraction)):
        faults.add(where, f"{quoted(given)} is no plain number", "write it as 12.5")
        return None
    value = float(given)
    if not isfinite(value):
        faults.add(where, f"{value} is no finite number", "write it as 12.5")
        return None
    return value


def _positive(factor: float) -> float:
    if not (isfinite(factor) and factor > 0.0):
        raise fault(RangeFaulty, f"{factor} is not above zero", "scale by a positive factor")
    return factor


def _probabilities(u: npt.ArrayLike) -> Values:
    share = np.asarray(u, dtype=np.float64)
    if share.size and not (share.min() >= 0.0 and share.max() <= 1.0):
        raise fault(RangeFaulty, "a probability is not between 0 and 1", "", "quantile")
    return share
