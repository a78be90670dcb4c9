"""Mean depth over an uneven floor, from depths sounded at scattered spots.

The surface is stretched in flat triangles between neighboring spots (Delaunay triangulation) and
ends at the outermost spots: sound the corners and edges of a pit, too, or its rim is not counted.
It spans every bay of an outline that is hollow: give piers, walls and hollow corners as holes, and
compare the area that comes back with the floor as measured::

    o-----------o-----------o    o  spot with its depth
    | .       . | .       . |    flat triangles between neighboring
    |   .   .   |   .   .   |    spots; what lies outside of the
    |     o     |     o     |    outermost spots is not counted
    |   .   .   |   .   .   |
    o-----------o-----------o
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from estimator.errors import GeometryFaulty, fault, how_many
from estimator.quantity.depth_profile import DepthProfile, scattered_depths
from estimator.quantity.named_units import without_texts
from estimator.quantity.takeoff.dimensions import LARGEST, dimensions
from estimator.quantity.takeoff.spot_holes import surface_of_holes
from estimator.quantity.takeoff.spot_mesh import NEAREST_FT, Floats, stretched_mesh


@dataclass(frozen=True)
class SpotSurface:
    """What lies between the spots.

    Parameters
    ----------
    area_sf : float [sf]
        Seen from above, within the outermost spots, less the holes.
    volume_cf : float [cf]
        Over that area.
    mean_depth_ft : float [ft]
        Volume / area.
    holes_sf : float [sf]
        Area of the holes that were deducted.
    """

    area_sf: float
    volume_cf: float
    mean_depth_ft: float
    holes_sf: float = 0.0

    @property
    def hull_sf(self) -> float:
        """Area within the outermost spots, holes included [sf]."""
        return self.area_sf + self.holes_sf


def mean_spot_depth(
    x_ft: npt.ArrayLike,
    y_ft: npt.ArrayLike,
    depth_ft: npt.ArrayLike,
    holes: Sequence[npt.ArrayLike] = (),
) -> SpotSurface:
    """Return area, volume and mean depth of the surface stretched between spot depths.

    Parameters
    ----------
    x_ft, y_ft : array, shape (n,) [ft]
        Where each depth was sounded, from any corner and in any order; may be negative.
    depth_ft : array, shape (n,) [ft]
        Zero or more.
    holes : sequence of arrays, each of shape (m, 2) [ft]
        Corners, in turn, of what stands in the floor: piers, walls, a corner that is no part of
        the pit. Each lies within the outermost spots; no two overlap.

    Raises
    ------
    GeometryFaulty
        If there are fewer than three spots, two within 0.01 ft, all stand in one line, or a
        number is not finite or a depth negative; if a hole has no area, crosses itself, reaches
        beyond the outermost spots or overlaps another; or if the holes leave nothing.

    Notes
    -----
    V = sum over triangles of area x mean of its three depths: exact for an even slope. Four spots
    or more on one circle, such as those of a square grid, are divided from their middle at the mean
    of their depths: a grid then gives in each cell the mean of its four corners, and neither the
    order of the spots nor the turn of the drawing matters. A hole takes away what the surface holds
    within it, cut to its outline, not its area times the mean depth of the whole.

    Examples
    --------
    >>> round(mean_spot_depth([0, 20, 20, 0], [0, 0, 10, 10], [1, 1, 3, 4]).volume_cf, 2)
    450.0
    >>> pier = [(4, 4), (6, 4), (6, 6), (4, 6)]
    >>> less = mean_spot_depth([0, 20, 20, 0], [0, 0, 10, 10], [1, 1, 3, 3], holes=[pier])
    >>> round(less.area_sf, 2), round(less.volume_cf, 2), round(less.hull_sf, 2)
    (196.0, 392.0, 200.0)

    References
    ----------
    M. de Berg et al., "Computational Geometry", 3rd ed. 2008, ch. 9 (from memory).
    """
    places, depths = _sorted_spots(x_ft, y_ft, depth_ft)
    middle = places.mean(axis=0)
    mesh = stretched_mesh(places - middle, depths)
    hull_sf, hull_cf = mesh.area_and_volume()
    holes_sf, holes_cf = surface_of_holes(mesh, holes, middle)
    area, volume = hull_sf - holes_sf, hull_cf - holes_cf
    if area <= _NOTHING * hull_sf:
        raise fault(GeometryFaulty, "leave nothing of the floor", "give them smaller", "holes")
    return SpotSurface(area, max(volume, 0.0), max(volume, 0.0) / area, holes_sf)


_NOTHING = 1e-9


def spot_profile(x_ft: npt.ArrayLike, y_ft: npt.ArrayLike, depth_ft: npt.ArrayLike) -> DepthProfile:
    """Return how the depths of the surface between spots are spread, and the deepest of them.

    Parameters
    ----------
    x_ft, y_ft, depth_ft : arrays, each of shape (n,) [ft]
        As of `mean_spot_depth`.

    Notes
    -----
    Each triangle is taken at its corners, the middles of its sides and its own middle, with 3, 8
    and 27 parts of 60: exact for the third power of the depth.
    """
    places, depths = _sorted_spots(x_ft, y_ft, depth_ft)
    mesh = stretched_mesh(places - places.mean(axis=0), depths)
    corners = mesh.triangles[:, :, 2]
    sides = (corners + np.roll(corners, 1, axis=1)) / 2.0
    seven = np.hstack([corners, sides, corners.mean(axis=1, keepdims=True)])
    parts = np.array([3.0] * 3 + [8.0] * 3 + [27.0]) / 60.0
    shares = np.outer(mesh.areas, parts)
    return scattered_depths(seven.ravel(), shares.ravel(), float(depths.max()))


def _sorted_spots(
    x_ft: npt.ArrayLike, y_ft: npt.ArrayLike, depth_ft: npt.ArrayLike
) -> tuple[Floats, Floats]:
    """Return places and depths, in one order for any input."""
    (checked_depths,) = dimensions(depth_ft=depth_ft, may_be_zero=("depth_ft",))
    depths = np.atleast_1d(np.asarray(checked_depths))
    x, y = _coordinates("x_ft", x_ft), _coordinates("y_ft", y_ft)
    if depths.ndim != 1 or not x.shape == y.shape == depths.shape:
        raise fault(
            GeometryFaulty, "are not lists of one length", "give x, y and depth of each spot",
            "x_ft, y_ft, depth_ft",
        )  # fmt: skip
    if len(depths) < 3:
        what = f"{how_many(len(depths), 'spot')} cannot make a surface"
        raise fault(GeometryFaulty, what, "measure three or more")
    order = np.lexsort((y, x))
    places = np.column_stack([x, y])[order]
    _refuse_twice_the_same(places)
    return places, depths[order]


def _coordinates(name: str, value: npt.ArrayLike) -> Floats:
    try:
        numbers = np.atleast_1d(np.array(without_texts(name, value), dtype=np.float64))
    except (TypeError, ValueError):
        raise fault(GeometryFaulty, "is not a list of numbers", where=name) from None
    if not np.all(np.abs(numbers) <= LARGEST):
        raise fault(GeometryFaulty, "is not finite or too large", "measure it again", name)
    return numbers


def _refuse_twice_the_same(places: Floats) -> None:
    from scipy.spatial import KDTree

    pairs = KDTree(places).query_pairs(NEAREST_FT, output_type="ndarray")
    if len(pairs):
        x, y = places[pairs[0, 0]]
        raise fault(
            GeometryFaulty, f"there are two depths at x {x:g} ft, y {y:g} ft", "keep one of them"
        )
