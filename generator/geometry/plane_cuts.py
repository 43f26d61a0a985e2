"""What a plane square to a line of sight cuts of a solid, as polygons in that view."""

import numpy as np
from manifold3d import Manifold
from shapely.geometry import MultiPoint, Polygon

from generator.geometry.projection import Mesh, View
from generator.geometry.tolerance import SAME_POINT_MM


def cut_solid(solid: Manifold, view: View, nearness_mm: float) -> tuple[Polygon, ...]:
    """Return what a plane cuts of a solid, its points across and up in the view, in mm.

    Args:
        solid: In the room.
        view: It looks square at the plane.
        nearness_mm: Of the plane: ``view.project(point)[2]`` of all its points.
    """
    turn = np.array([[*view.right, 0.0], [*view.up, 0.0], [*view.eye, 0.0]])
    cut = solid.transform(turn).slice(nearness_mm)
    found = []
    for whole in cut.decompose():
        rings = [[(float(x), float(y)) for x, y in ring] for ring in whole.to_polygons()]
        outer, *holes = sorted(rings, key=lambda ring: -Polygon(ring).area)
        polygon = Polygon(outer, holes).simplify(SAME_POINT_MM).normalize()
        if isinstance(polygon, Polygon) and polygon.area > SAME_POINT_MM:
            found.append(polygon)
    return tuple(sorted(found, key=lambda one: one.bounds))


def cut_convex(mesh: Mesh, view: View, nearness_mm: float) -> tuple[Polygon, ...]:
    """Return what a plane cuts of one solid without dents, as `cut_solid` does, but quicker.

    It is the hull of the points in which edges go through the plane.
    """
    points = view.project_all(mesh.points)
    start, end = points[mesh.edges[:, 0]], points[mesh.edges[:, 1]]
    low, high = start[:, 2] - nearness_mm, end[:, 2] - nearness_mm
    through = low * high < 0
    start, end, low, high = start[through], end[through], low[through], high[through]
    met = start[:, :2] + (end - start)[:, :2] * (low / (low - high))[:, None]
    hull = MultiPoint(met).convex_hull.simplify(SAME_POINT_MM).normalize()
    return (hull,) if isinstance(hull, Polygon) and hull.area > SAME_POINT_MM else ()
