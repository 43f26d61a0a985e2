"""One fastener in space: where its axis runs, and how much wood is around it.

A face screw stands square on the first piece: its head is flush with the far face, the joint lies
one thickness further, the point stands in the second piece. A pocket screw leaves the edge of the
first piece at the middle of its thickness, slanting away from the face its pocket is bored in; the
head sits `pocket_seat_mm` before the joint. Where two bevelled edges meet, a screw or nail starts
square in the face of the first piece that has the long point, and crosses the joint on its way.
Dowels and bolts stand square on the joint.
"""

import math
from dataclasses import dataclass

from shapely.geometry import LineString, Point, Polygon

from generator.geometry.faces import channel_of
from generator.geometry.tolerance import SAME_PLANE_MM
from generator.geometry.vectors import Vec2, Vec3, add, dot, norm, scale, subtract, unit
from generator.joinery.contacts import PlacedPiece, PlaneSide
from generator.joinery.rules import LEAST_LEAN_DEG, POCKET_ANGLE_DEG, pocket_seat_mm
from generator.joinery.voids import Room, find_entry, find_gap_mm, find_rooms, is_in_room
from generator.model.edition import JointSpec
from generator.model.fixings import Fixing
from generator.model.joinery import Contact
from generator.model.parts import FACE_A, FACE_B, Opening, Part

FAR_MM = 10_000.0
"""Longer than any part: a ray this long leaves it."""
ANY_SIDE = 0
"""A side that belongs to no channel."""
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


@dataclass(frozen=True, slots=True, kw_only=True)
class Drive:
    """A fastener of a joint before it gets its number.

    Attributes:
        goods: What is driven or set.
        start: The face of the first piece it starts in; of a dowel, the side it is set in.
        pocket: That face where a pocket is bored in it, else None.
        from_start_mm: Along the contact's middle line.
        line_mm: Length of that line.
    """

    joint: JointSpec
    contact: Contact
    first: PlacedPiece
    second: PlacedPiece
    axis: Axis
    goods: Fixing
    start: PlaneSide
    pocket: PlaneSide | None
    from_start_mm: float
    line_mm: float


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


def face_axis(start: PlaneSide, at: Vec3) -> Axis:
    """Return the axis of a screw driven square into a face that crosses the joint at ``at``."""
    return Axis(at, scale(start.normal, -1.0), start.offset - dot(start.normal, at))


def start_face(first: PlacedPiece, contact: Contact) -> PlaneSide | None:
    """Return the face of the first piece a screw square to it can cross the contact from, or None.

    Of a piece that touches with a face it is the other one. Of two edges that meet it is the face
    with the long point, where the bevel slants enough to be crossed.
    """
    if contact.first_side < 0:
        touches = first.part.face_of(contact.first_side)
        return side_of(first, FACE_B if touches == FACE_A else FACE_A)
    if contact.second_side < 0:
        return None
    faces = [side_of(first, number) for number in (FACE_A, FACE_B)]
    best = min(faces, key=lambda face: dot(face.normal, contact.normal))
    return (
        best
        if -dot(best.normal, contact.normal) >= math.sin(math.radians(LEAST_LEAN_DEG))
        else None
    )


def mitre_edge_mm(contact: Contact, axis: Axis) -> float:
    """Return how far the head of a screw across a mitre is from the mitre's edge, on the face."""
    slope = dot(axis.direction, contact.normal)
    return axis.seat_mm * slope / math.sqrt(max(1e-12, 1.0 - slope * slope))


def pocket_entry(axis: Axis, pocket: PlaneSide) -> Vec3:
    """Return where the axis of a pocket screw comes out of the face it is bored in."""
    back = (pocket.offset - dot(pocket.normal, axis.joint)) / dot(pocket.normal, axis.direction)
    return add(axis.joint, scale(axis.direction, back))


def side_of(placed: PlacedPiece, number: int) -> PlaneSide:
    """Return a plane side of a piece by its number."""
    return next(side for side in placed.sides if side.side == number)


def face_named(placed: PlacedPiece, word: str) -> PlaneSide | None:
    """Return face A or B of a piece by the piece's own word for it, or None; a rod has none."""
    if placed.part.stock.is_round:
        return None
    for side, name in placed.piece.words:
        if side in {FACE_A, FACE_B} and name == word:
            return side_of(placed, side)
    return None


