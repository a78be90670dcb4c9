"""Concrete in footings, walls and slabs, and the order for it.

Reinforcing stands in `reinforcing`. Sizes, depths and mixes are the structural engineer's; this
module only counts what the drawing shows.
"""

from __future__ import annotations

import numpy.typing as npt

from estimator.quantity.dimensions import Numbers, dimensions, whole_count

_CF_PER_CY = 27.0
_IN_PER_FT = 12.0


def slab_cf(area_sf: npt.ArrayLike, thickness_in: npt.ArrayLike) -> Numbers:
    """Return the volume of a slab of even thickness [cf].

    Parameters
    ----------
    area_sf : float or array [sf]
    thickness_in : float or array [in]
        As placed: 1/8 in too much under a 4 in slab takes one yard in 32 more.

    Raises
    ------
    GeometryFaulty
        If a dimension is not a positive, finite number.

    Examples
    --------
    >>> slab_cf(81, 4)
    27.0
    """
    area, thickness = dimensions(area_sf=area_sf, thickness_in=thickness_in)
    return area * thickness / _IN_PER_FT


def footing_cf(
    length_ft: npt.ArrayLike, width_in: npt.ArrayLike, depth_in: npt.ArrayLike
) -> Numbers:
    """Return the volume of a strip footing or a pad [cf].

    Parameters
    ----------
    length_ft : float or array [ft]
        Along the center line; measure each corner once.
    width_in, depth_in : float or array [in]

    Raises
    ------
    GeometryFaulty
        If a dimension is not a positive, finite number.

    Examples
    --------
    >>> footing_cf(40, 24, 12)
    80.0
    """
    length, width, depth = dimensions(length_ft=length_ft, width_in=width_in, depth_in=depth_in)
    return length * width * depth / _IN_PER_FT**2


def wall_cf(
    length_ft: npt.ArrayLike, height_ft: npt.ArrayLike, thickness_in: npt.ArrayLike
) -> Numbers:
    """Return the volume of a wall [cf].

    Parameters
    ----------
    length_ft, height_ft : float or array [ft]
        Openings are taken off by the caller.
    thickness_in : float or array [in]

    Raises
    ------
    GeometryFaulty
        If a dimension is not a positive, finite number.

    Examples
    --------
    >>> wall_cf(30, 4, 8)
    80.0
    """
    length, height, thickness = dimensions(
        length_ft=length_ft, height_ft=height_ft, thickness_in=thickness_in
    )
    return length * height * thickness / _IN_PER_FT


def concrete_order_cy(
    volume_cf: npt.ArrayLike,
    waste_fraction: npt.ArrayLike = 0.0,
    multiple_cy: npt.ArrayLike = 0.5,
) -> Numbers:
    """Return the concrete to order, in whole multiples and never short [cy].

    Parameters
    ----------
    volume_cf : float or array [cf]
        By the drawing; zero orders nothing.
    waste_fraction : float or array
        Spillage, over-depth and uneven ground: 0.10 for 10 %.
    multiple_cy : float or array [cy]
        What the plant sells by; half yards unless said otherwise.

    Raises
    ------
    GeometryFaulty
        If the multiple is not positive, or volume or waste is negative.

    Examples
    --------
    >>> concrete_order_cy(527.40, waste_fraction=0.10)
    21.5
    """
    volume, waste, multiple = dimensions(
        volume_cf=volume_cf, waste_fraction=waste_fraction, multiple_cy=multiple_cy,
        may_be_zero=("volume_cf", "waste_fraction"),
    )  # fmt: skip
    return whole_count(volume * (1.0 + waste) / _CF_PER_CY / multiple) * multiple
