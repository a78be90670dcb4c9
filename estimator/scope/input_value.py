"""A value as a scope gives it: exact, with the words that it is printed with."""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction

from estimator.quantity.depth_profile import DepthProfile

AS_LONG, UNTIL = "along", "until"


@dataclass(frozen=True)
class InputValue:
    """The value of an input as a scope gives it.

    Parameters
    ----------
    value : Fraction
        In base units (ft, lb, hr, day, $), exactly.
    text : str
        As it is printed: `62 ft 6 in`, or `average of 2 ft and 6 ft 3 in`; `along` waits for the
        dates of the work that the item runs along, `until 60` for its own and those of phase 60.
    profile : DepthProfile or None
        How several depths are spread around the value, their mean.
    spots : str
        SHA-256 of spot depths; empty for anything else.
    is_along : bool
        Whether the dates say how long it is.
    until : str
        Phase or item whose end ends it, from the first day of its own item on; empty for a time
        along other work.
    base_value : float
        The float nearest to the value, worked out once, at the door.
    """

    value: Fraction
    text: str
    profile: DepthProfile | None = None
    spots: str = ""
    is_along: bool = False
    until: str = ""
    base_value: float = field(init=False, compare=False)

    def __post_init__(self) -> None:
        nearest = self.value.numerator / self.value.denominator
        object.__setattr__(self, "base_value", nearest)
