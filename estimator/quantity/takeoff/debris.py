"""Debris by floor, envelope and element, boxes for it, and cuts through a plank floor.

Before any wrecking: a written engineering survey by a competent person, utilities shut off (29 CFR
1926.850), and a survey for asbestos (40 CFR 61.145); old paint may be lead. Estimates of debris
are coarse: measure the first boxes and correct them.
"""

from __future__ import annotations

from types import MappingProxyType

import numpy as np
import numpy.typing as npt

from estimator.errors import GeometryFaulty, fault
from estimator.quantity.takeoff.dimensions import Numbers, dimensions, whole_count

_CF_PER_CY = 27.0

# UFC 1-900-01 (2002), Table 4-1: cubic feet of debris per square foot of floor.
DEBRIS_CF_PER_SF = MappingProxyType({"wood": 4.5, "brick": 3.0, "concrete": 3.0})


def floor_debris_cy(floor_sf: npt.ArrayLike, debris_cf_per_sf: npt.ArrayLike) -> Numbers:
    """Return the debris of a whole building from its floor area [loose cy].

    Parameters
    ----------
    floor_sf : float or array [sf]
        Of all stories.
    debris_cf_per_sf : float or array [cf/sf]
        By construction: `DEBRIS_CF_PER_SF`.

    Examples
    --------
    >>> round(floor_debris_cy(10_000, DEBRIS_CF_PER_SF["brick"]), 1)
    1111.1
    """
    floor, debris = dimensions(floor_sf=floor_sf, debris_cf_per_sf=debris_cf_per_sf)
    return floor * debris / _CF_PER_CY


def envelope_debris_cy(
    length_ft: npt.ArrayLike,
    width_ft: npt.ArrayLike,
    height_ft: npt.ArrayLike,
    solid_fraction: npt.ArrayLike = 0.33,
) -> Numbers:
    """Return the debris of a whole building from its outer dimensions [loose cy].

    Parameters
    ----------
    length_ft, width_ft, height_ft : float or array [ft]
        Outside, over all.
    solid_fraction : float or array
        How much of the enclosed space the debris fills: about a third.

    Notes
    -----
    V = L W H x 0.33 / 27 (FEMA 325 and 329, for buildings other than houses).

    Examples
    --------
    >>> round(envelope_debris_cy(100, 60, 24), 6)
    1760.0
    """
    length, width, height, solid = dimensions(
        length_ft=length_ft, width_ft=width_ft, height_ft=height_ft, solid_fraction=solid_fraction
    )
    return length * width * height * solid / _CF_PER_CY


def house_debris_cy(
    floor_sf: npt.ArrayLike, cover_factor: npt.ArrayLike, solid_fraction: npt.ArrayLike = 0.20
) -> Numbers:
    """Return the debris of a one-family house from its floor area [loose cy].

    Parameters
    ----------
    floor_sf : float or array [sf]
        Length by width by stories.
    cover_factor : float or array
        Of the trees and shrubs that come down with it: 1.1 light, 1.3 medium, 1.5 heavy.
    solid_fraction : float or array [cy/sf]
        0.20 in the rule.

    Notes
    -----
    V = floor x 0.20 x cover (FEMA 325 and 329).

    Examples
    --------
    >>> house_debris_cy(2000, 1.3)
    520.0
    """
    floor, cover, solid = dimensions(
        floor_sf=floor_sf, cover_factor=cover_factor, solid_fraction=solid_fraction
    )
    return floor * solid * cover


