"""Lumber in board feet, and matched flooring by the old rule.

Sizes stand in `lumber_sizes`; counts, other flooring and fasteners in `framing`.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from estimator.quantity.takeoff.dimensions import Numbers, dimensions, float_or_array

_WIDE_FACE_IN = 3.0


def board_feet(
    thickness_in: npt.ArrayLike,
    width_in: npt.ArrayLike,
    length_ft: npt.ArrayLike,
    pieces: npt.ArrayLike = 1.0,
) -> Numbers:
    """Return board measure: square feet of board one inch thick [bf].

    Parameters
    ----------
    thickness_in, width_in : float or array [in]
        Nominal, as lumber is sold: a dressed 2x4 counts 2 by 4. By the rule of the trade a board
        under an inch counts as one inch thick.
    length_ft : float or array [ft]
        Of one board, actual.
    pieces : float or array [ea]
        Zero or more.

    Notes
    -----
    bf = t w L / 12.

    Examples
    --------
    >>> board_feet(6, 8, 16)
    64.0
    """
    thickness, width, length, count = dimensions(
        thickness_in=thickness_in, width_in=width_in, length_ft=length_ft, pieces=pieces,
        may_be_zero=("pieces",),
    )  # fmt: skip
    counted = np.maximum(thickness, 1.0)
    return float_or_array(counted * width * length * count / 12.0)


def matched_flooring_bf(area_sf: npt.ArrayLike, face_in: npt.ArrayLike) -> Numbers:
    """Return the matched (tongued and grooved) inch flooring that a floor takes [bf].

    Parameters
    ----------
    area_sf : float or array [sf]
        Of floor, openings taken off.
    face_in : float or array [in]
        Width of the strip.

    Notes
    -----
    The rule of the trade, c. 1900: add a quarter where strips are 3 in wide or more, a third where
    they are narrower, for the wood lost in tongue and groove. Waste in fitting is not in it.

    Examples
    --------
    >>> matched_flooring_bf(1200, 3.25)
    1500.0
    """
    area, face = dimensions(area_sf=area_sf, face_in=face_in)
    lost = np.where(np.asarray(face) >= _WIDE_FACE_IN, 1.0 / 4.0, 1.0 / 3.0)
    return float_or_array(area + area * lost)
