"""Welded wire by weight, from its style.

How many sheets or rolls a slab takes: `reinforcing.wire_sheets`, `slab_accessories.lapped_rolls`.
"""

from __future__ import annotations

import numpy.typing as npt

from estimator.quantity.takeoff.dimensions import Numbers, dimensions
from estimator.quantity.takeoff.reinforcing import STEEL_LB_PER_CF

_IN_PER_FT = 12.0
_W_NUMBERS_PER_SF = 14_400.0


def mesh_lb(
    area_sf: npt.ArrayLike,
    spacing_in: npt.ArrayLike,
    w_number: npt.ArrayLike,
    overhang_fraction: npt.ArrayLike = 0.0,
) -> Numbers:
    """Return the weight of an area of welded wire with square mesh, laps included [lb].

    Parameters
    ----------
    area_sf : float or array [sf]
        Of sheets or strips (`slab_accessories.lapped_sf`), zero or more.
    spacing_in : float or array [in]
        Of the wires, both ways: 6 for "6x6-W1.4xW1.4".
    w_number : float or array
        Of the wire, its area in hundredths of a square inch: 1.4 for W1.4.
    overhang_fraction : float or array
        Of the mesh, added for the ends of the cross wires; tables of the trade have 0.04 to 0.10.

    Notes
    -----
    lb = A 2 (12 / s) (w / 14,400) 490 (1 + o).

    Examples
    --------
    >>> round(mesh_lb(1500, 6, 2.9, overhang_fraction=0.06))
    628
    """
    area, spacing, wire, overhang = dimensions(
        area_sf=area_sf, spacing_in=spacing_in, w_number=w_number,
        overhang_fraction=overhang_fraction, may_be_zero=("area_sf",),
        fractions=("overhang_fraction",),
    )  # fmt: skip
    ft_per_sf = 2.0 * _IN_PER_FT / spacing
    return area * ft_per_sf * wire / _W_NUMBERS_PER_SF * STEEL_LB_PER_CF * (1.0 + overhang)
