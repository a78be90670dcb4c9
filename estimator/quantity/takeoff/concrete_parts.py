"""Concrete where it is thicker, stepped or round: edges, pads, stepped footings, piers, walls.

Lengths along the work in feet, depths and widths of the section in inches, volumes in cubic feet.
Sizes, depths and mixes are the structural engineer's; this module counts what the drawing shows.
"""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt

from estimator.errors import GeometryFaulty, fault
from estimator.quantity.takeoff.concrete import wall_cf
from estimator.quantity.takeoff.deductions import net_volume_cf
from estimator.quantity.takeoff.dimensions import Numbers, dimensions
from estimator.quantity.takeoff.heaps_and_pits import pit_cf

_IN_PER_FT = 12.0


def thickened_edge_cf(
    length_ft: npt.ArrayLike,
    bottom_width_in: npt.ArrayLike,
    extra_depth_in: npt.ArrayLike,
    side_slope: npt.ArrayLike = 0.0,
) -> Numbers:
    """Return what a thickened edge adds to a slab of even thickness [cf].

    Parameters
    ----------
    length_ft : float or array [ft]
        Along the edge, each corner once.
    bottom_width_in, extra_depth_in : float or array [in]
        Of the flat bottom, and from there to the slab's underside.
    side_slope : float or array [in across per in down]
        Of the inner side: 1 for 45 degrees, 0 for upright.

    Notes
    -----
    V = L d (b + s d / 2) / 144. The slab above it is in `slab_cf`, counted through to the edge.

    Examples
    --------
    >>> thickened_edge_cf(100, 12, 8, side_slope=1)
    88.88888888888889
    """
    length, width, depth, slope = dimensions(
        length_ft=length_ft, bottom_width_in=bottom_width_in, extra_depth_in=extra_depth_in,
        side_slope=side_slope, may_be_zero=("side_slope",),
    )  # fmt: skip
    return length * depth * (width + slope * depth / 2.0) / _IN_PER_FT**2


def thickened_pad_cf(
    bottom_length_in: npt.ArrayLike,
    bottom_width_in: npt.ArrayLike,
    extra_depth_in: npt.ArrayLike,
    side_slope: npt.ArrayLike = 0.0,
) -> Numbers:
    """Return what one thickened pad under a post adds to a slab of even thickness [cf].

    Parameters
    ----------
    bottom_length_in, bottom_width_in, extra_depth_in : float or array [in]
        Of the flat bottom, and from there to the slab's underside.
    side_slope : float or array [in across per in down]
        Of all four sides: 1 for 45 degrees, 0 for upright.

    Notes
    -----
    A frustum (`pit_cf`); multiply by the number of pads.

    Examples
    --------
    >>> thickened_pad_cf(36, 36, 8)
    6.0
    """
    length, width, depth, slope = dimensions(
        bottom_length_in=bottom_length_in, bottom_width_in=bottom_width_in,
        extra_depth_in=extra_depth_in, side_slope=side_slope, may_be_zero=("side_slope",),
    )  # fmt: skip
    return pit_cf(length, width, depth, slope) / _IN_PER_FT**3


def stepped_footing_cf(
    length_ft: npt.ArrayLike,
    width_in: npt.ArrayLike,
    depth_in: npt.ArrayLike,
    steps: npt.ArrayLike,
    rise_in: npt.ArrayLike,
    riser_thickness_in: npt.ArrayLike,
) -> Numbers:
    """Return the volume of a strip footing that steps up a slope [cf].

    Parameters
    ----------
    length_ft : float or array [ft]
        Seen from above along the center line, each piece once.
    width_in, depth_in : float or array [in]
        Of the level parts.
    steps : float or array
        How many steps; zero for a level footing.
    rise_in : float or array [in]
        From one level to the next.
    riser_thickness_in : float or array [in]
        Along the footing, of the upright leg that joins two levels.

    Notes
    -----
    ::

                      _______________
                     |               | d   upper level
         ____________|    ___________|
        |            |   |                 its leg: h high, the rise,
        | d          | t | h               and t thick
        |____________|___|
        |<-------- L, in plan ------>|

    V = w (L d + n h t) / 144: under each upper end hangs a leg as high as the rise. Leaving the
    legs out orders short.

    Examples
    --------
    >>> stepped_footing_cf(40, 24, 12, 2, 24, 12)
    88.0
    """
    length, width, depth, count, rise, riser = dimensions(
        length_ft=length_ft, width_in=width_in, depth_in=depth_in, steps=steps, rise_in=rise_in,
        riser_thickness_in=riser_thickness_in, may_be_zero=("steps",),
    )  # fmt: skip
    legs_cf = count * width * rise * riser / _IN_PER_FT**3
    return length * width * depth / _IN_PER_FT**2 + legs_cf


