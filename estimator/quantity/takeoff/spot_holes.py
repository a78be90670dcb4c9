"""What piers, walls and hollow corners take out of a surface between spot depths.

Each hole is cut into a fan of triangles from its first corner, signed, so that hollow outlines come
out right; each triangle of the surface is clipped by each of the fan, depths and all.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations, pairwise

import numpy as np
import numpy.typing as npt

from estimator.errors import GeometryFaulty, fault
from estimator.quantity.takeoff.spot_mesh import NEAREST_FT, Floats, Mesh

_SMALLEST_SF = 1e-6

Point = tuple[float, float, float]
Fan = list[tuple[float, tuple[Point, Point, Point]]]


def surface_of_holes(
    mesh: Mesh, holes: Sequence[npt.ArrayLike], middle: Floats
) -> tuple[float, float]:
    """Return area [sf] and volume [cf] of the surface within some holes.

    Parameters
    ----------
    mesh : Mesh
        Around the origin.
    holes : sequence of arrays, each of shape (m, 2) [ft]
        In the coordinates of the site.
    middle : array, shape (2,) [ft]
        Where the origin of the mesh lies on the site.

    Raises
    ------
    GeometryFaulty
        If a hole has no area, crosses itself, reaches beyond the mesh or overlaps another.
    """
    outlines = [_outline(f"hole {n}", hole) - middle for n, hole in enumerate(holes, start=1)]
    for number, outline in enumerate(outlines, start=1):
        _refuse_beyond(f"hole {number}", outline, mesh)
    fans = [_fan(outline) for outline in outlines]
    _refuse_overlap(fans)
    area = volume = 0.0
    for fan in fans:
        for sign, wedge in fan:
            wedge_area, wedge_volume = _within(mesh, wedge)
            area += sign * wedge_area
            volume += sign * wedge_volume
    return area, volume


def _outline(where: str, hole: npt.ArrayLike) -> Floats:
    """Return the corners of a hole that is a shape."""
    try:
        corners = np.array(hole, dtype=np.float64)
    except (TypeError, ValueError):
        raise fault(GeometryFaulty, "is not a list of corners", "give x and y", where) from None
    if corners.ndim != 2 or corners.shape[1] != 2 or not np.all(np.isfinite(corners)):
        raise fault(GeometryFaulty, "is not a list of corners", "give x and y of each", where)
    if len(corners) < 3:
        raise fault(GeometryFaulty, "has fewer than three corners", "give all of them", where)
    if _crosses_itself(corners):
        raise fault(GeometryFaulty, "crosses or touches itself", "give the corners in turn", where)
    if abs(_doubled_area(corners - corners[0])) / 2.0 < _SMALLEST_SF:
        raise fault(GeometryFaulty, "has no area", "leave it out", where)
    return corners


def _doubled_area(corners: Floats) -> float:
    x, y = corners.T
    return float(np.sum(x * np.roll(y, -1) - y * np.roll(x, -1)))


def _crosses_itself(outline: Floats) -> bool:
    """Whether two sides that are not next to each other meet, or two corners are the same."""
    corners = outline.tolist()
    sides = list(zip(corners, corners[1:] + corners[:1], strict=True))
    if any(start == end for start, end in sides):
        return True
    return any(
        _meet(*one, *other)
        for (i, one), (j, other) in combinations(enumerate(sides), 2)
        if j - i not in (1, len(sides) - 1)
    )


def _meet(a: Sequence[float], b: Sequence[float], c: Sequence[float], d: Sequence[float]) -> bool:
    """Whether the lines from a to b and from c to d have a point in common."""
    for axis in (0, 1):
        if max(a[axis], b[axis]) < min(c[axis], d[axis]):
            return False
        if max(c[axis], d[axis]) < min(a[axis], b[axis]):
            return False
    return _turn(a, b, c) * _turn(a, b, d) <= 0.0 and _turn(c, d, a) * _turn(c, d, b) <= 0.0


def _turn(a: Sequence[float], b: Sequence[float], c: Sequence[float]) -> float:
    """Return twice the area of a triangle: above zero if it turns left."""
    return float((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]))


def _refuse_beyond(where: str, outline: Floats, mesh: Mesh) -> None:
    from scipy.spatial import ConvexHull

    edges = ConvexHull(mesh.places).equations
    if np.any(outline @ edges[:, :2].T + edges[:, 2] > NEAREST_FT):
        raise fault(
            GeometryFaulty, "reaches beyond the outermost spots", "measure the rim, too", where
        )


def _refuse_overlap(fans: list[Fan]) -> None:
    for (first, one), (second, other) in combinations(enumerate(fans, start=1), 2):
        shared = sum(
            sign * other_sign * _measures(_clipped(list(wedge), other_wedge))[0]
            for sign, wedge in one
            for other_sign, other_wedge in other
        )
        if shared > _SMALLEST_SF:
            raise fault(
                GeometryFaulty, "overlaps another hole, which would be deducted twice",
                f"see hole {first}", f"hole {second}",
            )  # fmt: skip


def _fan(outline: Floats) -> Fan:
    """Return triangles, turning left, that add up to the outline by their signs."""
    hub, *others = ((float(x), float(y), 1.0) for x, y in outline)
    whole = 1.0 if _doubled_area(outline) > 0 else -1.0
    fan: Fan = []
    for one, other in pairwise(others):
        turn = _turn(hub, one, other)
        if turn > 0:
            fan.append((whole, (hub, one, other)))
        elif turn < 0:
            fan.append((-whole, (hub, other, one)))
    return fan


def _within(mesh: Mesh, wedge: tuple[Point, Point, Point]) -> tuple[float, float]:
    """Return area and volume of the surface within a triangle."""
    parts = [_measures(_clipped(corners, wedge)) for corners in _near(mesh, np.array(wedge)[:, :2])]
    return sum(area for area, _ in parts), sum(volume for _, volume in parts)


def _near(mesh: Mesh, corners: Floats) -> Iterator[list[Point]]:
    """Yield the triangles whose box meets that of the given corners."""
    places = mesh.triangles[:, :, :2]
    meets = np.all(places.min(axis=1) <= corners.max(axis=0), axis=1)
    meets &= np.all(places.max(axis=1) >= corners.min(axis=0), axis=1)
    for triangle in mesh.triangles[meets].tolist():
        yield [(x, y, depth) for x, y, depth in triangle]


def _clipped(corners: list[Point], wedge: tuple[Point, Point, Point]) -> list[Point]:
    """Return the part of a hollow-free outline within a triangle that turns left."""
    for start, end in ((wedge[0], wedge[1]), (wedge[1], wedge[2]), (wedge[2], wedge[0])):
        corners = _left_of(corners, start, end)
    return corners


def _left_of(corners: list[Point], start: Point, end: Point) -> list[Point]:
    """Return the part of an outline on the left of a line, with the depth where it is cut."""
    sides = [_turn(start, end, corner) for corner in corners]
    remaining: list[Point] = []
    for here, corner in enumerate(corners):
        there = (here + 1) % len(corners)
        if sides[here] >= 0:
            remaining.append(corner)
        if sides[here] * sides[there] < 0:
            share = sides[here] / (sides[here] - sides[there])
            x, y, depth = (a + (b - a) * share for a, b in zip(corner, corners[there], strict=True))
            remaining.append((x, y, depth))
    return remaining


def _measures(corners: list[Point]) -> tuple[float, float]:
    """Return area and volume of an outline without hollows that bears a flat surface."""
    area = volume = 0.0
    for one, other in pairwise(corners[1:]):
        part = abs(_turn(corners[0], one, other)) / 2.0
        area += part
        volume += part * (corners[0][2] + one[2] + other[2]) / 3.0
    return area, volume
