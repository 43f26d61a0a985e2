"""One screw in space: where its axis runs, and how much wood is around it.

A face screw stands square on the first piece: its head is flush with the far face, the joint lies
one thickness further, the point stands in the second piece. A pocket screw leaves the edge of the
first piece at the middle of its thickness, slanting away from the face its pocket is bored in; the
head sits `pocket_seat_mm` before the joint.
"""

import math
from dataclasses import dataclass

from shapely.geometry import LineString, Point, Polygon

from generator.geometry.tolerance import SAME_PLANE_MM
from generator.geometry.vectors import Vec2, Vec3, add, dot, norm, scale, subtract, unit
from generator.joinery.contacts import PlacedPiece, PlaneSide
from generator.joinery.rules import POCKET_ANGLE_DEG, pocket_seat_mm
from generator.model.joinery import Contact
from generator.model.parts import FACE_A, FACE_B, Opening, Part

FAR_MM = 10_000.0
"""Longer than any part: a ray this long leaves it."""
LEVEL = 1e-6
"""A screw that moves less than this along the face for every mm of depth stands square on it."""


@dataclass(frozen=True, slots=True)
class Axis:
    """The line a screw is driven along.

    Attributes:
        joint: Where it passes from the first piece into the second.
        direction: From head to tip, length 1.
        seat_mm: From the head to the joint.
    """

    joint: Vec3
    direction: Vec3
    seat_mm: float

    @property
    def head(self) -> Vec3:
        """Where the head of the screw sits."""
        return subtract(self.joint, scale(self.direction, self.seat_mm))

    def tip(self, length_mm: float) -> Vec3:
        """Return where the point of a screw of a length ends."""
        return add(self.head, scale(self.direction, length_mm))


@dataclass(frozen=True, slots=True)
class Cover:
    """How much wood the second piece has along and beside an axis.

    Attributes:
        ahead_mm: Along the axis from the joint to where it would come out.
        slant: Cosine of the angle at which it would come out.
        beside_mm: Least distance from the axis to a side, up to the depth asked for.
    """

    ahead_mm: float
    slant: float
    beside_mm: float


def pocket_axis(first: PlacedPiece, contact: Contact, pocket: PlaneSide, at: Vec3) -> Axis:
    """Return the axis of a pocket screw that leaves the first piece at ``at``.

    It runs square to the edge line, `POCKET_ANGLE_DEG` out of the plane of the board, away from
    the face the pocket is bored in.
    """
    edge = side_of(first, contact.first_side)
    along = dot(edge.normal, pocket.normal)
    outward = unit(subtract(edge.normal, scale(pocket.normal, along)))
    angle = math.radians(POCKET_ANGLE_DEG)
    direction = subtract(scale(outward, math.cos(angle)), scale(pocket.normal, math.sin(angle)))
    return Axis(at, direction, pocket_seat_mm(first.part.thickness_mm))


def face_axis(first: PlacedPiece, contact: Contact, at: Vec3) -> Axis:
    """Return the axis of a screw driven square through the first piece at ``at``."""
    return Axis(at, contact.normal, first.part.thickness_mm)


def pocket_entry(axis: Axis, pocket: PlaneSide) -> Vec3:
    """Return where the axis of a pocket screw comes out of the face it is bored in."""
    back = (pocket.offset - dot(pocket.normal, axis.joint)) / dot(pocket.normal, axis.direction)
    return add(axis.joint, scale(axis.direction, back))


def side_of(placed: PlacedPiece, number: int) -> PlaneSide:
    """Return a plane side of a piece by its number."""
    return next(side for side in placed.sides if side.side == number)


def face_named(placed: PlacedPiece, word: str) -> PlaneSide | None:
    """Return face A or B of a piece by the piece's own word for it, or None."""
    for side, name in placed.piece.words:
        if side in {FACE_A, FACE_B} and name == word:
            return side_of(placed, side)
    return None


