"""Mean depth over an uneven floor, from depths sounded at scattered spots.

The surface is stretched in flat triangles between neighbouring spots (Delaunay triangulation) and
ends at the outermost spots: sound the corners and edges of a pit, too, or its rim is not counted.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from estimator.errors import GeometryFaulty, fault
from estimator.quantity.dimensions import LARGEST, dimensions

_FLATTEST = 1e-9
_NEAREST_FT = 0.01
_SAME_CIRCLE = 1e-9

Floats = npt.NDArray[np.float64]
Corners = npt.NDArray[np.int64]


@dataclass(frozen=True)
class SpotSurface:
    """What lies between the spots.

    Parameters
    ----------
    area_sf : float [sf]
        Seen from above, within the outermost spots.
    volume_cf : float [cf]
    mean_depth_ft : float [ft]
        Volume / area.
    """

    area_sf: float
    volume_cf: float
    mean_depth_ft: float


def mean_spot_depth(
    x_ft: npt.ArrayLike, y_ft: npt.ArrayLike, depth_ft: npt.ArrayLike
) -> SpotSurface:
    """Return area, volume and mean depth of the surface stretched between spot depths.

    Parameters
    ----------
    x_ft, y_ft : array, shape (n,) [ft]
        Where each depth was sounded, from any corner and in any order; may be negative.
    depth_ft : array, shape (n,) [ft]
        Zero or more.

    Raises
    ------
    GeometryFaulty
        If there are fewer than three spots, two within 0.01 ft, all stand in one line, or a
        number is not finite or a depth negative.

    Notes
    -----
    V = sum over triangles of area x mean of its three depths: exact for an even slope. Where four
    spots stand on one circle, as those of a square grid do, either diagonal would serve; the mean
    of both is taken. A grid then gives in each cell the mean of its four corners, and neither the
    order of the spots nor the turn of the grid matters.

    Examples
    --------
    >>> mean_spot_depth([0, 20, 20, 0], [0, 0, 10, 10], [1, 1, 3, 4])
    SpotSurface(area_sf=200.0, volume_cf=450.0, mean_depth_ft=2.25)

    References
    ----------
    M. de Berg et al., "Computational Geometry", 3rd ed. 2008, ch. 9 (from memory).
    """
    places, depths = _sorted_spots(x_ft, y_ft, depth_ft)
    triangles, neighbors = _triangles(places)
    areas = _areas(places, triangles)
    volume = float(np.sum(areas * depths[triangles].mean(axis=1)))
    volume += _other_diagonals(places, depths, triangles, neighbors) / 2.0
    area = float(np.sum(areas))
    return SpotSurface(area, volume, volume / area)


def _sorted_spots(
    x_ft: npt.ArrayLike, y_ft: npt.ArrayLike, depth_ft: npt.ArrayLike
) -> tuple[Floats, Floats]:
    """Return places, moved to the middle of the site, and depths, in one order for any input."""
    (given_depths,) = dimensions(depth_ft=depth_ft, may_be_zero=("depth_ft",))
    depths = np.atleast_1d(np.asarray(given_depths))
    x, y = _coordinates("x_ft", x_ft), _coordinates("y_ft", y_ft)
    if depths.ndim != 1 or not x.shape == y.shape == depths.shape:
        raise fault(
            GeometryFaulty, "are not lists of one length", "give x, y and depth of each spot",
            "x_ft, y_ft, depth_ft",
        )  # fmt: skip
    if len(depths) < 3:
        raise fault(GeometryFaulty, f"{len(depths)} spots make no surface", "sound three or more")
    order = np.lexsort((y, x))
    places = np.column_stack([x, y])[order]
    _refuse_twice_the_same(places)
    return places - places.mean(axis=0), depths[order]


def _coordinates(name: str, value: npt.ArrayLike) -> Floats:
    try:
        numbers = np.atleast_1d(np.array(value, dtype=np.float64))
    except (TypeError, ValueError):
        raise fault(GeometryFaulty, "is not a list of numbers", where=name) from None
    if not np.all(np.abs(numbers) <= LARGEST):
        raise fault(GeometryFaulty, "is not finite or too large", "measure it again", name)
    return numbers


def _refuse_twice_the_same(places: Floats) -> None:
    from scipy.spatial import KDTree

    pairs = KDTree(places).query_pairs(_NEAREST_FT, output_type="ndarray")
    if len(pairs):
        x, y = places[pairs[0, 0]]
        raise fault(
            GeometryFaulty, f"two depths stand at x {x:g} ft, y {y:g} ft", "keep one of them"
        )


def _triangles(places: Floats) -> tuple[Corners, Corners]:
    """Return the corners of each triangle and, opposite each corner, the neighbor or -1."""
    from scipy.spatial import Delaunay

    widest, narrowest = np.linalg.svd(places, compute_uv=False)
    if narrowest <= _FLATTEST * widest:
        raise fault(GeometryFaulty, "all spots stand in one line", "sound some beside it")
    mesh = Delaunay(places)
    if mesh.coplanar.size:
        raise fault(GeometryFaulty, "spots stand too close together for so wide a site")
    return mesh.simplices.astype(np.int64), mesh.neighbors.astype(np.int64)


def _areas(places: Floats, triangles: Corners) -> Floats:
    first, second, third = (places[triangles[:, corner]] for corner in range(3))
    return np.abs(_cross(second - first, third - first)) / 2.0


def _cross(a: Floats, b: Floats) -> Floats:
    return a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]


def _other_diagonals(
    places: Floats, depths: Floats, triangles: Corners, neighbors: Corners
) -> float:
    """Return what the volume would gain if each four-on-a-circle were split the other way."""
    quads = _circle_quads(places, triangles, neighbors)
    this_way, other_way = quads[:, [[0, 1, 2], [0, 1, 3]]], quads[:, [[2, 3, 0], [2, 3, 1]]]
    volumes = [
        np.sum(_areas(places, corners) * depths[corners].mean(axis=1))
        for corners in (this_way.reshape(-1, 3), other_way.reshape(-1, 3))
    ]
    return float(volumes[1] - volumes[0])


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
