"""Events: what may happen besides the estimated work, how likely, at what cost or delay."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt

from estimator.errors import Faults, RangeFaulty, quoted
from estimator.ranges.distributions import Distribution, Fixed
from estimator.ranges.latin_hypercube import EVENTS, line_generator, strata
from estimator.ranges.pert_quantiles import Values
from estimator.ranges.range_check import number, probabilities


@dataclass(frozen=True)
class Event:
    """Something that may happen, and what it then costs or how long it holds up the work.

    Parameters
    ----------
    name : str
        "An old cistern turns up under the floor".
    probability : float
        0 to 1.
    cost : Distribution [cent]
        If it happens; below zero where it saves money, zero where it only takes time.
    phase : str
        Where the money goes, and whose work is held up.
    days : Distribution [working day]
        By how much longer its phase then takes: a delivery that comes late, weather.

    Raises
    ------
    RangeFaulty
        If the probability is not within 0 to 1, it has neither cost nor days, it may be either
        cost or saving, its days may be below zero, or they are of no phase.

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
    days: Distribution = field(default=Fixed(0.0))

    def __post_init__(self) -> None:
        where, faults = f"event {quoted(self.name)}", Faults()
        chance = number(self.probability, f"{where}, probability", faults)
        if chance is not None and not 0.0 <= chance <= 1.0:
            faults.add(
                where,
                f"a probability of {chance:g} is not between 0 and 1",
                "write one chance in four as 0.25",
            )
        self._check_cost(where, faults)
        self._check_days(where, faults)
        faults.raise_if_any(RangeFaulty)
        object.__setattr__(self, "probability", chance)

    def _check_cost(self, where: str, faults: Faults) -> None:
        if not isinstance(self.cost, Distribution) or not (self.costs_money or self.takes_time):
            faults.add(where, "has no cost", "say what it costs if it happens")
        elif self.cost.low < 0.0 < self.cost.high:
            faults.add(where, "may be a cost or a saving", "make two events of it")

    def _check_days(self, where: str, faults: Faults) -> None:
        if not isinstance(self.days, Distribution):
            faults.add(where, "its days are not a range", "give low, likely and high")
        elif self.days.low < 0.0:
            faults.add(where, f"may take {self.days.low:g} days", "zero or more")
        elif self.takes_time and not self.phase:
            faults.add(where, "gives days but no phase", "name the phase whose work is held up")

    @property
    def takes_time(self) -> bool:
        """Whether it may hold up work."""
        return isinstance(self.days, Distribution) and self.days.high > 0.0

    @property
    def costs_money(self) -> bool:
        """Whether it costs or saves money."""
        return self.cost.low != 0.0 or self.cost.high != 0.0

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
        return self._if_it_happens(self.cost, probabilities(u))

    def days_at(self, u: npt.ArrayLike) -> Values:
        """Return the days that go with the cost at `u`: a long one is dear [working day]."""
        return self._if_it_happens(self.days, probabilities(u))

    def _if_it_happens(self, what: Distribution, share: Values) -> Values:
        if self.probability == 0.0:
            return np.zeros_like(share)
        if self.cost.high <= 0.0:
            first, happens = 0.0, share <= self.probability
        else:
            first = 1.0 - self.probability
            happens = share >= first
        within = np.clip(share - first, 0.0, self.probability) / self.probability
        return np.where(happens, what.quantile(within), 0.0)


def drawn_days(event: Event, number: int, seed: int, iterations: int) -> Values:
    """Return by how many days an event holds up its phase in each iteration [working day].

    Parameters
    ----------
    event : Event
        That may take time.
    number : int
        Its place among the events of the job.
    seed, iterations : int
        As of `JobRanges`, in which it happens in the same iterations.
    """
    chance = line_generator(seed, EVENTS, number)
    days = event.days_at(strata(chance, iterations))
    chance.shuffle(days)
    return days