def measure_cover(second: PlacedPiece, entry_side: int, axis: Axis, depth_mm: float) -> Cover:
    """Return how much wood of the second piece is around an axis from the joint on.

    The piece is taken as the space between all its plane sides, openings and recesses taken off;
    the side or recess the screw enters from does not count as beside it.
    """
    ahead, slant, beside = math.inf, 1.0, math.inf
    tip = add(axis.joint, scale(axis.direction, depth_mm))
    for side in second.sides:
        speed = dot(side.normal, axis.direction)
        room = side.offset - dot(side.normal, axis.joint)
        if side.side in _as_one_side(second.part, entry_side) or _is_recess(second.part, side.side):
            continue
        if speed > 1e-9 and room / speed < ahead:
            ahead, slant = max(room, 0.0) / speed, speed
        if abs(speed) < 0.5:
            beside = min(beside, room, side.offset - dot(side.normal, tip))
    for void in _voids(second.part, entry_side):
        far = add(axis.joint, scale(axis.direction, FAR_MM))
        (x, y, _), end, beyond = (second.piece.frame.to_local(p) for p in (axis.joint, tip, far))
        beside = min(beside, void.distance(LineString([(x, y), end[:2]])))
        level = math.dist((x, y), beyond[:2]) / FAR_MM
        met = void.intersection(LineString([(x, y), beyond[:2]]))
        if level > LEVEL and not met.is_empty and met.distance(Point(x, y)) / level < ahead:
            ahead, slant = met.distance(Point(x, y)) / level, level
    return Cover(ahead, slant, beside)


def goes_through(placed: PlacedPiece, axis: Axis, start_mm: float, end_mm: float) -> bool:
    """Whether a stretch of the axis (from the joint, in mm) lies in wood all the way.

    Openings count as no wood. The stretch is looked at in five places.
    """
    part = placed.part
    for i in range(5):
        point = add(axis.joint, scale(axis.direction, start_mm + (end_mm - start_mm) * i / 4))
        if any(
            side.offset - dot(side.normal, point) < -SAME_PLANE_MM
            for side in placed.sides
            if not _is_recess(part, side.side)
        ):
            return False
        x, y, _ = placed.piece.frame.to_local(point)
        if any(_is_in_opening(hole, (x, y)) for hole in part.openings):
            return False
        if any(recess.outline.polygon().contains(Point(x, y)) for recess in part.recesses):
            return False
    return True


def _is_recess(part: Part, side: int) -> bool:
    return side >= 0 and part.edges[side].is_recess


def _as_one_side(part: Part, side: int) -> tuple[int, ...]:
    """Return a side with the other stretches of it that recesses have left of an edge."""
    if side < 0:
        return (side,)
    edge = part.edges[side]
    same = enumerate(part.edges)
    return tuple(i for i, e in same if i == side or (e.is_plain and e.name == edge.name))


def _voids(part: Part, entry_side: int) -> tuple[Polygon, ...]:
    """Return what is cut out of a part, but for the recess a side belongs to."""
    recesses = [recess for recess in part.recesses if entry_side not in recess.edges]
    outlines = [*(o.outline for o in part.openings), *(recess.outline for recess in recesses)]
    return tuple(outline.polygon() for outline in outlines)


def _is_in_opening(hole: Opening, point: Vec2) -> bool:
    """Whether a point lies in an opening, which is nowhere wider than its greatest sizes."""
    if math.dist(point, hole.center) > math.hypot(*hole.sizes_mm) / 2:
        return False
    return bool(hole.outline.polygon().contains(Point(point)))


def gap_between(first: tuple[Vec3, Vec3], second: tuple[Vec3, Vec3]) -> float:
    """Return the least distance of two straight stretches, each from a point to a point."""
    a, b = subtract(first[1], first[0]), subtract(second[1], second[0])
    between = subtract(first[0], second[0])
    aa, bb, ab = dot(a, a), dot(b, b), dot(a, b)
    c, d = dot(a, between), dot(b, between)
    spread = aa * bb - ab * ab
    s = 0.0 if spread < 1e-9 * aa * bb else max(0.0, min(1.0, (ab * d - bb * c) / spread))
    t = max(0.0, min(1.0, (ab * s + d) / bb))
    s = max(0.0, min(1.0, (ab * t - c) / aa))
    return norm(add(between, subtract(scale(a, s), scale(b, t))))
