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
    """Triangles with a depth at each corner, each counted by its weight.

    Parameters
    ----------
    places : float array, shape (n, 2) [ft]
        Of the spots.
    triangles : float array, shape (m, 3, 3) [ft]
        Three corners of x, y and depth.
    weights : float array, shape (m,)
        1, or a half more or less where both diagonals of four spots on a circle count.
    """

    places: Floats
    triangles: Floats
    weights: Floats

    def area_and_volume(self) -> tuple[float, float]:
        """Return area [sf] and volume [cf] of the whole surface."""
        areas = self.areas
        return float(np.sum(areas)), float(np.sum(areas * self.triangles[:, :, 2].mean(axis=1)))

    @property
    def areas(self) -> Floats:
        """Area of each triangle by its weight [sf]; negative where one is taken back."""
        return np.asarray(self.weights * _areas(self.triangles))


def stretched_mesh(places: Floats, depths: Floats) -> Mesh:
    """Return the surface through spots that lie around the origin.

    Where four spots stand on one circle, both diagonals count half: the two triangles of the one
    that was drawn are taken back by half, and those of the other added by half.
    """
    corners, neighbors = _triangles(places)
    quads = _circle_quads(places, corners, neighbors)
    drawn, other = quads[:, [[0, 1, 2], [0, 1, 3]]], quads[:, [[2, 3, 0], [2, 3, 1]]]
    all_corners = np.concatenate([corners, drawn.reshape(-1, 3), other.reshape(-1, 3)])
    weights = np.repeat([1.0, -0.5, 0.5], [len(corners), 2 * len(quads), 2 * len(quads)])
    spots = np.column_stack([places, depths])
    return Mesh(places, spots[all_corners], weights)


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


def _areas(triangles: Floats) -> Floats:
    first, second, third = (triangles[:, corner, :2] for corner in range(3))
    return np.abs(_cross(second - first, third - first)) / 2.0


def _cross(a: Floats, b: Floats) -> Floats:
    return a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]


def _circle_quads(places: Floats, triangles: Corners, neighbors: Corners) -> Corners:
    """Return, of each pair of triangles on one circle, the shared edge a, b and the tips c, d.

    A triangle on one circle with two neighbors (five spots or more on it) is left as it is.
    """
    one, side = np.nonzero(neighbors > np.arange(len(triangles))[:, None])
    other = neighbors[one, side]
    a, b = triangles[one, (side + 1) % 3], triangles[one, (side + 2) % 3]
    c, d = triangles[one, side], triangles[other].sum(axis=1) - a - b
    on_circle = _opposite_angles_are_straight(*(places[corner] for corner in (a, b, c, d)))
    pairs = np.column_stack([one, other])[on_circle]
    uses = np.bincount(pairs.ravel(), minlength=len(triangles))
    alone = np.all(uses[pairs] == 1, axis=1)
    return np.column_stack([a, b, c, d])[on_circle][alone]


def _opposite_angles_are_straight(
    a: Floats, b: Floats, c: Floats, d: Floats
) -> npt.NDArray[np.bool_]:
    """Whether the angles at c and d add up to 180 degrees: then all four are on one circle."""
    at_c, at_d = (
        np.arctan2(np.abs(_cross(a - tip, b - tip)), np.sum((a - tip) * (b - tip), axis=1))
        for tip in (c, d)
    )
    return np.asarray(np.abs(at_c + at_d - np.pi) < _SAME_CIRCLE)
