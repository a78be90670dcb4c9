"""Nominal and dressed sizes of softwood lumber, today's and those of old buildings.

Board feet are counted on the nominal size, whatever the planer took off. In an old building measure
the wood: sizes differ by mill and decade, and rough timber was often full size.
"""

from __future__ import annotations

from types import MappingProxyType

import numpy as np
import numpy.typing as npt

from estimator.errors import GeometryFaulty, fault
from estimator.quantity.takeoff.dimensions import Numbers, dimensions, float_or_array

# NIST PS 20, American Softwood Lumber Standard, dressed dry: nominal to actual inches (boards,
# dimension); timbers of 5 in and more lose half an inch (dressed green). From memory.
DRESSED_THICKNESS_IN = MappingProxyType(
    {1.0: 0.75, 1.25: 1.0, 1.5: 1.25, 2.0: 1.5, 2.5: 2.0, 3.0: 2.5, 3.5: 3.0, 4.0: 3.5}
)
DRESSED_WIDTH_IN = MappingProxyType(
    {
        2.0: 1.5, 3.0: 2.5, 4.0: 3.5, 5.0: 4.5, 6.0: 5.5, 7.0: 6.5, 8.0: 7.25, 9.0: 8.25,
        10.0: 9.25, 11.0: 10.25, 12.0: 11.25, 14.0: 13.25, 16.0: 15.25,
    }
)  # fmt: skip
# Griffith, Carpentry (1916): joists surfaced one side and one edge; surfaced on four sides they
# measure 1/8 in less.
JOIST_WIDTH_1916_IN = MappingProxyType({4.0: 3.625, 6.0: 5.625, 8.0: 7.5, 10.0: 9.5, 12.0: 11.5})
JOIST_THICKNESS_1916_IN = 1.625

_TIMBER_IN = 5.0
_TIMBER_LOSS_IN = 0.5


def dressed_thickness_in(nominal_in: npt.ArrayLike) -> Numbers:
    """Return the thickness of dressed lumber by today's standard [in].

    Parameters
    ----------
    nominal_in : float or array [in]
        1 to 4 in, or a timber of 5 in and more.

    Raises
    ------
    GeometryFaulty
        If the standard has no such thickness.

    Examples
    --------
    >>> dressed_thickness_in(2), dressed_thickness_in(6)
    (1.5, 5.5)
    """
    return _dressed(nominal_in, DRESSED_THICKNESS_IN, timber=True)


def dressed_width_in(nominal_in: npt.ArrayLike) -> Numbers:
    """Return the width of dressed boards and dimension lumber by today's standard [in].

    Parameters
    ----------
    nominal_in : float or array [in]
        2 to 16 in. The wide side of a timber is `dressed_thickness_in`: it loses half an inch.

    Raises
    ------
    GeometryFaulty
        If the standard has no such width.

    Examples
    --------
    >>> dressed_width_in([4, 6, 8])
    array([3.5 , 5.5 , 7.25])
    """
    return _dressed(nominal_in, DRESSED_WIDTH_IN)


def joist_width_1916_in(nominal_in: npt.ArrayLike) -> Numbers:
    """Return the depth of a joist dressed one side and one edge, c. 1916 [in].

    Parameters
    ----------
    nominal_in : float or array [in]
        4, 6, 8, 10 or 12 in.

    Raises
    ------
    GeometryFaulty
        If the table has no such joist.

    Examples
    --------
    >>> joist_width_1916_in(10)
    9.5
    """
    return _dressed(nominal_in, JOIST_WIDTH_1916_IN)


def _dressed(
    nominal_in: npt.ArrayLike, table: MappingProxyType[float, float], timber: bool = False
) -> Numbers:
    (nominal,) = dimensions(nominal_in=nominal_in)
    sizes, dressed = np.array(list(table)), np.array(list(table.values()))
    values = np.asarray(nominal)
    row = np.minimum(np.searchsorted(sizes, values), len(sizes) - 1)
    is_timber = (values >= _TIMBER_IN) & timber
    unknown = (sizes[row] != values) & ~is_timber
    if np.any(unknown):
        raise fault(
            GeometryFaulty, f"{values[unknown][0]:g} in is not a nominal size of the table",
            "use one of " + ", ".join(f"{known:g}" for known in sizes), "nominal_in",
        )  # fmt: skip
    return float_or_array(np.where(is_timber, values - _TIMBER_LOSS_IN, dressed[row]))
