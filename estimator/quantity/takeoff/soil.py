"""Earth in its states, and how many truckloads it makes.

A yard in the bank loosens when it is dug and shrinks when it is compacted; blasted rock grows even
then. Each factor is per bank yard, and every conversion goes through the bank once, so that no
rounded factor is multiplied by another. Volumes that know their state are in `stated_volume`.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from types import MappingProxyType

import numpy.typing as npt

from estimator.quantity.takeoff.dimensions import Numbers, dimensions, whole_count

_LB_PER_TON = 2000.0


class State(Enum):
    """How earth lies: undisturbed, dug and dumped, or rolled."""

    BANK = "bank"
    LOOSE = "loose"
    COMPACTED = "compacted"


@dataclass(frozen=True)
class SoilFactors:
    """Volumes that one bank cubic yard of a soil fills.

    Parameters
    ----------
    name : str
        As a builder calls it.
    loose : float [loose cy per bank cy]
        After digging.
    compacted : float [compacted cy per bank cy]
        After rolling or tamping.
    """

    name: str
    loose: float
    compacted: float

    def __post_init__(self) -> None:
        loose, compacted = map(float, dimensions(loose=self.loose, compacted=self.compacted))
        object.__setattr__(self, "loose", loose)
        object.__setattr__(self, "compacted", compacted)

    def per_bank(self, state: State) -> float:
        """Return the volume in a state that one bank yard fills."""
        return {State.BANK: 1.0, State.LOOSE: self.loose, State.COMPACTED: self.compacted}[state]


# US Army FM 5-434 (2000), Table 1-1, second-hand: tests on the site are better than any table.
SAND_OR_GRAVEL = SoilFactors("sand or gravel", 1.11, 0.95)
COMMON_EARTH = SoilFactors("common earth", 1.25, 0.90)
CLAY = SoilFactors("clay", 1.43, 0.90)
BLASTED_ROCK = SoilFactors("blasted rock", 1.50, 1.30)
SOILS = MappingProxyType(
    {one.name: one for one in (SAND_OR_GRAVEL, COMMON_EARTH, CLAY, BLASTED_ROCK)}
)


def soil_volume_cy(
    volume_cy: npt.ArrayLike, soil: SoilFactors, had: State, wanted: State
) -> Numbers:
    """Return the volume of some earth in another state [cy].

    Parameters
    ----------
    volume_cy : float or array [cy]
        In the state `had`; may be zero.
    soil : SoilFactors
        Its factors.
    had, wanted : State
        The state it was measured in, and the state wanted.

    Raises
    ------
    GeometryFaulty
        If the volume is negative or not finite.

    Examples
    --------
    >>> soil_volume_cy(100, COMMON_EARTH, State.LOOSE, State.COMPACTED)
    72.0
    """
    (volume,) = dimensions(volume_cy=volume_cy, may_be_zero=("volume_cy",))
    return volume * soil.per_bank(wanted) / soil.per_bank(had)


def soil_from_weights(
    name: str, bank_lb_per_cy: float, loose_lb_per_cy: float, compacted_lb_per_cy: float
) -> SoilFactors:
    """Return the factors of a soil from its weights in the three states.

    Parameters
    ----------
    name : str
        As a builder calls it.
    bank_lb_per_cy, loose_lb_per_cy, compacted_lb_per_cy : float [lb/cy]
        Weight of a cubic yard in each state.

    Notes
    -----
    The weight stays, so that volumes go inversely with the weight of a yard. Swell is
    bank / loose - 1, shrinkage 1 - bank / compacted.

    Examples
    --------
    >>> soil_from_weights("from a test pit", 2800, 2295, 3256).loose - 1  # doctest: +ELLIPSIS
    0.22004...
    """
    weights = dimensions(
        bank_lb_per_cy=bank_lb_per_cy, loose_lb_per_cy=loose_lb_per_cy,
        compacted_lb_per_cy=compacted_lb_per_cy,
    )  # fmt: skip
    bank, loose, compacted = map(float, weights)
    return SoilFactors(name, bank / loose, bank / compacted)


def loads_by_volume(loose_cy: npt.ArrayLike, body_cy: npt.ArrayLike) -> Numbers:
    """Return how many loads the truck body's volume makes [whole loads].

    Parameters
    ----------
    loose_cy : float or array [loose cy]
        May be zero.
    body_cy : float or array [loose cy]
        What the body holds.

    Examples
    --------
    >>> loads_by_volume(8640, 30)
    288.0
    """
    loose, body = dimensions(loose_cy=loose_cy, body_cy=body_cy, may_be_zero=("loose_cy",))
    return whole_count(loose / body)


def loads_by_weight(
    volume_cy: npt.ArrayLike, lb_per_cy: npt.ArrayLike, payload_ton: npt.ArrayLike
) -> Numbers:
    """Return how many loads the truck's legal payload makes [whole loads].

    Parameters
    ----------
    volume_cy : float or array [cy]
        May be zero.
    lb_per_cy : float or array [lb/cy]
        In the same state as the volume: bank with bank, loose with loose.
    payload_ton : float or array [short tons]
        That one truck may carry.

    Examples
    --------
    >>> loads_by_weight(7200, 3000, 40)
    270.0
    """
    volume, weight, payload = dimensions(
        volume_cy=volume_cy, lb_per_cy=lb_per_cy, payload_ton=payload_ton,
        may_be_zero=("volume_cy",),
    )  # fmt: skip
    return whole_count(volume * weight / (payload * _LB_PER_TON))
