"""Concrete in footings, walls and slabs, and the order for it.

Thickened, stepped and round parts stand in `concrete_parts`, forms in `forms`, bars and wire in
`reinforcing`, joints and membranes in `slab_accessories`. Sizes, depths and mixes are the
structural engineer's; this module only counts what the drawing shows.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from estimator.errors import GeometryFaulty, fault
from estimator.quantity.takeoff.dimensions import Numbers, dimensions, float_or_array, whole_count

_CF_PER_CY = 27.0
_IN_PER_FT = 12.0


def slab_cf(area_sf: npt.ArrayLike, thickness_in: npt.ArrayLike) -> Numbers:
    """Return the volume of a slab of even thickness [cf].

    Parameters
    ----------
    area_sf : float or array [sf]
        Seen from above.
    thickness_in : float or array [in]
        As placed: 1/8 in too much under a 4 in slab takes one yard in 32 more.

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
        Of the cross-section.

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
        From face to face.

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


def truck_loads(order_cy: npt.ArrayLike, truck_cy: npt.ArrayLike) -> Numbers:
    """Return how many mixer trucks bring an order [whole loads].

    Parameters
    ----------
    order_cy : float or array [cy]
        Zero or more.
    truck_cy : float or array [cy]
        What a truck brings at most.

    Raises
    ------
    GeometryFaulty
        If the truck holds nothing or the order is negative.

    Examples
    --------
    >>> truck_loads(21.5, 10)
    3.0
    """
    order, truck = dimensions(order_cy=order_cy, truck_cy=truck_cy, may_be_zero=("order_cy",))
    return whole_count(order / truck)


def short_load_cy(
    order_cy: npt.ArrayLike, truck_cy: npt.ArrayLike, least_load_cy: npt.ArrayLike
) -> Numbers:
    """Return by how much one truck of an order must be below the plant's smallest load [cy].

    Parameters
    ----------
    order_cy : float or array [cy]
        As ordered, waste and multiple included; zero orders nothing and is short of nothing.
    truck_cy : float or array [cy]
        What a truck brings at most.
    least_load_cy : float or array [cy]
        Below this the plant charges for what is missing; zero if it does not.

    Raises
    ------
    GeometryFaulty
        If the truck holds nothing or less than the smallest load, or the order is negative.

    Notes
    -----
    As few trucks as can bring the order share it so that none is short where that can be: 95.5 cy
    come in ten of 9.55. Where n trucks of the smallest load are more than the order, one of them
    lacks short = max(0, n x least - order). Ask the plant for even loads: with full trucks first
    the last one brings the 5.5 cy that are left. Some plants charge by the order, not by the load:
    then give the order as one truck.

    Examples
    --------
    >>> short_load_cy(95.5, 10, 8), short_load_cy(11, 10, 8)
    (0.0, 5.0)
    """
    order, truck, least = dimensions(
        order_cy=order_cy, truck_cy=truck_cy, least_load_cy=least_load_cy,
        may_be_zero=("order_cy", "least_load_cy"),
    )  # fmt: skip
    if np.any(np.asarray(least) > np.asarray(truck)):
        raise fault(GeometryFaulty, "is more than a truck brings", "swap the two", "least_load_cy")
    lacks = whole_count(order / truck) * least - order
    return float_or_array(np.maximum(lacks, 0.0))


def short_loads(
    volume_cf: npt.ArrayLike,
    waste_fraction: npt.ArrayLike,
    pours: npt.ArrayLike,
    truck_cy: npt.ArrayLike,
    least_load_cy: npt.ArrayLike,
) -> Numbers:
    """Return how many loads of all pours must be below the plant's smallest [loads].

    Parameters
    ----------
    volume_cf, waste_fraction : float or array [cf], fraction
        As of `concrete_order_cy`, of all pours together; each orders its share by the half yard.
    pours : float or array
        Times concrete is ordered; 0 for concrete that comes with that of other work.
    truck_cy, least_load_cy : float or array [cy]
        As of `short_load_cy`.

    Raises
    ------
    GeometryFaulty
        As of `short_load_cy`.

    Examples
    --------
    >>> short_loads(27 * 95, 0.0, 1, 10, 8), short_loads(27 * 95, 0.0, 8, 10, 8)
    (0.0, 8.0)
    """
    volume, waste, times = dimensions(
        volume_cf=volume_cf, waste_fraction=waste_fraction, pours=pours,
        may_be_zero=("volume_cf", "waste_fraction", "pours"),
    )  # fmt: skip
    each = concrete_order_cy(volume / np.maximum(times, 1.0), waste)
    is_short = np.asarray(short_load_cy(each, truck_cy, least_load_cy)) > 0.0
    return float_or_array(np.where(is_short, times, 0.0))
