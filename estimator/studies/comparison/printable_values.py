"""The values of one thing that a sentence can say: a grid of whole steps, each printed exactly."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from math import ceil, log10

import numpy as np
import numpy.typing as npt

from estimator.errors import MethodsFaulty, fault, quoted
from estimator.studies.comparison.varied import Sort, Varied

Values = npt.NDArray[np.float64]

MOST_STEPS = 10_000
_HUNDREDTHS, _TEN_THOUSANDTHS, _TENTHS = -2, -4, -1
_HAIR = 1e-6
_MINUTES_OF_AN_HOUR = 60.0


@dataclass(frozen=True)
class PrintableValues:
    """Whole multiples of a power of ten within a range.

    Parameters
    ----------
    exponent : int
        Of ten: the step.
    first, last : int
        In steps.
    """

    exponent: int
    first: int
    last: int

    @property
    def step(self) -> Decimal:
        """From one value to the next."""
        return Decimal(1).scaleb(self.exponent)

    @property
    def values(self) -> Values:
        """All values in rising order, each the float nearest to what is printed."""
        steps = np.arange(self.first, self.last + 1)
        if self.exponent < 0:
            return np.asarray(steps / 10.0**-self.exponent)
        return np.asarray(steps * 10.0**self.exponent)

    def exact(self, place: int) -> Decimal:
        """Return the value at a place of `values` as it is printed."""
        return Decimal(self.first + place).scaleb(self.exponent)


def printable_values(varied: Varied, low: float, high: float) -> PrintableValues:
    """Return the values between two that are looked at.

    Parameters
    ----------
    varied : Varied
        What is varied.
    low, high : float
        [unit of what is varied]

    Raises
    ------
    MethodsFaulty
        If the range is empty, or has no two printable values.

    Notes
    -----
    The step is the finest that anybody writes down (a cent, a hundredth of a foot or of a percent,
    a tenth of a minute from an hour on, a whole number of a count) unless that makes more than
    10,000 steps: then it is the next power of ten that does not.
    """
    if not low < high:
        raise fault(
            MethodsFaulty,
            f"the range from {low:,.6g} to {high:,.6g} is empty",
            "give the lower end first",
            varied.name,
        )
    exponent = max(_finest(varied, high), ceil(log10((high - low) / MOST_STEPS) - _HAIR))
    size = 10.0**exponent
    first, last = int(np.ceil(low / size - _HAIR)), int(np.floor(high / size + _HAIR))
    if last <= first:
        where = quoted(varied.name)
        raise fault(MethodsFaulty, f"{where} has no two values from {low:,.6g} to {high:,.6g}")
    return PrintableValues(exponent, first, last)


def _finest(varied: Varied, high: float) -> int:
    if varied.unit.is_count:
        return 0
    if varied.unit.name == "min" and high >= _MINUTES_OF_AN_HOUR:
        return _TENTHS
    is_sum = varied.is_money and varied.sort is not Sort.RATE
    return _HUNDREDTHS if high > 1.0 or is_sum else _TEN_THOUSANDTHS
