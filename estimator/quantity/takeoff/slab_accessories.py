"""What goes under, into and onto a slab: membranes in lapped strips, joints, their filler.

Curing compound is a coating: `coatings`.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from estimator.errors import GeometryFaulty, fault
from estimator.quantity.takeoff.dimensions import Numbers, dimensions, float_or_array, whole_count
from estimator.quantity.takeoff.reinforcing import lapped_pieces

_IN_PER_FT = 12.0
_CU_IN_PER_GAL = 231.0
_HAIR_FT = 1e-9
_MOST_STRIPS = 10_000


def lapped_sf(
    length_ft: npt.ArrayLike,
    width_ft: npt.ArrayLike,
    strip_width_ft: npt.ArrayLike,
    lap_ft: npt.ArrayLike,
) -> Numbers:
    """Return the area of sheet in lapped strips that cover a rectangle [sf].

    Parameters
    ----------
    length_ft, width_ft : float or array [ft]
        Of the floor, turn-ups included; the strips run along the length.
    strip_width_ft : float or array [ft]
        Of the roll.
    lap_ft : float or array [ft]
        Of one strip over the next.

    Raises
    ------
    GeometryFaulty
        If a length is not positive, or the lap is not narrower than the strip.

    Notes
    -----
    Whole strips (`lapped_pieces`) by the length: what is cut off the last one is not used again.

    Examples
    --------
    >>> lapped_sf(62.5, 22, 12, 0.5)
    1500.0
    """
    length, width, strip_width, lap = dimensions(
        length_ft=length_ft, width_ft=width_ft, strip_width_ft=strip_width_ft, lap_ft=lap_ft,
        may_be_zero=("lap_ft",),
    )  # fmt: skip
    return lapped_pieces(width, strip_width, lap) * length * strip_width


def lapped_rolls(
    length_ft: npt.ArrayLike,
    width_ft: npt.ArrayLike,
    roll_length_ft: npt.ArrayLike,
    roll_width_ft: npt.ArrayLike,
    lap_ft: npt.ArrayLike,
) -> Numbers:
    """Return how many rolls of membrane or welded wire cover a rectangle [whole rolls].

    Parameters
    ----------
    length_ft, width_ft : float or array [ft]
        Of the floor, turn-ups included; the strips run along the length.
    roll_length_ft, roll_width_ft : float or array [ft]
        Of one roll.
    lap_ft : float or array [ft]
        Of strips side by side, and where a roll ends.

    Raises
    ------
    GeometryFaulty
        If a length is not positive, the lap is not less than the roll is long and wide, or there
        are more than 10,000 strips.

    Notes
    -----
    All strips are cut one after the other. Where a roll ends within a strip, the next one takes it
    up with a lap; where it ends with the strip, no lap is needed; and a rest no longer than the lap
    is thrown away.

    Examples
    --------
    >>> lapped_rolls(62.5, 22, 100, 12, 0.5)
    2.0
    >>> lapped_rolls(100, 23.5, 100, 12, 0.5)
    2.0
    """
    length, width, roll, roll_width, lap = dimensions(
        length_ft=length_ft, width_ft=width_ft, roll_length_ft=roll_length_ft,
        roll_width_ft=roll_width_ft, lap_ft=lap_ft, may_be_zero=("lap_ft",),
    )  # fmt: skip
    strips = lapped_pieces(width, roll_width, lap)
    if np.any(np.asarray(strips) > _MOST_STRIPS):
        raise fault(
            GeometryFaulty,
            f"takes more than {_MOST_STRIPS:,} strips",
            "take it in parts",
            "width_ft",
        )
    rolls = rest = np.zeros(np.broadcast_shapes(*map(np.shape, (strips, length, roll, lap))))
    for strip in range(int(np.max(strips))):
        fits = rest >= length - _HAIR_FT
        bare = np.where(fits, length, length - np.where(rest > lap, rest - lap, 0.0))
        opened = np.where(fits, 0.0, lapped_pieces(bare, roll, lap))
        left = np.where(fits, rest, opened * roll - (opened - 1.0) * lap) - bare
        rolls = np.where(strip < strips, rolls + opened, rolls)
        rest = np.maximum(left, 0.0)
    return float_or_array(rolls)


def control_joint_lf(
    length_ft: npt.ArrayLike, width_ft: npt.ArrayLike, spacing_ft: npt.ArrayLike
) -> Numbers:
    """Return the length of joints that divide a slab in panels no longer than the spacing [lf].

    Parameters
    ----------
    length_ft, width_ft : float or array [ft]
        Of the slab.
    spacing_ft : float or array [ft]
        Longest side of a panel; commonly 24 to 36 times the slab's thickness.

    Notes
    -----
    (ceil(L / s) - 1) W + (ceil(W / s) - 1) L: panels less one each way, edges not counted. The
    area over the spacing, twice, is a rule of thumb that counts edges too.

    Examples
    --------
    >>> control_joint_lf(62.5, 20, 10)
    182.5
    """
    length, width, spacing = dimensions(
        length_ft=length_ft, width_ft=width_ft, spacing_ft=spacing_ft
    )
    across = (whole_count(length / spacing) - 1.0) * width
    return across + (whole_count(width / spacing) - 1.0) * length


def joint_filler_gal(
    joint_lf: npt.ArrayLike, width_in: npt.ArrayLike, depth_in: npt.ArrayLike
) -> Numbers:
    """Return the sealant that fills a length of joint, before waste [gal].

    Parameters
    ----------
    joint_lf : float or array [lf]
        Zero or more.
    width_in, depth_in : float or array [in]
        Of the sealant, above its backer rod.

    Notes
    -----
    gal = 12 L w d / 231: a gallon fills 308 ft of joint 1/4 in wide and 1/4 in deep.

    Examples
    --------
    >>> joint_filler_gal(308, 0.25, 0.25)
    1.0
    """
    length, width, depth = dimensions(
        joint_lf=joint_lf, width_in=width_in, depth_in=depth_in, may_be_zero=("joint_lf",)
    )
    return length * _IN_PER_FT * width * depth / _CU_IN_PER_GAL
