"""Roofs: area by slope, lengths of rafters and hips, shingles and slates by what shows.

Work on roofs needs fall protection (29 CFR 1926.501). Areas are before waste, doubled eaves, hips
and valleys.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from estimator.errors import GeometryFaulty, fault
from estimator.quantity.takeoff.dimensions import Numbers, dimensions, float_or_array

_SQ_IN_PER_SQUARE = 14_400.0


def slope_factor(rise_per_run: npt.ArrayLike) -> Numbers:
    """Return how many times its plan a sloped surface, or a common rafter its run, is.

    Parameters
    ----------
    rise_per_run : float or array [ft up per ft across]
        6/12 for "6 in 12"; zero for a flat roof.

    Notes
    -----
    ::

                /|
        rafter / | rise
              /__|
              run       rafter = run x sqrt(1 + s^2), s = rise / run

    sqrt(1 + s^2).

    Examples
    --------
    >>> slope_factor(9 / 12)
    1.25
    """
    (slope,) = dimensions(rise_per_run=rise_per_run, may_be_zero=("rise_per_run",))
    return float_or_array(np.sqrt(1.0 + slope**2))


def hip_factor(rise_per_run: npt.ArrayLike) -> Numbers:
    r"""Return how many times the run of the common rafter a hip or valley is, square in plan.

    Parameters
    ----------
    rise_per_run : float or array [ft up per ft across]
        Of the common rafters on both sides, alike.

    Notes
    -----
    ::

         ____________
        |\          /|   seen from above: the hip runs at 45 degrees
        | \ hip    / |
        |  \______/  |   common rafters run square to the eaves

    sqrt(2 + s^2): the plan of the hip is the diagonal, "17 in for 12".

    Examples
    --------
    >>> round(hip_factor(8 / 12) * 12, 2)  # in per ft of run
    18.76
    """
    (slope,) = dimensions(rise_per_run=rise_per_run, may_be_zero=("rise_per_run",))
    return float_or_array(np.sqrt(2.0 + slope**2))


def roof_sf(plan_sf: npt.ArrayLike, rise_per_run: npt.ArrayLike) -> Numbers:
    """Return the area of a roof of one slope from its plan, overhangs included [sf].

    Parameters
    ----------
    plan_sf : float or array [sf]
        Seen from above, eaves and gables included. Hipped or gabled is the same.
    rise_per_run : float or array [ft up per ft across]
        Slope: 0.5 for 6 in 12.

    Examples
    --------
    >>> roof_sf(2400, 9 / 12)
    3000.0
    """
    (plan,) = dimensions(plan_sf=plan_sf)
    return plan * slope_factor(rise_per_run)


def shingles_per_square(exposure_in: npt.ArrayLike, width_in: npt.ArrayLike = 4.0) -> Numbers:
    """Return how many shingles lie in one roofing square, 100 square feet.

    Parameters
    ----------
    exposure_in : float or array [in]
        How much of each course shows to the weather.
    width_in : float or array [in]
        Average width; four inches is what a bundle is counted by.

    Notes
    -----
    n = 14,400 / (exposure x width), before waste, doubled eaves, hips and valleys.

    Examples
    --------
    >>> shingles_per_square(5)
    720.0
    """
    exposure, width = dimensions(exposure_in=exposure_in, width_in=width_in)
    return _SQ_IN_PER_SQUARE / (exposure * width)


def slate_exposure_in(length_in: npt.ArrayLike, head_lap_in: npt.ArrayLike = 3.0) -> Numbers:
    """Return how much of each slate shows to the weather [in].

    Parameters
    ----------
    length_in : float or array [in]
        Of the slate.
    head_lap_in : float or array [in]
        By which each course covers the next but one below; more on flat roofs.

    Raises
    ------
    GeometryFaulty
        If the length is not positive, the lap negative, or the lap not shorter than the slate.

    Notes
    -----
    (L - lap) / 2: two layers everywhere, three at the lap.

    Examples
    --------
    >>> slate_exposure_in(20)
    8.5
    """
    length, lap = dimensions(
        length_in=length_in, head_lap_in=head_lap_in, may_be_zero=("head_lap_in",)
    )
    if np.any(np.asarray(lap) >= np.asarray(length)):
        raise fault(GeometryFaulty, "is as long as the slate", "enter a shorter lap", "head_lap_in")
    return (length - lap) / 2.0


def slates_per_square(
    length_in: npt.ArrayLike, width_in: npt.ArrayLike, head_lap_in: npt.ArrayLike = 3.0
) -> Numbers:
    """Return how many slates lie in one roofing square, 100 square feet.

    Parameters
    ----------
    length_in, width_in : float or array [in]
        Of the slate; the average width of random ones.
    head_lap_in : float or array [in]
        How far a slate covers the next but one below it.

    Raises
    ------
    GeometryFaulty
        If a dimension is not positive, or the lap is not shorter than the slate.

    Examples
    --------
    >>> round(slates_per_square(20, 14))
    121
    """
    return shingles_per_square(slate_exposure_in(length_in, head_lap_in), width_in)
