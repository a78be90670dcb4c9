"""A volume of earth or stone that knows its state, and adds only to its like."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import reduce
from operator import add

import numpy as np

from estimator.errors import GeometryFaulty, fault
from estimator.quantity.takeoff.dimensions import Numbers, dimensions
from estimator.quantity.takeoff.soil import SoilFactors, State, soil_volume_cy


@dataclass(frozen=True, eq=False)
class StatedVolume:
    """A volume and the state that it was measured in.

    Parameters
    ----------
    volume_cy : float or array [cy]
        Zero or more.
    state : State
        Bank, loose or compacted.
    soil : SoilFactors
        What it is: volumes of one soil do not add to those of another.

    Raises
    ------
    GeometryFaulty
        If the volume is negative or not finite; on adding or subtracting another state or soil.

    Examples
    --------
    >>> from estimator.quantity.takeoff.soil import COMMON_EARTH
    >>> dug = StatedVolume(100.0, State.BANK, COMMON_EARTH)
    >>> heap = StatedVolume(25.0, State.LOOSE, COMMON_EARTH)
    >>> (dug.in_state(State.LOOSE) + heap).volume_cy
    150.0
    """

    volume_cy: Numbers
    state: State
    soil: SoilFactors

    def __post_init__(self) -> None:
        (volume,) = dimensions(volume_cy=self.volume_cy, may_be_zero=("volume_cy",))
        object.__setattr__(self, "volume_cy", volume)

    def in_state(self, wanted: State) -> StatedVolume:
        """Return the same earth as it lies in another state."""
        volume = soil_volume_cy(self.volume_cy, self.soil, self.state, wanted)
        return StatedVolume(volume, wanted, self.soil)

    def __add__(self, other: StatedVolume) -> StatedVolume:
        self._refuse_unlike(other)
        return StatedVolume(self.volume_cy + other.volume_cy, self.state, self.soil)

    def __sub__(self, other: StatedVolume) -> StatedVolume:
        self._refuse_unlike(other)
        left = self.volume_cy - other.volume_cy
        if np.any(np.asarray(left) < 0):
            raise fault(
                GeometryFaulty, "more is taken away than there is", "check both", "volume_cy"
            )
        return StatedVolume(left, self.state, self.soil)

    def _refuse_unlike(self, other: StatedVolume) -> None:
        if self.soil != other.soil:
            raise fault(
                GeometryFaulty,
                f"{self.soil.name} and {other.soil.name} are different soils",
                "keep a sum for each",
                "soil",
            )
        if self.state is not other.state:
            raise fault(
                GeometryFaulty,
                f"a volume {self.state.value} and a volume {other.state.value} do not add",
                f"first bring the second {self.state.value}, with in_state",
                "state",
            )


def together(volumes: Iterable[StatedVolume], wanted: State) -> StatedVolume:
    """Return the sum of volumes of one soil, each brought into the state wanted.

    Parameters
    ----------
    volumes : iterable of StatedVolume
        At least one, in any states.
    wanted : State
        Of the sum.

    Raises
    ------
    GeometryFaulty
        If they are of different soils.

    Examples
    --------
    >>> from estimator.quantity.takeoff.soil import COMMON_EARTH
    >>> dug = StatedVolume(100.0, State.BANK, COMMON_EARTH)
    >>> heap = StatedVolume(25.0, State.LOOSE, COMMON_EARTH)
    >>> together([dug, heap], State.BANK).volume_cy
    120.0
    """
    return reduce(add, (one.in_state(wanted) for one in volumes))
