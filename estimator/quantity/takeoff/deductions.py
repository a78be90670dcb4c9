"""What is taken off a gross quantity: piers and walls out of a fill, openings out of a wall."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from estimator.errors import GeometryFaulty, fault
from estimator.quantity.takeoff.dimensions import Numbers, dimensions, float_or_array


def net_volume_cf(gross_cf: npt.ArrayLike, deducted_cf: npt.ArrayLike) -> Numbers:
    """Return a volume less what stands in it already: piers, walls, old footings [cf].

    Parameters
    ----------
    gross_cf : float or array [cf]
        With everything that stands in it.
    deducted_cf : float or array [cf]
        Sum of what stands within the gross volume, to the depth of the fill; zero or more.

    Raises
    ------
    GeometryFaulty
        If more is deducted than there is, or a volume is negative or not finite.

    Examples
    --------
    >>> net_volume_cf(1031.25, 31.25)
    1000.0
    """
    gross, deducted = dimensions(
        gross_cf=gross_cf, deducted_cf=deducted_cf, may_be_zero=("gross_cf", "deducted_cf")
    )
    return _less("deducted_cf", gross, deducted)


def net_area_sf(gross_sf: npt.ArrayLike, openings_sf: npt.ArrayLike) -> Numbers:
    """Return the area of a wall, floor or roof less its openings [sf].

    Parameters
    ----------
    gross_sf : float or array [sf]
        With its openings.
    openings_sf : float or array [sf]
        Sum of the openings that are deducted (`deducted_openings_sf`); zero or more.

    Raises
    ------
    GeometryFaulty
        If the openings are larger than the whole, or an area is negative or not finite.

    Examples
    --------
    >>> net_area_sf(448, 48)
    400.0
    """
    gross, openings = dimensions(
        gross_sf=gross_sf, openings_sf=openings_sf, may_be_zero=("gross_sf", "openings_sf")
    )
    return _less("openings_sf", gross, openings)


def deducted_openings_sf(
    opening_sf: npt.ArrayLike, count: npt.ArrayLike = 1.0, least_deducted_sf: npt.ArrayLike = 0.0
) -> Numbers:
    """Return the area of openings that are large enough to be deducted [sf].

    Parameters
    ----------
    opening_sf : float or array [sf]
        Area of one opening of each kind.
    count : float or array
        How many there are of that kind; zero or more.
    least_deducted_sf : float or array [sf]
        Smaller openings are measured solid, for the trouble of working around them. Customs
        differ: 3 sf on slate roofs, 4 sf or 100 sf in brick, c. 1900. Zero deducts all.

    Raises
    ------
    GeometryFaulty
        If an area is not positive, or a count or the limit is negative.

    Examples
    --------
    >>> deducted_openings_sf([2.0, 21.0], [6, 4], least_deducted_sf=4)
    array([ 0., 84.])
    """
    opening, number, least = dimensions(
        opening_sf=opening_sf, count=count, least_deducted_sf=least_deducted_sf,
        may_be_zero=("count", "least_deducted_sf"),
    )  # fmt: skip
    return float_or_array(np.where(np.asarray(opening) >= np.asarray(least), opening * number, 0.0))


_HAIR = 1e-12


def _less(name: str, gross: Numbers, deducted: Numbers) -> Numbers:
    """Return what is left; a last digit lost in a sum of deductions does not make it negative."""
    left = gross - deducted
    if np.any(np.asarray(left) < -_HAIR * np.asarray(gross)):
        raise fault(
            GeometryFaulty, "is more than there is: the result would be negative",
            "measure the deductions within the whole", name,
        )  # fmt: skip
    return float_or_array(np.maximum(left, 0.0))