def wall_less_openings_cf(
    length_ft: npt.ArrayLike,
    height_ft: npt.ArrayLike,
    thickness_in: npt.ArrayLike,
    openings_sf: npt.ArrayLike,
) -> Numbers:
    """Return the volume of a wall with the openings taken out [cf].

    Parameters
    ----------
    length_ft, height_ft : float or array [ft]
        At corners, two walls run through and two between them: no corner counts twice.
    thickness_in : float or array [in]
        From face to face.
    openings_sf : float or array [sf]
        Sum of the openings; zero or more.

    Raises
    ------
    GeometryFaulty
        If a dimension is not positive, or the openings are larger than the wall.

    Examples
    --------
    >>> wall_less_openings_cf(30, 4, 8, 15)
    70.0
    """
    openings, thickness = dimensions(
        openings_sf=openings_sf, thickness_in=thickness_in, may_be_zero=("openings_sf",)
    )
    return net_volume_cf(
        wall_cf(length_ft, height_ft, thickness), openings * thickness / _IN_PER_FT
    )


def round_pier_cf(diameter_in: npt.ArrayLike, height_ft: npt.ArrayLike) -> Numbers:
    """Return the volume of a round pier or drilled shaft [cf].

    Parameters
    ----------
    diameter_in : float or array [in]
        Of the shaft.
    height_ft : float or array [ft]
        From bottom to top.

    Examples
    --------
    >>> round(round_pier_cf(12, 10), 3)
    7.854
    """
    diameter, height = dimensions(diameter_in=diameter_in, height_ft=height_ft)
    return math.pi / 4.0 * diameter**2 * height / _IN_PER_FT**2


def square_pier_cf(
    length_in: npt.ArrayLike, width_in: npt.ArrayLike, height_ft: npt.ArrayLike
) -> Numbers:
    """Return the volume of a square or rectangular pier [cf].

    Parameters
    ----------
    length_in, width_in : float or array [in]
        Across the section.
    height_ft : float or array [ft]
        From bottom to top.

    Examples
    --------
    >>> square_pier_cf(18, 16, 4)
    8.0
    """
    length, width, height = dimensions(length_in=length_in, width_in=width_in, height_ft=height_ft)
    return length * width * height / _IN_PER_FT**2


def belled_pier_cf(
    shaft_diameter_in: npt.ArrayLike,
    shaft_height_ft: npt.ArrayLike,
    bell_diameter_in: npt.ArrayLike,
    bell_height_ft: npt.ArrayLike,
    toe_height_ft: npt.ArrayLike = 0.0,
) -> Numbers:
    r"""Return the volume of a round pier that widens to a bell at its foot [cf].

    Parameters
    ----------
    shaft_diameter_in : float or array [in]
        Above the bell.
    shaft_height_ft : float or array [ft]
        From the top to where the bell begins.
    bell_diameter_in : float or array [in]
        At the foot; not less than the shaft.
    bell_height_ft : float or array [ft]
        Of the sloped part.
    toe_height_ft : float or array [ft]
        Of an upright rim under it; zero if there is none.

    Raises
    ------
    GeometryFaulty
        If a dimension is not positive, or the bell is narrower than the shaft.

    Notes
    -----
    ::

          |  | d
          |  |      shaft
         /    \     bell: frustum, h high
        /______\
        |______|    toe
           D

    Shaft, frustum pi h (D^2 + D d + d^2) / 12 and toe. The mean of the two circles would take too
    much for the frustum.

    Examples
    --------
    >>> round(belled_pier_cf(24, 10, 48, 2), 2)
    46.08
    """
    shaft, shaft_height, bell, bell_height, toe = dimensions(
        shaft_diameter_in=shaft_diameter_in, shaft_height_ft=shaft_height_ft,
        bell_diameter_in=bell_diameter_in, bell_height_ft=bell_height_ft,
        toe_height_ft=toe_height_ft, may_be_zero=("toe_height_ft",),
    )  # fmt: skip
    if np.any(np.asarray(bell) < np.asarray(shaft)):
        raise fault(
            GeometryFaulty, "is narrower than the shaft", "swap the two", "bell_diameter_in"
        )
    cone = bell_height * (bell**2 + bell * shaft + shaft**2) / 3.0
    return math.pi / 4.0 * (shaft**2 * shaft_height + cone + bell**2 * toe) / _IN_PER_FT**2
