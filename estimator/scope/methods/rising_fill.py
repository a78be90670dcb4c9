"""How a fill rises: feet a day, and the day on which it reaches a level.

A floor that slopes fills from its deepest point::

    top    ______________________
           `-.                  |
    level - - -`-. - - - - - - -|      below the level: at each depth, what of it
                  `-.           |      is deeper than the level is below the top
                     `-.________|  deepest
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil

import numpy as np
import numpy.typing as npt

from estimator.assemblies.assembly import CREW_HOURS, LEAST_DAYS, QUANTITY, SHIFT
from estimator.assemblies.needs import worked_out
from estimator.quantity.depth_profile import end_depths
from estimator.scope.input_value import InputValue
from estimator.scope.level import DEPTH, Level
from estimator.scope.methods.method import Method
from estimator.scope.methods.method_work import method_inputs, method_values, slopes_of

Values = npt.NDArray[np.float64]

_STEPS = 400
_EVEN_PARTS = 200
_HAIR = 1e-6


@dataclass(frozen=True)
class RisingFill:
    """A fill on its way up.

    Parameters
    ----------
    level : Level
        Of its top, and the marks that are looked for.
    heights_ft : float array, shape (n,) [ft]
        Above the deepest point, from 0 to the top.
    shares : float array, shape (n,)
        Of the whole quantity that is below each height, from 0 to 1.
    days_at_work, days_of_waiting : float [day]
        What the whole takes by its hours, and what its lifts take to wait for each other.
    """

    level: Level
    heights_ft: Values
    shares: Values
    days_at_work: float
    days_of_waiting: float

    @property
    def days(self) -> float:
        """Of the whole fill [day]."""
        return max(self.days_at_work, self.days_of_waiting)

    @property
    def feet_per_day(self) -> float:
        """How much it rises in a day where it is deepest, on average [ft/day]."""
        return float(self.heights_ft[-1]) / self.days

    def share_below(self, level: InputValue) -> float:
        """Return the share of the whole quantity that is below a level."""
        return float(np.interp(self._height_ft(level), self.heights_ft, self.shares))

    def level_ft(self, share: float) -> float:
        """Return the level at which a share of the whole quantity stands [ft]."""
        height = float(np.interp(share, self.shares, self.heights_ft))
        return self.level.top.base_value - float(self.heights_ft[-1]) + height

    def day_of(self, level: InputValue) -> int:
        """Return the day of the work, from 1, on which a level is reached.

        Lifts that wait for each other go up evenly from the deepest point; hours go with what is
        placed.
        """
        by_height = self._height_ft(level) / float(self.heights_ft[-1])
        days = max(self.days_at_work * self.share_below(level), self.days_of_waiting * by_height)
        return whole_day(days)

    def _height_ft(self, level: InputValue) -> float:
        return level.base_value - self.level.top.base_value + float(self.heights_ft[-1])


def whole_day(days: float) -> int:
    """Return the number of the day, from 1, on which so many days of work end."""
    return max(1, ceil(days - _HAIR))


def rising_fill(method: Method, shift: InputValue, level: Level | None) -> RisingFill | None:
    """Return how a method fills up to a level; None if none is stated, or it has no depth.

    Parameters
    ----------
    method : Method
        With an input `depth`.
    shift : InputValue
        [hr/day]
    level : Level or None
        Of the top.

    Notes
    -----
    The pace is taken as even. An even slope counts with 200 depths, which is as good as exact;
    corners and spots with the eight of their profile: within a percent of the whole, measured.
    """
    depth = method.inputs.get(DEPTH)
    if level is None or depth is None or not depth.base_value:
        return None
    inputs = method_inputs(method, shift)
    assembly = method.paced_assembly
    values = method_values(method, inputs, slopes_of([method.inputs]))
    depths, parts = depths_of_ground(depth)
    deepest = depth.base_value * (1.0 if depth.profile is None else depth.profile.deepest)
    heights = np.linspace(0.0, deepest, _STEPS + 1)
    filled = np.maximum(depths[:, None] - (deepest - heights), 0.0)
    flat = {**inputs, DEPTH: filled.ravel()}
    quantity = np.broadcast_to(worked_out(assembly, False, flat)[QUANTITY], filled.size)
    below = parts @ quantity.reshape(filled.shape)
    return RisingFill(
        level,
        heights,
        below / below[-1],
        float(np.ravel(values[CREW_HOURS] / inputs[SHIFT])[0]),
        float(np.ravel(values.get(LEAST_DAYS, np.zeros(1)))[0]),
    )


def depths_of_ground(depth: InputValue) -> tuple[Values, Values]:
    """Return depths and the share of the ground that has each.

    Parameters
    ----------
    depth : InputValue
        [ft] One depth or several; two ends count with 200, anything else with its eight.
    """
    if depth.profile is None:
        return np.array([depth.base_value]), np.ones(1)
    relative, deepest = np.array(depth.profile.relative), depth.profile.deepest
    shares = np.array(depth.profile.shares)
    if deepest <= 2.0:
        even = end_depths([2.0 - deepest, deepest])
        if np.allclose(np.sort(relative), even.relative):
            along = (np.arange(_EVEN_PARTS) + 0.5) / _EVEN_PARTS
            relative = 2.0 - deepest + 2.0 * (deepest - 1.0) * along
            shares = np.full(_EVEN_PARTS, 1.0 / _EVEN_PARTS)
    return relative * depth.base_value, shares


def rising_words(fill: RisingFill) -> str:
    """Return how fast a fill rises and when it reaches its marks and its top, without full stop."""
    level = fill.level
    reached = [f"{one.text} is reached on day {fill.day_of(one)}" for one in level.marks]
    top = f"its top, {level.top.text}, on day {whole_day(fill.days)}"
    about = f"rises {fill.feet_per_day:,.2f} ft a day on average where it is deepest"
    return f"{about}: {', '.join((*reached, top))} of the work, at an even pace"