def element_debris_cf(
    solid_cf: npt.ArrayLike,
    bulking_fraction: npt.ArrayLike,
    reused_fraction: npt.ArrayLike = 0.0,
) -> Numbers:
    """Return the heap that a wall, slab or floor makes once it is broken out [loose cf].

    Parameters
    ----------
    solid_cf : float or array [cf]
        As it stands; zero or more.
    bulking_fraction : float or array
        Voids added by breaking: 0.5 if one cubic foot makes one and a half.
    reused_fraction : float or array
        Share of it that is kept for reuse and makes no debris.

    Raises
    ------
    GeometryFaulty
        If the volume or the bulking is negative, or the share is not from 0 to 1.

    Notes
    -----
    V = solid (1 - reused)(1 + bulking). The weight stays that of the solid: the density of the heap
    is the solid's over 1 + bulking.

    Examples
    --------
    >>> element_debris_cf(270, 0.5)
    405.0
    """
    solid, bulking, reused = dimensions(
        solid_cf=solid_cf, bulking_fraction=bulking_fraction, reused_fraction=reused_fraction,
        may_be_zero=("solid_cf", "bulking_fraction"), fractions=("reused_fraction",),
    )  # fmt: skip
    return solid * (1.0 - reused) * (1.0 + bulking)


def boxes_needed(
    debris_cy: npt.ArrayLike,
    ton_per_cy: npt.ArrayLike,
    box_cy: npt.ArrayLike | None = None,
    limit_ton: npt.ArrayLike | None = None,
) -> Numbers:
    """Return how many haul-off boxes debris fills, by volume or by weight, whichever is more.

    Parameters
    ----------
    debris_cy : float or array [loose cy]
        Zero or more.
    ton_per_cy : float or array [short tons per loose cy]
        Tables disagree: broken brick is carried at about 0.7, loose wood at 0.15.
    box_cy : float or array, optional [cy]
        What the box holds; left out if only weight limits it.
    limit_ton : float or array, optional [short tons]
        What the hauler takes in one box; left out if only volume limits it.

    Raises
    ------
    GeometryFaulty
        If the debris is negative or another number is not positive and finite, or the box has
        neither limit.

    Notes
    -----
    n = ceil(max(debris / box, debris x density / limit)): a box is full at its first limit.

    Examples
    --------
    >>> boxes_needed(40, 0.7, 20, 10)
    3.0
    >>> boxes_needed(40, 0.7, 20)
    2.0
    """
    debris, density = dimensions(
        debris_cy=debris_cy, ton_per_cy=ton_per_cy, may_be_zero=("debris_cy",)
    )
    if box_cy is None and limit_ton is None:
        raise fault(
            GeometryFaulty, "has neither a volume nor a weight limit",
            "give what it holds, or what the hauler takes", "box_cy, limit_ton",
        )  # fmt: skip
    boxes: Numbers = 0.0
    if box_cy is not None:
        (box,) = dimensions(box_cy=box_cy)
        boxes = debris / box
    if limit_ton is not None:
        (limit,) = dimensions(limit_ton=limit_ton)
        boxes = np.maximum(boxes, debris * density / limit)
    return whole_count(boxes)


def floor_cut_ft(
    length_ft: npt.ArrayLike,
    width_ft: npt.ArrayLike,
    piece_ft: npt.ArrayLike,
    cut_ends: npt.ArrayLike = 0.0,
) -> Numbers:
    """Return the length of saw cuts across the boards that frees a floor in pieces [ft].

    Parameters
    ----------
    length_ft : float or array [ft]
        Along the boards.
    width_ft : float or array [ft]
        Across the boards, which is the length of each cut.
    piece_ft : float or array [ft]
        Longest piece that two people carry, or a box takes.
    cut_ends : float or array
        How many of the two ends must be cut loose as well: 0, 1 or 2.

    Notes
    -----
    Pieces n = ceil(length / piece); cuts n - 1 + ends. An opening to drop debris through is at
    most a quarter of the floor unless its lateral supports stay (29 CFR 1926.853). Nails, wires
    and pipes hide in and under old planks.

    Examples
    --------
    >>> floor_cut_ft(62.5, 4, 8, cut_ends=2)
    36.0
    """
    length, width, piece, ends = dimensions(
        length_ft=length_ft, width_ft=width_ft, piece_ft=piece_ft, cut_ends=cut_ends,
        may_be_zero=("cut_ends",),
    )  # fmt: skip
    return (whole_count(length / piece) - 1.0 + ends) * width