def measure_cover(second: PlacedPiece, entry_side: int, axis: Axis, depth_mm: float) -> Cover:
    """Return how much wood of the second piece is around an axis from the joint on.

    The piece is taken as the space between all its plane sides, openings, recesses and channels
    taken off; the side, recess or channel the screw enters from does not count as beside it.
    """
    ahead, slant, beside = math.inf, 1.0, math.inf
    own = _as_one_side(second.part, second.part.face_of(entry_side))
    tip = add(axis.joint, scale(axis.direction, depth_mm))
    for side in second.sides:
        speed = dot(side.normal, axis.direction)
        room = side.offset - dot(side.normal, axis.joint)
        if side.side in own or _is_cut_out(second.part, side.side):
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
    start, end = (second.piece.frame.to_local(point) for point in (axis.joint, tip))
    for channel in find_rooms(second.part, entry_side):
        beside = min(beside, find_gap_mm(channel, start, end))
        entry = find_entry(channel, start, second.piece.frame.local_direction(axis.direction))
        if entry is not None and entry[0] < ahead:
            ahead, slant = entry
    return Cover(ahead, slant, beside)


def find_void(
    placed: PlacedPiece, entry_side: int, start: Vec3, end: Vec3, radius_mm: float
) -> tuple[str, float] | None:
    """Return what cut out of a piece a straight bore runs into, and by how much; None where clear.

    What is cut out goes through the whole thickness, so looking square on the face is enough; but
    for channels. The recess or channel that the entry side belongs to does not count.
    """
    a, b = (placed.piece.frame.to_local(point) for point in (start, end))
    way = LineString([a[:2], b[:2]])
    found = [
        (name, radius_mm - outline.distance(way))
        for name, outline in _named_voids(placed.part, entry_side)
    ]
    found += [
        (channel.word, radius_mm - find_gap_mm(channel, a, b))
        for channel in find_rooms(placed.part, entry_side)
    ]
    name, depth = max(found, key=lambda one: one[1], default=("", 0.0))
    return (name, depth) if depth > 0 else None


def goes_through(placed: PlacedPiece, axis: Axis, start_mm: float, end_mm: float) -> bool:
    """Whether a stretch of the axis (from the joint, in mm) lies in wood all the way.

    Between plane sides it does where both its ends do. Openings and channels count as no wood; for
    them the stretch is looked at in five places.
    """
    part = placed.part
    points = [
        add(axis.joint, scale(axis.direction, start_mm + (end_mm - start_mm) * i / 4))
        for i in range(5)
    ]
    for side in placed.sides:
        if _is_cut_out(part, side.side):
            continue
        if any(
            side.offset - dot(side.normal, at) < -SAME_PLANE_MM for at in (points[0], points[4])
        ):
            return False
    rooms = find_rooms(part, ANY_SIDE)
    if not rooms and not part.openings and not part.recesses:
        return True
    return not any(_is_in_the_open(part, rooms, placed.piece.frame.to_local(at)) for at in points)


def _is_in_the_open(part: Part, rooms: tuple[Room, ...], point: Vec3) -> bool:
    """Whether a point of a part lies in a channel, an opening or a recess."""
    if any(is_in_room(channel, point) for channel in rooms):
        return True
    x, y, _ = point
    if any(_is_in_opening(hole, (x, y)) for hole in part.openings):
        return True
    return any(recess.outline.polygon().contains(Point(x, y)) for recess in part.recesses)


def _is_cut_out(part: Part, side: int) -> bool:
    """Whether a side is what a recess or a channel has left."""
    return channel_of(side) is not None or (side >= 0 and part.edges[side].is_recess)


def _as_one_side(part: Part, side: int) -> tuple[int, ...]:
    """Return a side with the other stretches of it that recesses have left of an edge."""
    if side < 0:
        return (side,)
    edge = part.edges[side]
    same = enumerate(part.edges)
    return tuple(i for i, e in same if i == side or (e.is_plain and e.name == edge.name))


def _voids(part: Part, entry_side: int) -> tuple[Polygon, ...]:
    """Return what is cut out of a part, but for the recess a side belongs to."""
    return tuple(outline for _, outline in _named_voids(part, entry_side))


def _named_voids(part: Part, entry_side: int) -> tuple[tuple[str, Polygon], ...]:
    recesses = [recess for recess in part.recesses if entry_side not in recess.edges]
    words = {"cutout": "cut-out"}
    return (
        *((words.get(o.name, o.name), o.outline.polygon()) for o in part.openings),
        *((f"{r.name} {r.kind}", r.outline.polygon()) for r in recesses),
    )


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
