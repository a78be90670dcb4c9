"""Brick by size, joint and bond. Mortar, grout and pockets stand in `mortar`.

Sizes are of the brick itself, in inches; the joint is added here. Old brick differs from course to
course: measure ten courses and ten stretchers of the wall.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from estimator.errors import GeometryFaulty, fault
from estimator.quantity.takeoff.dimensions import Numbers, dimensions

_SQ_IN_PER_SF = 144.0
_CU_IN_PER_CF = 1728.0


def brick_per_sf(
    length_in: npt.ArrayLike, height_in: npt.ArrayLike, joint_in: npt.ArrayLike
) -> Numbers:
    """Return how many brick show in a square foot of running bond, before breakage [brick/sf].

    Parameters
    ----------
    length_in, height_in : float or array [in]
        Of the brick's face.
    joint_in : float or array [in]
        Thickness of bed and head joint; zero for brick set dry.

    Notes
    -----
    n = 144 / ((l + j) (h + j)).

    Examples
    --------
    >>> round(brick_per_sf(8, 2.25, 0.375), 2)
    6.55
    """
    length, height, joint = dimensions(
        length_in=length_in, height_in=height_in, joint_in=joint_in, may_be_zero=("joint_in",)
    )
    return _SQ_IN_PER_SF / ((length + joint) * (height + joint))


def header_course_factor(every: npt.ArrayLike) -> Numbers:
    """Return how many times the facing brick a wall takes that has a header course every so often.

    Parameters
    ----------
    every : float or array
        6 if every sixth course is all headers; 2 for English bond, 3 for Flemish.

    Raises
    ------
    GeometryFaulty
        If it is below 1.

    Notes
    -----
    1 + 1/n: a header shows half as much as a stretcher, so that a header course takes twice the
    brick, and a course of header and stretcher in turn a third more. Where the backing is of the
    same brick, the wall takes no more in all: the header lies in the place of a backing brick.

    Examples
    --------
    >>> round(header_course_factor(6), 3)
    1.167
    """
    (courses,) = dimensions(every=every)
    if np.any(np.asarray(courses) < 1.0):
        raise fault(GeometryFaulty, "is below 1", "1 is a wall of headers only", "every")
    return 1.0 + 1.0 / courses


def wall_brick(
    face_sf: npt.ArrayLike,
    brick_per_sf: npt.ArrayLike,
    wythes: npt.ArrayLike = 1.0,
    breakage_fraction: npt.ArrayLike = 0.0,
) -> Numbers:
    """Return the brick for a wall of one kind of brick throughout [brick].

    Parameters
    ----------
    face_sf : float or array [sf]
        Of one face, openings deducted; zero or more.
    brick_per_sf : float or array [brick/sf]
        In a wall one brick wide.
    wythes : float or array
        How many brick widths thick: 2 for an "8 inch" wall, 3 for a "12 inch" wall.
    breakage_fraction : float or array
        Added for broken and cut brick: 0.05 is the old rule.

    Examples
    --------
    >>> wall_brick(100, 7, wythes=3)
    2100.0
    """
    face, per_sf, layers, breakage = dimensions(
        face_sf=face_sf, brick_per_sf=brick_per_sf, wythes=wythes,
        breakage_fraction=breakage_fraction, may_be_zero=("face_sf",),
        fractions=("breakage_fraction",),
    )  # fmt: skip
    return face * per_sf * layers * (1.0 + breakage)


def brick_per_cf(
    length_in: npt.ArrayLike,
    width_in: npt.ArrayLike,
    height_in: npt.ArrayLike,
    joint_in: npt.ArrayLike,
) -> Numbers:
    """Return how many brick with their joints fill a cubic foot: for pockets and piers [brick/cf].

    Parameters
    ----------
    length_in, width_in, height_in : float or array [in]
        Of the brick.
    joint_in : float or array [in]
        On every side; zero or more.

    Notes
    -----
    n = 1728 / ((l + j) (w + j) (h + j)).

    Examples
    --------
    >>> round(brick_per_cf(8, 3.75, 2.25, 0.5), 2)
    17.39
    """
    length, width, height, joint = dimensions(
        length_in=length_in, width_in=width_in, height_in=height_in, joint_in=joint_in,
        may_be_zero=("joint_in",),
    )  # fmt: skip
    return _CU_IN_PER_CF / ((length + joint) * (width + joint) * (height + joint))
