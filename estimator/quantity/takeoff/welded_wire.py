"""Welded wire in sheets and rolls: weight by style, and by the area of its wires.

How many sheets or rolls a slab takes: `reinforcing.wire_sheets`, `slab_accessories.lapped_rolls`.
"""

from __future__ import annotations

from types import MappingProxyType

import numpy.typing as npt

from estimator.errors import GeometryFaulty, did_you_mean, fault
from estimator.quantity.takeoff.dimensions import Numbers, dimensions
from estimator.quantity.takeoff.reinforcing import STEEL_LB_PER_CF

# Trade table [lb per 100 sf]: the overhang of the cross wires adds 4 to 10 % to the mesh.
LB_PER_100_SF = MappingProxyType(
    {
        "6x6-W1.4xW1.4": 21.0, "6x6-W2.0xW2.0": 29.0, "6x6-W2.9xW2.9": 42.0,
        "6x6-W4.0xW4.0": 58.0, "4x4-W1.4xW1.4": 31.0, "4x4-W2.0xW2.0": 43.0,
        "4x4-W2.9xW2.9": 62.0, "4x4-W4.0xW4.0": 85.0,
    }
)  # fmt: skip


def mesh_lb_per_100_sf(spacing_in: npt.ArrayLike, wire_area_sq_in: npt.ArrayLike) -> Numbers:
    """Return the weight of a square mesh from the area of its wire [lb per 100 sf].

    Parameters
    ----------
    spacing_in : float or array [in]
        Both ways.
    wire_area_sq_in : float or array [sq in]
        Of one wire: the number of a W wire is its area in hundredths, W1.4 is 0.014 sq in.

    Notes
    -----
    w = 2 (12 / s) 100 a 490 / 144, without overhangs, which the trade's tables include.

    Examples
    --------
    >>> round(mesh_lb_per_100_sf(6, 0.014), 1)
    19.1
    """
    spacing, area = dimensions(spacing_in=spacing_in, wire_area_sq_in=wire_area_sq_in)
    return 2.0 * 12.0 / spacing * 100.0 * area * STEEL_LB_PER_CF / 144.0


def nominal_wire_lb_per_100_sf(style: str) -> float:
    """Return the weight of a style of welded wire, by which it is bought [lb per 100 sf].

    Parameters
    ----------
    style : str
        Spacing and wire both ways, as in "6x6-W1.4xW1.4".

    Raises
    ------
    GeometryFaulty
        If the style is not in the table.

    Examples
    --------
    >>> nominal_wire_lb_per_100_sf("6x6-W2.9xW2.9")
    42.0
    """
    if style not in LB_PER_100_SF:
        known = did_you_mean(style, LB_PER_100_SF)
        raise fault(GeometryFaulty, f"{style!r} is not a style of the table", known, "style")
    return LB_PER_100_SF[style]


def wire_lb(area_sf: npt.ArrayLike, lb_per_100_sf: npt.ArrayLike) -> Numbers:
    """Return the weight of an area of welded wire, laps included [lb].

    Parameters
    ----------
    area_sf : float or array [sf]
        Of sheets or strips (`slab_accessories.lapped_sf`), zero or more.
    lb_per_100_sf : float or array [lb per 100 sf]
        Weight by the style of the wire.

    Examples
    --------
    >>> wire_lb(1500, 42)
    630.0
    """
    area, weight = dimensions(
        area_sf=area_sf, lb_per_100_sf=lb_per_100_sf, may_be_zero=("area_sf",)
    )
    return area * weight / 100.0
