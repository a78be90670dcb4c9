"""Joists and posts by count, flooring by what shows, nails and spikes by weight."""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt

from estimator.errors import GeometryFaulty, fault
from estimator.quantity.takeoff.dimensions import Numbers, dimensions, float_or_array, whole_count

STEEL_LB_PER_CU_IN = 490.0 / 1728.0


def joists(run_ft: npt.ArrayLike, spacing_ft: npt.ArrayLike, extra: npt.ArrayLike = 0.0) -> Numbers:
    """Return how many joists stand along a run, one at each end included [joists].

    Parameters
    ----------
    run_ft : float or array [ft]
        Across the joists, from the first one's center to the last one's.
    spacing_ft : float or array [ft]
        Largest distance from center to center.
    extra : float or array
        Doubled ones under partitions and beside openings; zero or more.

    Notes
    -----
    n = ceil(run / spacing) + 1 + extra: "three quarters of the feet, and one" at 16 in.

    Examples
    --------
    >>> joists(62.5, 16 / 12)
    48.0
    """
    run, spacing, more = dimensions(
        run_ft=run_ft, spacing_ft=spacing_ft, extra=extra, may_be_zero=("extra",)
    )
    return whole_count(run / spacing) + 1.0 + more


def grid_posts(
    length_ft: npt.ArrayLike,
    width_ft: npt.ArrayLike,
    bay_length_ft: npt.ArrayLike,
    bay_width_ft: npt.ArrayLike,
) -> Numbers:
    """Return how many posts stand inside a building whose walls bear the outer ends [posts].

    Parameters
    ----------
    length_ft, width_ft : float or array [ft]
        Inside of the walls.
    bay_length_ft, bay_width_ft : float or array [ft]
        Largest distance of the posts along the length and the width.

    Notes
    -----
    (bays along - 1)(bays across - 1): in a building one bay wide there are none.

    Examples
    --------
    >>> grid_posts(62.5, 40, 12.5, 20)
    4.0
    """
    length, width, bay_length, bay_width = dimensions(
        length_ft=length_ft, width_ft=width_ft, bay_length_ft=bay_length_ft,
        bay_width_ft=bay_width_ft,
    )  # fmt: skip
    along, across = whole_count(length / bay_length), whole_count(width / bay_width)
    return (along - 1.0) * (across - 1.0)


def strip_flooring_bf(
    area_sf: npt.ArrayLike,
    nominal_width_in: npt.ArrayLike,
    face_in: npt.ArrayLike,
    nominal_thickness_in: npt.ArrayLike = 1.0,
) -> Numbers:
    """Return the matched or dressed flooring that covers an area, before end waste [bf].

    Parameters
    ----------
    area_sf : float or array [sf]
        Openings deducted; zero or more.
    nominal_width_in : float or array [in]
        By which the strip is sold.
    face_in : float or array [in]
        What shows once it is laid.
    nominal_thickness_in : float or array [in]
        Below 1 in it counts as 1.

    Raises
    ------
    GeometryFaulty
        If a width is not positive, the face is wider than the nominal width, or the area negative.

    Notes
    -----
    bf = A (nominal / face) t. Adding the tongue's share of the nominal width (3/4 in of 4 is 19 %)
    falls short: the loss is on what shows (3/4 of 3 1/4 is 23 %).

    Examples
    --------
    >>> round(strip_flooring_bf(1000, 4, 3.25))
    1231
    """
    area, nominal, face, thickness = dimensions(
        area_sf=area_sf, nominal_width_in=nominal_width_in, face_in=face_in,
        nominal_thickness_in=nominal_thickness_in, may_be_zero=("area_sf",),
    )  # fmt: skip
    if np.any(np.asarray(face) > np.asarray(nominal)):
        raise fault(GeometryFaulty, "is wider than the strip is sold", "swap the two", "face_in")
    return float_or_array(area * (nominal / face) * np.maximum(thickness, 1.0))


def floor_fasteners(
    area_sf: npt.ArrayLike,
    joist_spacing_ft: npt.ArrayLike,
    board_ft: npt.ArrayLike,
    per_crossing: npt.ArrayLike,
) -> Numbers:
    """Return how many nails or spikes a floor takes, or holds [fasteners].

    Parameters
    ----------
    area_sf : float or array [sf]
        Zero or more.
    joist_spacing_ft : float or array [ft]
        From center to center.
    board_ft : float or array [ft]
        Width of the boards, as it shows.
    per_crossing : float or array
        Where a board crosses a joist: 1 in blind-nailed strips, 2 in planks.

    Notes
    -----
    n = A / (spacing x board) x per crossing; ends of boards take more.

    Examples
    --------
    >>> floor_fasteners(1250, 16 / 12, 0.5, 2)
    3750.0
    """
    area, spacing, board, each = dimensions(
        area_sf=area_sf, joist_spacing_ft=joist_spacing_ft, board_ft=board_ft,
        per_crossing=per_crossing, may_be_zero=("area_sf",),
    )  # fmt: skip
    return area / (spacing * board) * each


def nails_per_lb(diameter_in: npt.ArrayLike, length_in: npt.ArrayLike) -> Numbers:
    """Return how many round wire nails weigh a pound, by their shank [nails/lb].

    Parameters
    ----------
    diameter_in, length_in : float or array [in]
        Of the shank.

    Notes
    -----
    1 / (pi/4 d^2 L 490/1728). The head and the point about cancel: trade tables agree within 5 %
    from 6d to 60d.

    Examples
    --------
    >>> round(nails_per_lb(0.192, 4.0))  # 20d common: 31 in the tables
    30
    """
    diameter, length = dimensions(diameter_in=diameter_in, length_in=length_in)
    return 1.0 / (math.pi / 4.0 * diameter**2 * length * STEEL_LB_PER_CU_IN)


def square_spikes_per_lb(side_in: npt.ArrayLike, length_in: npt.ArrayLike) -> Numbers:
    """Return how many square spikes weigh a pound, by their shank [spikes/lb].

    Parameters
    ----------
    side_in, length_in : float or array [in]
        Side of the square shank, and its length.

    Notes
    -----
    1 / (a^2 L 490/1728), without the head.

    Examples
    --------
    >>> round(square_spikes_per_lb(3 / 8, 7), 2)
    3.58
    """
    side, length = dimensions(side_in=side_in, length_in=length_in)
    return 1.0 / (side**2 * length * STEEL_LB_PER_CU_IN)


def fasteners_lb(
    fasteners: npt.ArrayLike,
    fasteners_per_lb: npt.ArrayLike,
    loss_fraction: npt.ArrayLike = 0.0,
) -> Numbers:
    """Return the weight of nails or spikes to buy [lb].

    Parameters
    ----------
    fasteners : float or array
        How many are driven; zero or more.
    fasteners_per_lb : float or array
        From the box or a trade table.
    loss_fraction : float or array
        Bent and dropped: 0.20 for wire nails in an Army manual.

    Raises
    ------
    GeometryFaulty
        If the count is negative, none make a pound, or the share is not from 0 to 1.

    Examples
    --------
    >>> round(fasteners_lb(6000, 74, loss_fraction=0.20), 1)
    97.3
    """
    number, each, loss = dimensions(
        fasteners=fasteners, fasteners_per_lb=fasteners_per_lb, loss_fraction=loss_fraction,
        may_be_zero=("fasteners",), fractions=("loss_fraction",),
    )  # fmt: skip
    return number * (1.0 + loss) / each
