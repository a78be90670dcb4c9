"""The surface of flat triangles that is stretched between spot depths."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from estimator.errors import GeometryFaulty, fault

NEAREST_FT = 0.01

_FLATTEST = 1e-9
_SAME_CIRCLE = 1e-9

Floats = npt.NDArray[np.float64]
Corners = npt.NDArray[np.int64]


@dataclass(frozen=True)
class Mesh:
    """Triangles with a depth at each corner.

    Parameters
    ----------
    places : float array, shape (n, 2) [ft]
        Of the spots.
    triangles : float array, shape (m, 3, 3) [ft]
        Three corners of x, y and depth.
    """

    places: Floats
    triangles: Floats

    def area_and_volume(self) -> tuple[float, float]:
        """Return area [sf] and volume [cf] of the whole surface."""
        areas = self.areas
        return float(np.sum(areas)), float(np.sum(areas * self.triangles[:, :, 2].mean(axis=1)))

    @property
    def areas(self) -> Floats:
        """Area of each triangle [sf]."""
        first, second, third = (self.triangles[:, corner, :2] for corner in range(3))
        return np.asarray(np.abs(_cross(second - first, third - first)) / 2.0)


def stretched_mesh(places: Floats, depths: Floats) -> Mesh:
    """Return the surface through spots that lie around the origin.

    Where four spots or more stand on one circle, many ways to divide them would serve. They are
    divided from their middle, at the mean of their depths: neither the order of the spots nor the
    turn of the drawing matters::

        o---------o
        | .     . |
        |    x    |    x  middle of the spots, at their mean depth
        | .     . |
        o---------o
    """
    spots = np.column_stack([places, depths])
    corners, neighbors = _triangles(places)
    shape = _shapes_on_one_circle(places, corners, neighbors)
    alone = np.bincount(shape)[shape] == 1
    triangle, side = np.nonzero(
        ~alone[:, None] & ((neighbors < 0) | (shape[neighbors] != shape[:, None]))
    )
    rim = spots[_edges(corners, triangle, side)]
    middles = _means(rim.mean(axis=1), shape[triangle])
    fans = np.concatenate([rim, middles[:, None]], axis=1)
    return Mesh(places, np.concatenate([spots[corners[alone]], fans]))


def _means(values: Floats, group: Corners) -> Floats:
    """Return for each row the mean of the rows of its group, shape (n, 3)."""
    counts = np.bincount(group)[group]
    sums = [np.bincount(group, weights=column)[group] for column in values.T]
    return np.asarray(np.column_stack(sums) / counts[:, None])


def _edges(corners: Corners, triangle: Corners, side: Corners) -> Corners:
    """Return the two corners of the edge opposite a side's tip, shape (n, 2)."""
    return np.column_stack([corners[triangle, (side + 1) % 3], corners[triangle, (side + 2) % 3]])


def _triangles(places: Floats) -> tuple[Corners, Corners]:
    """Return the corners of each triangle and, opposite each corner, the neighbor or -1."""
    from scipy.spatial import Delaunay

    widest, narrowest = np.linalg.svd(places, compute_uv=False)
    if narrowest <= _FLATTEST * widest:
        raise fault(GeometryFaulty, "all spots are in one line", "measure some beside it")
    mesh = Delaunay(places)
    if mesh.coplanar.size:
        raise fault(GeometryFaulty, "spots are too close together for so wide a site")
    return mesh.simplices.astype(np.int64), mesh.neighbors.astype(np.int64)


def _cross(a: Floats, b: Floats) -> Floats:
    return a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]


def _shapes_on_one_circle(places: Floats, corners: Corners, neighbors: Corners) -> Corners:
    """Return the number of the shape that each triangle is part of: the same on one circle."""
    from scipy.sparse import coo_array
    from scipy.sparse.csgraph import connected_components

    one, side = np.nonzero(neighbors > np.arange(len(corners))[:, None])
    other = neighbors[one, side]
    edge, tip = _edges(corners, one, side), corners[one, side]
    other_tip = corners[other].sum(axis=1) - edge.sum(axis=1)
    joined = _opposite_angles_are_straight(
        places[edge[:, 0]], places[edge[:, 1]], places[tip], places[other_tip]
    )
    links = coo_array(
        (np.ones(joined.sum()), (one[joined], other[joined])), shape=(len(corners),) * 2
    )
    return np.asarray(connected_components(links, directed=False)[1], dtype=np.int64)


def _opposite_angles_are_straight(
    a: Floats, b: Floats, c: Floats, d: Floats
) -> npt.NDArray[np.bool_]:
    """Whether the angles at c and d add up to 180 degrees: then all four are on one circle."""
    at_c, at_d = (
        np.arctan2(np.abs(_cross(a - tip, b - tip)), np.sum((a - tip) * (b - tip), axis=1))
        for tip in (c, d)
    )
    return np.asarray(np.abs(at_c + at_d - np.pi) < _SAME_CIRCLE)
