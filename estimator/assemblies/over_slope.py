"""Values of an assembly where a depth is not the same everywhere: taken over the slope.

A formula is worked out at eight depths and at the deepest. Its value is the mean over the slope;
`ceil` and `floor` see lengths at the deepest and everything else in total. Where nothing slopes,
all is as plain as ever.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from estimator.quantity.formulas import Formula

Values = npt.NDArray[np.float64]


@dataclass(frozen=True)
class Slopes:
    """How the depths of n items are spread.

    Parameters
    ----------
    relative : mapping of str to float array, shape (9, n)
        By input: eight depths and the deepest, each over the mean depth.
    shares : float array, shape (9, n)
        Of the ground, the last of them zero.
    """

    relative: Mapping[str, Values]
    shares: Values


class OverSlope(dict[str, Values]):
    """The values of items by name, their means; beside them what they are along the slope."""

    def __init__(self, values: Mapping[str, Values], slopes: Slopes) -> None:
        super().__init__(values)
        self.shares = slopes.shares
        self.along = {name: values[name] * by for name, by in slopes.relative.items()}
        self.deepest = {name: here[-1] for name, here in self.along.items()}

    def values_along(self, formula: Formula) -> Values:
        """Return a formula at each depth; of shape (9, n) if a depth is in it."""
        return formula.evaluate({**self, **self.along}, {**self, **self.deepest})

    def keep_along(self, name: str, here: Values, *, is_length: bool) -> None:
        """Keep a name that was worked out along the slope, and its mean."""
        self[name] = self.mean(here)
        if here.ndim > 1:
            self.along[name] = here
            if is_length:
                self.deepest[name] = here[-1]

    def mean(self, here: Values) -> Values:
        """Return the mean over the slope of what was worked out at each depth."""
        return np.asarray(np.sum(here * self.shares, axis=0)) if here.ndim > 1 else here


def evaluated(formula: Formula, values: Mapping[str, Values]) -> Values:
    """Return a formula in base units, its mean over the slope where a depth slopes."""
    if isinstance(values, OverSlope) and formula.names & values.along.keys():
        return values.mean(values.values_along(formula))
    return formula.evaluate(values)
