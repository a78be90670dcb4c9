"""Reinforcing bars and welded wire: weights, counts, laps.

Bar sizes, spacing, cover and lap lengths come from the engineer's drawing (ACI 318 governs); this
module counts and weighs what the drawing asks for.
"""

from __future__ import annotations

import math
from types import MappingProxyType

import numpy as np
import numpy.typing as npt

from estimator.errors import GeometryFaulty, did_you_mean, fault
from estimator.quantity.takeoff.dimensions import Numbers, dimensions, float_or_array, whole_count

STEEL_LB_PER_CF = 490.0

# Diameter [in] and weight [lb/ft] of ASTM A615 bars, by number.
NOMINAL_BARS = MappingProxyType(
    {
        3: (0.375, 0.376), 4: (0.500, 0.668), 5: (0.625, 1.043), 6: (0.750, 1.502),
        7: (0.875, 2.044), 8: (1.000, 2.670), 9: (1.128, 3.400), 10: (1.270, 4.303),
        11: (1.410, 5.313), 14: (1.693, 7.65), 18: (2.257, 13.60),
    }
)  # fmt: skip


def bar_lb_per_ft(diameter_in: npt.ArrayLike) -> Numbers:
    """Return the weight of a round steel bar from its diameter [lb/ft].

    Parameters
    ----------
    diameter_in : float or array [in]
        Of the bar, nominal.

    Notes
    -----
    w = pi d^2 / 4 x 490 / 144, with steel at 490 lb/cf. The nominal table agrees within 0.2 %.

    Examples
    --------
    >>> round(bar_lb_per_ft(0.5), 3)
    0.668
    """
    (diameter,) = dimensions(diameter_in=diameter_in)
    return math.pi / 4.0 * diameter**2 * STEEL_LB_PER_CF / 144.0


def nominal_bar_lb_per_ft(number: int | str) -> float:
    """Return the nominal weight of a numbered bar, by which it is bought [lb/ft].

    Parameters
    ----------
    number : int or str
        Bar number: 4 or "#4" for a bar half an inch thick.

    Raises
    ------
    GeometryFaulty
        If there is no such bar.

    Examples
    --------
    >>> nominal_bar_lb_per_ft(4)
    0.668
    """
    digits = str(number).removeprefix("#").removesuffix(".0")
    size = int(digits) if digits.isdecimal() else 0
    if size not in NOMINAL_BARS:
        known = did_you_mean(f"#{digits}", [f"#{bar}" for bar in NOMINAL_BARS])
        raise fault(GeometryFaulty, f"#{digits} is not a bar size", known, "bar number")
    return NOMINAL_BARS[size][1]


def bars_at_spacing(
    width_ft: npt.ArrayLike, spacing_in: npt.ArrayLike, cover_in: npt.ArrayLike = 0.0
) -> Numbers:
    """Return how many parallel bars a width takes, no two farther apart than the spacing.

    Parameters
    ----------
    width_ft : float or array [ft]
        Across the bars.
    spacing_in : float or array [in]
        Largest distance from center to center.
    cover_in : float or array [in]
        From each side to the first bar's center line.

    Raises
    ------
    GeometryFaulty
        If width or spacing is not positive, or the cover leaves no width.

    Notes
    -----
    n = ceil((width - 2 cover) / spacing) + 1: one bar more than there are spaces.

    Examples
    --------
    >>> bars_at_spacing(20, 16, cover_in=3)
    16.0
    """
    width, spacing, cover = dimensions(
        width_ft=width_ft, spacing_in=spacing_in, cover_in=cover_in, may_be_zero=("cover_in",)
    )
    between = width * 12.0 - 2.0 * cover
    if np.any(np.asarray(between) < 0):
        raise fault(GeometryFaulty, "leaves no width for bars", "check its unit", "cover_in")
    return whole_count(between / spacing) + 1.0


def lapped_pieces(run_ft: npt.ArrayLike, stock_ft: npt.ArrayLike, lap_ft: npt.ArrayLike) -> Numbers:
    """Return how many stock lengths make a run, each overlapping the next by the lap.

    Serves bars end to end, and sheets of welded wire or of membrane along one direction.

    Parameters
    ----------
    run_ft : float or array [ft]
        Length to be covered.
    stock_ft : float or array [ft]
        Length of a bar or sheet as sold.
    lap_ft : float or array [ft]
        Zero for butted pieces.

    Raises
    ------
    GeometryFaulty
        If run or stock is not positive, or the lap is not shorter than the stock.

    Notes
    -----
    n pieces reach n stock - (n - 1) lap: n = ceil((run - lap) / (stock - lap)), at least 1. The
    steel to pay for is run + (n - 1) lap, before cutting waste.

    Examples
    --------
    >>> lapped_pieces(62.5, 20, 2)
    4.0
    """
    run, stock, lap = dimensions(
        run_ft=run_ft, stock_ft=stock_ft, lap_ft=lap_ft, may_be_zero=("lap_ft",)
    )
    if np.any(np.asarray(lap) >= np.asarray(stock)):
        raise fault(GeometryFaulty, "is as long as the piece", "enter a shorter lap", "lap_ft")
    return float_or_array(np.maximum(whole_count((run - lap) / (stock - lap)), 1.0))


def wire_sheets(
    length_ft: npt.ArrayLike,
    width_ft: npt.ArrayLike,
    sheet_length_ft: npt.ArrayLike,
    sheet_width_ft: npt.ArrayLike,
    lap_ft: npt.ArrayLike,
) -> Numbers:
    """Return how many sheets of welded wire cover a rectangle, lapped on all sides.

    Parameters
    ----------
    length_ft, width_ft : float or array [ft]
        Of the slab.
    sheet_length_ft, sheet_width_ft : float or array [ft]
        The sheet's length lies along the slab's.
    lap_ft : float or array [ft]
        How far each sheet overlaps the next.

    Raises
    ------
    GeometryFaulty
        If a length is not positive, or the lap is not shorter than the sheet.

    Notes
    -----
    Whole sheets each way (`lapped_pieces`); offcuts are not used again.

    Examples
    --------
    >>> wire_sheets(62.5, 20, 20, 8, 0.5)
    12.0
    """
    length, width, sheet_length, sheet_width, lap = dimensions(
        length_ft=length_ft, width_ft=width_ft, sheet_length_ft=sheet_length_ft,
        sheet_width_ft=sheet_width_ft, lap_ft=lap_ft, may_be_zero=("lap_ft",),
    )  # fmt: skip
    return lapped_pieces(length, sheet_length, lap) * lapped_pieces(width, sheet_width, lap)
