"""An opening that traps: a child's head (C701) or finger (C702), where the design has children.

Source of the head: CPSC Public Playground Safety Handbook (pub. 325), B.2.5.1: an opening is
suspect if its inside is wider than 3 1/2 in and narrower than 9 in. Source of the finger: Caring
for Our Children, standard 6.2.1.9: none wider than 3/8 in and narrower than 1 in. Both are held
strictly: the limits themselves pass.

A gap between two pieces counts where one can look straight through, along the middle of the gap.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from shapely.geometry import LineString, Point, Polygon

from generator.geometry.frames import Plane
from generator.geometry.tolerance import PARALLEL_SINE, SAME_PLANE_MM, SAME_POINT_MM
from generator.geometry.vectors import Vec3, add, dot, norm, scale
from generator.model.parts import FACE_A, FACE_B, Part, Piece
from generator.model.plan import Plan
from generator.problems import Place, Problem, make_problem
from generator.units import MM_PER_INCH, format_both

INCH_MM = float(MM_PER_INCH)
TRAPS = (("C701", 3.5 * INCH_MM, 9.0 * INCH_MM), ("C702", 0.375 * INCH_MM, 1.0 * INCH_MM))
"""Code, and between which widths an opening traps, both ends excluded."""

FAR_MM = 1e5
"""Further than any piece of furniture reaches."""

NEARLY_OPPOSITE = -0.5
"""Two directions whose product is greater than this need no closer look."""


@dataclass(frozen=True, slots=True)
class _Side:
    """A straight side of a piece in the room, with its corners."""

    plane: Plane
    corners: tuple[Vec3, ...]


@dataclass(frozen=True, slots=True)
class _Solid:
    """A piece in the room, bevels left aside, and the box around it."""

    piece: Piece
    part: Part
    outline: Polygon
    sides: tuple[_Side, ...]
    low: Vec3
    high: Vec3


_Pair = tuple[_Side, _Side]


def check_traps(plan: Plan) -> tuple[Problem, ...]:
    """Return a C701 or C702 for every opening and gap that traps, if children use the piece."""
    if not plan.edition.story.children:
        return ()
    problems: list[Problem] = []
    for part in plan.parts.parts:
        for opening in part.openings:
            what = f"{opening.name} in `{part.name}`"
            problems += _judge(plan, what, min(opening.sizes_mm), part.place)
    solids = [_solid(part, piece) for part in plan.parts.parts for piece in part.pieces]
    for first, second, sides in _facing(solids):
        what = f"gap between `{first.piece.name}` and `{second.piece.name}`"
        for width, length in _gaps(first, second, sides, solids):
            problems += _judge(plan, what, width, first.piece.place, length)
    return tuple(dict.fromkeys(problems))


def _judge(
    plan: Plan, what: str, width_mm: float, place: Place, length_mm: float = FAR_MM
) -> Iterator[Problem]:
    system = plan.edition.system
    for code, least, most in TRAPS:
        if least + SAME_POINT_MM < width_mm < most - SAME_POINT_MM and length_mm > least:
            yield make_problem(
                code,
                place,
                what=what,
                width=format_both(width_mm, system),
                least=format_both(least, system),
                most=format_both(most, system),
                hint="make it narrower or wider than that",
            )


def _solid(part: Part, piece: Piece) -> _Solid:
    frame = piece.frame
    holes = [hole.flattened() for hole in part.slab.holes]
    ring = part.slab.section(part.thickness_mm / 2).flattened()
    sides = []
    for face in part.slab.faces():
        curved = face.edge >= 0 and part.edges[face.edge].radius_mm > 0
        if curved or face.edge not in {FACE_A, FACE_B, *range(len(part.edges))}:
            continue
        corners = tuple(frame.to_world(corner) for corner in face.outer)
        normal = frame.direction(face.normal)
        sides.append(_Side(Plane(normal, dot(normal, corners[0])), corners))
    xs, ys, zs = zip(
        *(frame.to_world((x, y, z)) for x, y in ring for z in (0.0, part.thickness_mm)), strict=True
    )
    low, high = (min(xs), min(ys), min(zs)), (max(xs), max(ys), max(zs))
    return _Solid(piece, part, Polygon(ring, holes), tuple(sides), low, high)


def _facing(solids: list[_Solid]) -> Iterator[tuple[_Solid, _Solid, list[_Pair]]]:
    """Yield every two solids with those of their sides that may have a gap between them.

    All sides are compared at once, a little generously; `_gaps` looks at what is left.
    """
    owners, sides = zip(*((i, s) for i, one in enumerate(solids) for s in one.sides), strict=True)
    normals = np.array([side.plane.normal for side in sides])
    corners = np.array([side.corners[0] for side in sides])
    offsets = np.array([side.plane.offset for side in sides])
    owner = np.array(owners)
    products = np.einsum("ik,jk->ij", normals, normals)
    widths = np.einsum("ik,jk->ij", normals, corners) - offsets[:, None]
    facing = (
        (owner[:, None] < owner[None, :])
        & (products < NEARLY_OPPOSITE)
        & (widths > TRAPS[1][1] - SAME_PLANE_MM)
        & (widths < TRAPS[0][2] + SAME_PLANE_MM)
    )
    pairs: dict[tuple[int, int], list[_Pair]] = {}
    for mine, theirs in np.argwhere(facing).tolist():
        pairs.setdefault((owners[mine], owners[theirs]), []).append((sides[mine], sides[theirs]))
    for i, j in sorted(pairs):
        yield solids[i], solids[j], pairs[i, j]


def _gaps(
    first: _Solid, second: _Solid, sides: list[_Pair], solids: list[_Solid]
) -> Iterator[tuple[float, float]]:
    """Yield width and length of every gap between sides that face each other and are seen through.

    The length runs along the sides, across the way one looks through.
    """
    frame = first.piece.frame
    for mine, theirs in sides:
        normal = mine.plane.normal
        if norm(add(normal, theirs.plane.normal)) > PARALLEL_SINE:
            continue
        width = mine.plane.height(theirs.corners[0])
        if width < TRAPS[1][1] or width > TRAPS[0][2]:
            continue
        ways = [a for a in (frame.x, frame.y, frame.z) if abs(dot(a, normal)) < 0.5]
        if len(ways) != 2:
            continue
        spans = [_span(mine.corners, theirs.corners, way) for way in ways]
        if any(high - low <= SAME_POINT_MM for low, high in spans):
            continue
        middle = _middle(mine.plane, width / 2, ways, spans)
        others = [solid for solid in solids if solid is not first and solid is not second]
        if _is_filled(middle, scale(normal, width / 2), others):
            continue
        lengths = [high - low for low, high in spans]
        short = lengths.index(min(lengths))
        along = _way_across(middle, ways, short, others)
        if along is not None:
            yield width, lengths[along]


def _is_filled(middle: Vec3, half: Vec3, others: list[_Solid]) -> bool:
    """Whether another piece stands in the gap, from one side to the other through its middle."""
    start, end = add(middle, scale(half, -1.0)), add(middle, half)
    return any(_blocks(solid, start, end) for solid in others)


def _way_across(middle: Vec3, ways: list[Vec3], short: int, others: list[_Solid]) -> int | None:
    """Return which way a gap runs where one can look through it across that way, else None.

    One looks through the short way, as between slats. Where that is closed on both sides, the gap
    is a tube and one looks through its length; closed on one side, it is a recess and no opening.
    """
    closed = [
        any(_blocks(solid, middle, _far(middle, ways[short], sign)) for solid in others)
        for sign in (1.0, -1.0)
    ]
    if not any(closed):
        return 1 - short
    through = ways[1 - short]
    if all(closed) and not any(
        _blocks(solid, middle, _far(middle, through, sign))
        for solid in others
        for sign in (1.0, -1.0)
    ):
        return short
    return None


def _far(point: Vec3, way: Vec3, sign: float) -> Vec3:
    return add(point, scale(way, sign * FAR_MM))


def _span(mine: tuple[Vec3, ...], theirs: tuple[Vec3, ...], way: Vec3) -> tuple[float, float]:
    """Return from where to where both sides reach in a direction."""
    ends = [[dot(corner, way) for corner in corners] for corners in (mine, theirs)]
    return max(min(values) for values in ends), min(max(values) for values in ends)


def _middle(
    plane: Plane, lift_mm: float, ways: list[Vec3], spans: list[tuple[float, float]]
) -> Vec3:
    """Return the point in the middle of a gap: half its width off a side, in the middle of both."""
    point = scale(plane.normal, plane.offset + lift_mm)
    for way, (low, high) in zip(ways, spans, strict=True):
        point = add(point, scale(way, (low + high) / 2 - dot(point, way)))
    return add(point, scale(plane.normal, lift_mm - plane.height(point)))


def _blocks(solid: _Solid, point: Vec3, other: Vec3) -> bool:
    """Whether one who looks from a point to another sees a piece, bevels left aside."""
    for i in range(3):
        one, two = (point[i], other[i]) if point[i] < other[i] else (other[i], point[i])
        if two < solid.low[i] or one > solid.high[i]:
            return False
    frame, thickness = solid.piece.frame, solid.part.thickness_mm
    start, end = frame.to_local(point), frame.to_local(other)
    rise = end[2] - start[2]
    if abs(rise) < SAME_POINT_MM:
        if not 0.0 < start[2] < thickness:
            return False
        shares = (0.0, 1.0)
    else:
        low, high = sorted((-start[2] / rise, (thickness - start[2]) / rise))
        shares = (max(0.0, low), min(1.0, high))
    ends = [_between(start, end, share) for share in shares]
    if shares[0] >= shares[1]:
        return False
    if abs(ends[0][0] - ends[1][0]) + abs(ends[0][1] - ends[1][1]) < SAME_POINT_MM:
        return bool(solid.outline.contains(Point(ends[0])))
    return float(solid.outline.intersection(LineString(ends)).length) > SAME_POINT_MM


def _between(start: Vec3, end: Vec3, share: float) -> tuple[float, float]:
    return (start[0] + (end[0] - start[0]) * share, start[1] + (end[1] - start[1]) * share)
