"""What it takes to tip a piece that stands freely: by a push at its top, a slope, or a step.

    push at the top            W  weight, at the centre of mass
   ------>  ___                x  from the edge it tips over back to the centre
           |   |               z  how high the centre is
           | W |   z           h  how high the push is
       ____|_._|___
           <-x>    the edge    push = W x / h,  tilt = atan(x / z),  a load P stays up if P e <= W x

Source: equilibrium of moments about the edge; nothing in the piece moves or bends.
"""

import math
from collections.abc import Iterable, Mapping
from itertools import pairwise

from shapely.geometry import MultiPoint, Polygon

from generator.geometry.rods import place_corners
from generator.geometry.tolerance import CLOSES_MM
from generator.geometry.vectors import Vec2, Vec3
from generator.model.parts import Part, Parts, Piece
from generator.model.strength import SPOT_INSIDE_MM, Load, Step, Tipping
from generator.strength.supports import Body
from generator.units import GRAVITY_N_KG

Edge = tuple[Vec2, Vec2]
"""A point of an edge of the base, and the direction out of the base, length 1."""


def push_to_tip_n(mass_kg: float, behind_mm: float, height_mm: float) -> float:
    """Return the level push that tips a piece over an edge of its base.

    Args:
        mass_kg: Of the piece.
        behind_mm: From the edge back to the centre of mass.
        height_mm: Of the push above the floor.
    """
    return mass_kg * GRAVITY_N_KG * behind_mm / height_mm


def critical_tilt_deg(behind_mm: float, center_mm: float) -> float:
    """Return the slope at which the centre of mass is right above the edge.

    Args:
        behind_mm: From the edge back to the centre of mass.
        center_mm: How high the centre of mass is.
    """
    return math.degrees(math.atan2(behind_mm, center_mm))


def load_beyond_mm(mass_kg: float, behind_mm: float, load_kg: float) -> float:
    """Return how far outside the edge a load may press before it tips the piece."""
    return mass_kg * behind_mm / load_kg


def find_tipping(parts: Parts, *, has_wall: bool) -> Tipping | None:
    """Return what tips a piece over the edge it falls over most easily; None without a base.

    Args:
        parts: All of them.
        has_wall: Whether it stands before a wall, so that it cannot fall to the back.
    """
    floor, top = parts.low[2], parts.high[2]
    center = parts.center
    found = []
    for edge in find_base(parts):
        if has_wall and _way(edge) == "back":
            continue
        behind = _behind(edge, center)
        tilt = critical_tilt_deg(behind, center[2] - floor)
        push = push_to_tip_n(parts.mass_kg, behind, top - floor)
        found.append(
            Tipping(
                way=_way(edge),
                inside_mm=behind,
                push_n=push,
                push_at_mm=top - floor,
                tilt_deg=tilt,
            )
        )
    return min(found, key=lambda one: round(one.inside_mm, 6), default=None)


def find_steps(
    parts: Parts, bodies: Mapping[str, Body], loads: Mapping[str, Load]
) -> tuple[Step, ...]:
    """Return for every load on one spot where it comes nearest to tipping the whole."""
    base = find_base(parts)
    steps = []
    for name, load in loads.items():
        spots = _spots(bodies[name]) if load.on_spot else []
        found = [
            Step(
                piece=name,
                load=load,
                way=_way(edge),
                beyond_mm=-_behind(edge, spot),
                needed_mm=load_beyond_mm(parts.mass_kg, _behind(edge, parts.center), load.mass_kg),
            )
            for edge in base
            for spot in spots
        ]
        if found:
            steps.append(max(found, key=lambda one: round(one.beyond_mm - one.needed_mm, 6)))
    return tuple(steps)


def find_base(parts: Parts) -> tuple[Edge, ...]:
    """Return the edges of the smallest convex shape around all that touches the floor."""
    floor = parts.low[2]
    points = [
        (point[0], point[1])
        for part in parts.parts
        for piece in part.pieces
        if _lowest_mm(part, piece) <= floor + CLOSES_MM
        for face in part.slab.faces()
        for point in map(piece.frame.to_world, face.outer)
        if point[2] <= floor + CLOSES_MM
    ]
    hull = MultiPoint(points).convex_hull
    if not isinstance(hull, Polygon):
        return ()
    ring = list(hull.exterior.coords)
    if not hull.exterior.is_ccw:
        ring.reverse()
    return tuple(_edge(start, end) for start, end in pairwise(ring))


def _lowest_mm(part: Part, piece: Piece) -> float:
    """Return how high the lowest corner of a piece is: what stands higher is left out."""
    return min(point[2] for point in place_corners(part.slab, piece.frame))


def _edge(start: Iterable[float], end: Iterable[float]) -> Edge:
    (x0, y0), (x1, y1) = start, end
    size = math.hypot(x1 - x0, y1 - y0)
    return (x0, y0), ((y1 - y0) / size, (x0 - x1) / size)


def _behind(edge: Edge, point: Vec3) -> float:
    (x, y), (out_x, out_y) = edge
    return (x - point[0]) * out_x + (y - point[1]) * out_y


def _way(edge: Edge) -> str:
    """Return the side of the piece an edge of the base looks to."""
    out_x, out_y = edge[1]
    if abs(out_x) >= abs(out_y):
        return "right" if out_x > 0 else "left"
    return "back" if out_y > 0 else "front"


def _spots(body: Body) -> list[Vec3]:
    """Return the outermost spots of a piece somebody would stand on, seen from above."""
    faces = body.part.slab.faces()[:2]
    points = [body.piece.frame.to_world(point) for face in faces for point in face.outer]
    hull = MultiPoint([point[:2] for point in points]).convex_hull
    inner = hull.buffer(-SPOT_INSIDE_MM, join_style="mitre")
    shape = inner if isinstance(inner, Polygon) and not inner.is_empty else hull.centroid
    height = max(point[2] for point in points)
    ring = shape.exterior.coords if isinstance(shape, Polygon) else shape.coords
    return [(float(x), float(y), height) for x, y in ring]
