"""Earth that stands at a slope: stockpiles, trenches, and pits with sloped sides.

Lengths in feet, volumes in cubic feet; numbers and numpy arrays are taken alike and broadcast.

A trench or pit that people enter needs sloping, shoring or shielding by its soil (29 CFR 1926
Subpart P: at 5 ft and deeper unless in stable rock, and shallower where a cave-in threatens). The
slopes here only count earth: a competent person on the site chooses them.
"""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt

from estimator.errors import GeometryFaulty, fault
from estimator.quantity.takeoff.dimensions import Numbers, dimensions, float_or_array


def cone_cf(diameter_ft: npt.ArrayLike, height_ft: npt.ArrayLike) -> Numbers:
    r"""Return the volume of a conical heap [cf].

    Parameters
    ----------
    diameter_ft : float or array [ft]
        Across the foot of the heap.
    height_ft : float or array [ft]
        From the ground to the tip.

    Notes
    -----
    ::

          /\
         /  \   height
        /____\
        |<-->|  diameter

    V = pi D^2 h / 12 = 0.2618 D^2 h.

    Examples
    --------
    >>> round(cone_cf(53, 20) / 27, 1)  # cy
    544.7
    """
    diameter, height = dimensions(diameter_ft=diameter_ft, height_ft=height_ft)
    return math.pi / 12.0 * diameter**2 * height


def cone_at_repose_cf(diameter_ft: npt.ArrayLike, repose_deg: npt.ArrayLike) -> Numbers:
    """Return the volume of a conical heap that stands at its angle of repose [cf].

    Parameters
    ----------
    diameter_ft : float or array [ft]
        Across the foot of the heap.
    repose_deg : float or array [degrees]
        Angle of its side with the ground, above 0 and below 90.

    Raises
    ------
    GeometryFaulty
        If the diameter is not positive or the angle is not between 0 and 90.

    Notes
    -----
    The height is D/2 tan(angle): V = pi D^3 tan(angle) / 24.

    Examples
    --------
    >>> round(cone_at_repose_cf(53, 37) / 27)  # cy
    544
    """
    diameter, repose = dimensions(diameter_ft=diameter_ft, repose_deg=repose_deg)
    return cone_cf(diameter, _height_at_repose(diameter, repose))


def cone_diameter_ft(volume_cf: npt.ArrayLike, repose_deg: npt.ArrayLike) -> Numbers:
    """Return how wide a conical heap of some volume stands on the ground [ft].

    Parameters
    ----------
    volume_cf : float or array [cf]
        Loose.
    repose_deg : float or array [degrees]
        Above 0 and below 90.

    Raises
    ------
    GeometryFaulty
        If the volume is not positive or the angle is not between 0 and 90.

    Notes
    -----
    D = (24 V / (pi tan(angle)))^(1/3): eight times the stone makes a heap only twice as wide.

    Examples
    --------
    >>> round(cone_diameter_ft(27 * 544, 37), 1)
    53.0
    """
    volume, repose = dimensions(volume_cf=volume_cf, repose_deg=repose_deg)
    return float_or_array(np.cbrt(24.0 * volume / (math.pi * _slope_of(repose))))


def ridge_at_repose_cf(
    length_ft: npt.ArrayLike, width_ft: npt.ArrayLike, repose_deg: npt.ArrayLike
) -> Numbers:
    """Return the volume of a long heap that stands at its angle of repose [cf].

    Parameters
    ----------
    length_ft : float or array [ft]
        Over all along the foot of the heap; not less than the width.
    width_ft : float or array [ft]
        Across the foot of the heap.
    repose_deg : float or array [degrees]
        Angle of its sides and ends with the ground, above 0 and below 90.

    Raises
    ------
    GeometryFaulty
        If a length is not positive, the heap is shorter than wide, or the angle is not between
        0 and 90.

    Notes
    -----
    With h = W/2 tan(angle): a prism V = (L - W) W h / 2 between two half cones, pi W^2 h / 12. As
    long as wide, it is a cone. Counting the whole length as prism adds more than a half cone.

    Examples
    --------
    >>> round(ridge_at_repose_cf(60, 20, 45), 2)
    5047.2
    """
    length, width, repose = dimensions(
        length_ft=length_ft, width_ft=width_ft, repose_deg=repose_deg
    )
    if np.any(np.asarray(length) < np.asarray(width)):
        raise fault(GeometryFaulty, "is less than the width", "swap the two", "length_ft")
    height = _height_at_repose(width, repose)
    return (length - width) * width * height / 2.0 + cone_cf(width, height)


def _height_at_repose(width: Numbers, repose: Numbers) -> Numbers:
    return float_or_array(width / 2.0 * _slope_of(repose))


def _slope_of(repose: Numbers) -> Numbers:
    if np.any(np.asarray(repose) >= 90.0):
        raise fault(
            GeometryFaulty, "is 90 degrees or more", "enter an angle below 90", "repose_deg"
        )
    return float_or_array(np.tan(np.radians(repose)))


def trench_cf(
    length_ft: npt.ArrayLike,
    bottom_width_ft: npt.ArrayLike,
    depth_ft: npt.ArrayLike,
    side_slope: npt.ArrayLike = 0.0,
) -> Numbers:
    r"""Return the volume of a trench whose two long sides are sloped alike [cf].

    Parameters
    ----------
    length_ft, bottom_width_ft, depth_ft : float or array [ft]
        The ends are upright. The bottom width may be zero (a ditch in V).
    side_slope : float or array [ft across per ft down]
        0 for upright sides, 1.5 for a slope of 1 1/2 to 1.

    Notes
    -----
    ::

         \         |         /
        s \        | d      / s ft across for each ft down
           \_______|_______/
           |<----- b ----->|

    V = L d (b + s d).

    Examples
    --------
    >>> trench_cf(40, 2, 4, side_slope=1)
    960.0
    """
    length, width, depth, slope = dimensions(
        length_ft=length_ft, bottom_width_ft=bottom_width_ft, depth_ft=depth_ft,
        side_slope=side_slope, may_be_zero=("bottom_width_ft", "side_slope"),
    )  # fmt: skip
    return length * depth * (width + slope * depth)


def pit_cf(
    bottom_length_ft: npt.ArrayLike,
    bottom_width_ft: npt.ArrayLike,
    depth_ft: npt.ArrayLike,
    side_slope: npt.ArrayLike = 0.0,
) -> Numbers:
    r"""Return the volume of a rectangular pit whose four sides are sloped alike [cf].

    Parameters
    ----------
    bottom_length_ft, bottom_width_ft, depth_ft : float or array [ft]
        Length and width of the flat bottom.
    side_slope : float or array [ft across per ft down]
        0 for upright sides.

    Notes
    -----
    ::

         _________________
        |\               /|   seen from above: the flat bottom,
        | \_____________/ |   L by W, in the middle; the sides
        | |   L by W    | |   run s d out from it all around
        | |_____________| |
        | /             \ |
        |/_______________\|

    The prismoid, exactly: V = L W d + (L + W) s d^2 + 4/3 s^2 d^3. Averaging the areas of bottom
    and top would give 2 s^2 d^3 in the last term, which is too much.

    Examples
    --------
    >>> round(pit_cf(20, 15, 10, side_slope=1), 2)
    7833.33
    """
    length, width, depth, slope = dimensions(
        bottom_length_ft=bottom_length_ft, bottom_width_ft=bottom_width_ft, depth_ft=depth_ft,
        side_slope=side_slope, may_be_zero=("side_slope",),
    )  # fmt: skip
    run = slope * depth
    return depth * (length * width + (length + width) * run + 4.0 / 3.0 * run**2)
