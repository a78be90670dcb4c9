"""Volumes of fill, cuts and heaps, each by the formula of its shape.

All lengths are in feet, areas in square feet, volumes in cubic feet; numbers and numpy arrays are
taken alike and broadcast. A volume is of the drawn shape: swell, shrinkage and waste come later.
Heaps, trenches and pits with sloped sides stand in `heaps_and_pits`.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from estimator.errors import GeometryFaulty, fault
from estimator.quantity.takeoff.dimensions import Numbers, dimensions

Floats = npt.NDArray[np.float64]

_INCH_SF_PER_CY = 324.0


def prism_cf(length_ft: npt.ArrayLike, width_ft: npt.ArrayLike, depth_ft: npt.ArrayLike) -> Numbers:
    """Return the volume of a rectangular prism [cf].

    Parameters
    ----------
    length_ft, width_ft, depth_ft : float or array [ft]
        Inside dimensions.

    Examples
    --------
    >>> prism_cf(10, 10, 2.7)
    270.0
    """
    length, width, depth = dimensions(length_ft=length_ft, width_ft=width_ft, depth_ft=depth_ft)
    return length * width * depth


def two_depth_cf(
    area_sf: npt.ArrayLike, near_depth_ft: npt.ArrayLike, far_depth_ft: npt.ArrayLike
) -> Numbers:
    """Return the volume over an area whose depth changes evenly from one end to the other [cf].

    Parameters
    ----------
    area_sf : float or array [sf]
        Of a rectangle, seen from above.
    near_depth_ft, far_depth_ft : float or array [ft]
        Depth along the two opposite ends; zero where it runs out.

    Notes
    -----
    ::

        floor  ______________
         near |              |
              |__            | far
                 `--.__      |
                       `--.__|

    V = A (d1 + d2) / 2, exact on a rectangle.

    Examples
    --------
    >>> two_depth_cf(260, 1, 7.25)
    1072.5
    """
    area, near, far = dimensions(
        area_sf=area_sf, near_depth_ft=near_depth_ft, far_depth_ft=far_depth_ft,
        may_be_zero=("near_depth_ft", "far_depth_ft"),
    )  # fmt: skip
    return area * (near + far) / 2.0


def four_corner_cf(area_sf: npt.ArrayLike, corner_depths_ft: npt.ArrayLike) -> Numbers:
    """Return the volume over a rectangle from the depths at its four corners [cf].

    Parameters
    ----------
    area_sf : float or array, shape (...) [sf]
        Of the rectangle, seen from above.
    corner_depths_ft : array, shape (..., 4) [ft]
        In any order; zero is allowed.

    Raises
    ------
    GeometryFaulty
        If there are not four depths, the area is not positive or a depth is negative.

    Notes
    -----
    ::

        d1 ----------- d2
        |   area, seen  |
        |  from above   |
        d3 ----------- d4

    V = A (d1 + d2 + d3 + d4) / 4: exact for the ruled surface through the four corners.

    Examples
    --------
    >>> four_corner_cf(100, [1, 2, 3, 4])
    250.0
    """
    (depths,) = dimensions(corner_depths_ft=corner_depths_ft, may_be_zero=("corner_depths_ft",))
    if np.ndim(depths) == 0 or np.shape(depths)[-1] != 4:
        raise fault(
            GeometryFaulty, "is not four depths", "give one for each corner", "corner_depths_ft"
        )
    area, mean_depth = dimensions(
        area_sf=area_sf, mean_depth_ft=np.mean(depths, axis=-1), may_be_zero=("mean_depth_ft",)
    )
    return area * mean_depth


def average_end_area_cf(station_ft: npt.ArrayLike, area_sf: npt.ArrayLike) -> float:
    """Return the volume between cross-sections along a line by average end areas [cf].

    Parameters
    ----------
    station_ft : array, shape (n,) [ft]
        Distances along the line, rising.
    area_sf : array, shape (n,) [sf]
        Area of the cross-section at each station; zero where cut or fill runs out.

    Raises
    ------
    GeometryFaulty
        If there are fewer than two stations, they do not rise, or an area is negative.

    Notes
    -----
    V = sum of L (A1 + A2) / 2. Exact if the area changes evenly; too large where it runs out to
    a point (`end_areas_with_pyramids_cf`) or curves (`prismoidal_cf`).

    Examples
    --------
    >>> average_end_area_cf([0, 50, 100], [0, 60, 20])
    3500.0
    """
    stations, areas = _cross_sections(station_ft, area_sf)
    return float(np.trapezoid(areas, stations))


def end_areas_with_pyramids_cf(station_ft: npt.ArrayLike, area_sf: npt.ArrayLike) -> float:
    """Return the volume between cross-sections, as pyramids wherever it runs out to nothing [cf].

    Parameters
    ----------
    station_ft : array, shape (n,) [ft]
        Distances along the line, rising.
    area_sf : array, shape (n,) [sf]
        Area of the cross-section at each station; zero where cut or fill runs out.

    Raises
    ------
    GeometryFaulty
        If there are fewer than two stations, they do not rise, or an area is negative.

    Notes
    -----
    V = sum of L (A1 + A2) / 2, but L A / 3 next to a zero. Right where both width and depth run
    out; a wedge that keeps its width runs out as L A / 2, by `average_end_area_cf`.

    Examples
    --------
    >>> end_areas_with_pyramids_cf([0, 50, 100], [0, 60, 20])
    3000.0
    """
    stations, areas = _cross_sections(station_ft, area_sf)
    ends = np.stack([areas[:-1], areas[1:]])
    mean = np.where(np.any(ends == 0, axis=0), ends.sum(axis=0) / 3.0, ends.sum(axis=0) / 2.0)
    return float(np.sum(np.diff(stations) * mean))


def _cross_sections(station_ft: npt.ArrayLike, area_sf: npt.ArrayLike) -> tuple[Floats, Floats]:
    """Return rising stations and their areas as arrays of one length."""
    stations, areas = (
        np.asarray(numbers)
        for numbers in dimensions(
            station_ft=station_ft, area_sf=area_sf, may_be_zero=("station_ft", "area_sf")
        )
    )
    if stations.ndim != 1 or stations.shape != areas.shape or stations.size < 2:
        raise fault(
            GeometryFaulty, "are not a list of two stations or more, each with its area",
            "give one area for each station", "station_ft, area_sf",
        )  # fmt: skip
    if np.any(np.diff(stations) <= 0):
        raise fault(GeometryFaulty, "does not rise", "order the stations", "station_ft")
    return stations, areas


def end_pyramid_cf(area_sf: npt.ArrayLike, length_ft: npt.ArrayLike) -> Numbers:
    """Return the volume of an end that runs out to a point [cf].

    Parameters
    ----------
    area_sf : float or array [sf]
        Of the last full cross-section.
    length_ft : float or array [ft]
        From there to the point.

    Notes
    -----
    V = A L / 3, two thirds of what the average of the end areas would give.

    Examples
    --------
    >>> end_pyramid_cf(60, 50)
    1000.0
    """
    area, length = dimensions(area_sf=area_sf, length_ft=length_ft)
    return area * length / 3.0


def prismoidal_cf(
    first_area_sf: npt.ArrayLike,
    middle_area_sf: npt.ArrayLike,
    last_area_sf: npt.ArrayLike,
    length_ft: npt.ArrayLike,
) -> Numbers:
    """Return the volume of a prismoid from its end areas and its middle area [cf].

    Parameters
    ----------
    first_area_sf, middle_area_sf, last_area_sf : float or array [sf]
        The middle area is measured half-way, not averaged from the ends. Any may be zero.
    length_ft : float or array [ft]
        From one end to the other.

    Notes
    -----
    ::

         ______                 first, middle and last area,
        |  A1  |__ ____         each cut square to the length L;
        |______|  | Am |__ __   Am stands at L / 2
               |__|____|  |A2|
        |<------- L --------->|

    V = L (A1 + 4 Am + A2) / 6, exact for areas that change as a cubic along the length: prisms,
    wedges, pyramids, cones, spheres.

    Examples
    --------
    >>> round(prismoidal_cf(1504, 1860, 2240, 100) / 27)  # cy
    6904
    """
    first, middle, last, length = dimensions(
        first_area_sf=first_area_sf, middle_area_sf=middle_area_sf, last_area_sf=last_area_sf,
        length_ft=length_ft, may_be_zero=("first_area_sf", "middle_area_sf", "last_area_sf"),
    )  # fmt: skip
    return length * (first + 4.0 * middle + last) / 6.0


def coverage_sf_per_cy(thickness_in: npt.ArrayLike) -> Numbers:
    """Return the area that one cubic yard covers at a thickness [sf/cy].

    Parameters
    ----------
    thickness_in : float or array [in]
        Of the layer.

    Examples
    --------
    >>> coverage_sf_per_cy(4)
    81.0
    """
    (thickness,) = dimensions(thickness_in=thickness_in)
    return _INCH_SF_PER_CY / thickness
