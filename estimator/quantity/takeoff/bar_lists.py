"""Bars to buy for runs and mats: laps, stock lengths, cut pieces, weight.

Laps, sizes and spacing come from the engineer's drawing (ACI 318 governs): this module counts.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from estimator.errors import GeometryFaulty, fault
from estimator.quantity.rounding import whole_below
from estimator.quantity.takeoff.dimensions import Numbers, dimensions, float_or_array, whole_count
from estimator.quantity.takeoff.reinforcing import bars_at_spacing, lapped_pieces

_IN_PER_FT = 12.0


def lap_length_ft(
    diameter_in: npt.ArrayLike, diameters: npt.ArrayLike, least_in: npt.ArrayLike = 12.0
) -> Numbers:
    """Return the lap that is drawn as a number of bar diameters [ft].

    Parameters
    ----------
    diameter_in : float or array [in]
        Of the bar.
    diameters : float or array
        As the drawing says: 40 for "lap 40 diameters".
    least_in : float or array [in]
        No lap is shorter; ACI 318 has 12 in.

    Examples
    --------
    >>> lap_length_ft(0.625, 48)
    2.5
    """
    diameter, number, least = dimensions(
        diameter_in=diameter_in, diameters=diameters, least_in=least_in
    )
    return float_or_array(np.maximum(diameter * number, least)) / _IN_PER_FT


def lapped_length_ft(
    run_ft: npt.ArrayLike, stock_ft: npt.ArrayLike, lap_ft: npt.ArrayLike
) -> Numbers:
    """Return the length of bar in a run, laps included [ft].

    Parameters
    ----------
    run_ft : float or array [ft]
        Length to be covered by bar.
    stock_ft : float or array [ft]
        Length of a bar as sold.
    lap_ft : float or array [ft]
        How far each piece overlaps the next.

    Raises
    ------
    GeometryFaulty
        If run or stock is not positive, or the lap is not shorter than the bar.

    Notes
    -----
    run + (n - 1) lap, with n from `lapped_pieces`.

    Examples
    --------
    >>> lapped_length_ft(62.5, 20, 2)
    68.5
    """
    pieces = lapped_pieces(run_ft, stock_ft, lap_ft)
    run, lap = dimensions(run_ft=run_ft, lap_ft=lap_ft, may_be_zero=("lap_ft",))
    return run + (pieces - 1.0) * lap


def bar_mat_lf(
    length_ft: npt.ArrayLike,
    width_ft: npt.ArrayLike,
    spacing_in: npt.ArrayLike,
    cover_in: npt.ArrayLike,
) -> Numbers:
    """Return the length of bar in a mat, both ways at one spacing, before laps [ft].

    Parameters
    ----------
    length_ft, width_ft : float or array [ft]
        Of the concrete.
    spacing_in : float or array [in]
        Largest distance from center to center.
    cover_in : float or array [in]
        From each side to the first bar, and from each end of a bar to the face.

    Raises
    ------
    GeometryFaulty
        If a length or the spacing is not positive, or the cover leaves no bar.

    Notes
    -----
    Bars along, as many as the width takes (`bars_at_spacing`), and bars across, each short of the
    face by the cover at both ends.

    Examples
    --------
    >>> bar_mat_lf(62.5, 20, 18, 3)
    1706.5
    """
    length, width, spacing, cover = dimensions(
        length_ft=length_ft, width_ft=width_ft, spacing_in=spacing_in, cover_in=cover_in,
        may_be_zero=("cover_in",),
    )  # fmt: skip
    along = bars_at_spacing(width, spacing, cover)
    across = bars_at_spacing(length, spacing, cover)
    ends = 2.0 * cover / _IN_PER_FT
    return along * (length - ends) + across * (width - ends)


def pieces_from_stock(piece_ft: npt.ArrayLike, stock_ft: npt.ArrayLike) -> Numbers:
    """Return how many pieces of a length are cut from one stock bar or board [whole pieces].

    Parameters
    ----------
    piece_ft : float or array [ft]
        With the saw's kerf, where it counts.
    stock_ft : float or array [ft]
        Length of one stock bar or board.

    Raises
    ------
    GeometryFaulty
        If a length is not positive, or the piece is longer than the stock.

    Examples
    --------
    >>> pieces_from_stock(6.5, 20)
    3.0
    """
    piece, stock = dimensions(piece_ft=piece_ft, stock_ft=stock_ft)
    pieces = float_or_array(whole_below(np.asarray(stock / piece)))
    if np.any(np.asarray(pieces) < 1.0):
        raise fault(
            GeometryFaulty, "is longer than the stock", "lap it, or buy longer stock", "piece_ft"
        )
    return pieces


def stock_bars(pieces: npt.ArrayLike, piece_ft: npt.ArrayLike, stock_ft: npt.ArrayLike) -> Numbers:
    """Return how many stock lengths are cut up into pieces of one length [whole bars].

    Parameters
    ----------
    pieces : float or array
        How many are needed; zero or more.
    piece_ft, stock_ft : float or array [ft]
        Length of one piece, and of one stock bar.

    Raises
    ------
    GeometryFaulty
        If a length is not positive, the piece is longer than the stock, or pieces are negative.

    Notes
    -----
    n = ceil(pieces / floor(stock / piece)). The total length over the stock length buys too few,
    because nothing is made of the ends.

    Examples
    --------
    >>> stock_bars(31, 6.5, 20)
    11.0
    """
    (number,) = dimensions(pieces=pieces, may_be_zero=("pieces",))
    return whole_count(number / pieces_from_stock(piece_ft, stock_ft))


def bars_lb(length_lf: npt.ArrayLike, lb_per_ft: npt.ArrayLike) -> Numbers:
    """Return the weight of a length of bar [lb].

    Parameters
    ----------
    length_lf : float or array [ft]
        Of all bars, laps included; zero or more.
    lb_per_ft : float or array [lb/ft]
        Nominal: `nominal_bar_lb_per_ft`.

    Examples
    --------
    >>> bars_lb(1000, 0.668)
    668.0
    """
    length, weight = dimensions(
        length_lf=length_lf, lb_per_ft=lb_per_ft, may_be_zero=("length_lf",)
    )
    return length * weight
