"""Events: what may happen besides the estimated work, how likely, and what it then costs."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from estimator.errors import Faults, RangeFaulty, quoted
from estimator.ranges.distributions import Distribution
from estimator.ranges.pert_quantiles import Values
from estimator.ranges.range_check import number, probabilities


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
    >>> from estimator.ranges.distributions import Uniform
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
        chance = number(self.probability, f"{where}, probability", faults)
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
        share = probabilities(u)
        if self.probability == 0.0:
            return np.zeros_like(share)
        if self.cost.high <= 0.0:
            first, happens = 0.0, share <= self.probability
        else:
            first = 1.0 - self.probability
            happens = share >= first
        within = np.clip(share - first, 0.0, self.probability) / self.probability
        return np.where(happens, self.cost.quantile(within), 0.0)
