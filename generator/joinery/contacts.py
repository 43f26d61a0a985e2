"""Where plane sides of two pieces lie on each other."""

import math
from dataclasses import dataclass, replace

from shapely import get_coordinates, get_exterior_ring, orient_polygons, union_all
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from generator.geometry.faces import is_floor
from generator.geometry.tolerance import (
    CONTACT_AREA_MM2,
    PARALLEL_SINE,
    SAME_PLANE_MM,
    SAME_POINT_MM,
)
from generator.geometry.vectors import (
    RIGHT,
    UP,
    Vec2,
    Vec3,
    add,
    cross,
    dot,
    norm,
    scale,
    subtract,
    unit,
)
from generator.model.joinery import Contact
from generator.model.parts import Part, Parts, Piece


@dataclass(frozen=True, slots=True)
class PlaneSide:
    """A plane side of a piece in the room."""

    side: int
    normal: Vec3
    offset: float
    outer: tuple[Vec3, ...]
    holes: tuple[tuple[Vec3, ...], ...]


@dataclass(frozen=True, slots=True)
class PlacedPiece:
    """A piece with its part and its plane sides in the room."""

    piece: Piece
    part: Part
    sides: tuple[PlaneSide, ...]
    low: Vec3
    high: Vec3


def place_pieces(parts: Parts) -> dict[str, PlacedPiece]:
    """Return all pieces by name with their sides in the room."""
    return {piece.name: _place(part, piece) for part in parts.parts for piece in part.pieces}


def find_contacts(placed: dict[str, PlacedPiece]) -> tuple[Contact, ...]:
    """Return every patch of at least `CONTACT_AREA_MM2` where two pieces touch, by piece order."""
    pieces = list(placed.values())
    contacts = []
    for i, first in enumerate(pieces):
        for second in pieces[i + 1 :]:
            if _near(first, second):
                contacts += _contacts_of(first, second)
    return tuple(contacts)


def plane_basis(normal: Vec3) -> tuple[Vec3, Vec3]:
    """Return two directions u, v in a plane with u cross v = normal."""
    helper = UP if abs(normal[2]) < 0.9 else RIGHT
    u = unit(cross(helper, normal))
    return u, cross(normal, u)


def _place(part: Part, piece: Piece) -> PlacedPiece:
    frame = piece.frame
    sides = []
    for face in part.slab.faces():
        if face.edge == -3 or face.is_chord:
            continue
        normal = frame.direction(face.normal)
        outer = tuple(frame.to_world(p) for p in face.outer)
        holes = tuple(tuple(frame.to_world(p) for p in hole) for hole in face.holes)
        sides.append(PlaneSide(face.edge, normal, dot(normal, outer[0]), outer, holes))
    points = [p for side in sides for p in side.outer]
    low = (min(p[0] for p in points), min(p[1] for p in points), min(p[2] for p in points))
    high = (max(p[0] for p in points), max(p[1] for p in points), max(p[2] for p in points))
    return PlacedPiece(piece, part, tuple(sides), low, high)


def _near(first: PlacedPiece, second: PlacedPiece) -> bool:
    return all(
        first.low[i] <= second.high[i] + SAME_PLANE_MM
        and second.low[i] <= first.high[i] + SAME_PLANE_MM
        for i in range(3)
    )


def _contacts_of(first: PlacedPiece, second: PlacedPiece) -> list[Contact]:
    found: list[Contact] = []
    for mine in first.sides:
        for theirs in second.sides:
            if norm(add(mine.normal, theirs.normal)) > 100 * PARALLEL_SINE:
                continue
            if abs(mine.offset + theirs.offset) > SAME_PLANE_MM:
                continue
            for patch in _patches(first, second, mine, theirs):
                _add_or_join(found, patch)
    return found


def _add_or_join(found: list[Contact], patch: Contact) -> None:
    """Add a patch; patches on floors that make one plane are one.

    Where a channel runs into another of its depth, the end of a mate lies on both floors.
    """
    for other in tuple(found):
        joined = _joined(other, patch)
        if joined is not None:
            found.remove(other)
            patch = joined
    found.append(patch)


def _joined(contact: Contact, other: Contact) -> Contact | None:
    """Return two patches as one, or None where they are not side by side on floors in a plane."""
    if not (_on_floor(contact) and _on_floor(other)):
        return None
    if norm(subtract(contact.normal, other.normal)) > PARALLEL_SINE:
        return None
    plane = dot(contact.normal, contact.outline[0])
    if abs(dot(contact.normal, other.outline[0]) - plane) > SAME_PLANE_MM:
        return None
    u, v = plane_basis(contact.normal)
    rings = [Polygon([(dot(p, u), dot(p, v)) for p in one.outline]) for one in (contact, other)]
    whole = union_all(rings, grid_size=SAME_POINT_MM)
    if not isinstance(whole, Polygon):
        return None
    larger = contact if contact.area_mm2 >= other.area_mm2 else other
    outline = _outline(whole, (u, v), scale(contact.normal, plane))
    return replace(larger, outline=outline, area_mm2=whole.area)


def _on_floor(contact: Contact) -> bool:
    return any(is_floor(side) for side in (contact.first_side, contact.second_side))


def _patches(
    first: PlacedPiece, second: PlacedPiece, mine: PlaneSide, theirs: PlaneSide
) -> list[Contact]:
    """Return the patches two sides share; a hole across a narrow edge leaves two of them."""
    u, v = plane_basis(mine.normal)
    shared: BaseGeometry = _flat(mine, u, v).intersection(_flat(theirs, u, v)).normalize()
    base = scale(mine.normal, mine.offset)
    contacts = []
    for patch in getattr(shared, "geoms", [shared]):
        if not isinstance(patch, Polygon) or patch.area < CONTACT_AREA_MM2:
            continue
        outline = _outline(patch, (u, v), base)
        contacts.append(
            Contact(
                first=first.piece.name,
                second=second.piece.name,
                first_side=mine.side,
                second_side=theirs.side,
                outline=outline,
                normal=mine.normal,
                area_mm2=patch.area,
            )
        )
    return contacts


def _outline(patch: Polygon, basis: tuple[Vec3, Vec3], base: Vec3) -> tuple[Vec3, ...]:
    """Return the corners of a flat patch in the room; `base` is the point of its plane at 0, 0."""
    u, v = basis
    ring = get_coordinates(get_exterior_ring(orient_polygons(patch)))[:-1].tolist()
    corners = _corners([(x, y) for x, y in ring])
    return tuple(add(base, add(scale(u, x), scale(v, y))) for x, y in corners)


def _corners(ring: list[Vec2]) -> list[Vec2]:
    """Return a ring without the points that lie on the line between their neighbours.

    They are left where two edges that run along each other differ by the last digit.
    """
    kept = ring
    for point in ring:
        i = kept.index(point)
        if len(kept) > 3 and _is_between(kept[i - 1], point, kept[(i + 1) % len(kept)]):
            kept = [other for other in kept if other != point]
    return kept


def _is_between(start: Vec2, point: Vec2, end: Vec2) -> bool:
    reach = math.dist(start, end)
    across = (end[0] - start[0]) * (point[1] - start[1])
    across -= (end[1] - start[1]) * (point[0] - start[0])
    return reach > SAME_POINT_MM and abs(across) < SAME_POINT_MM * reach


def _flat(side: PlaneSide, u: Vec3, v: Vec3) -> Polygon:
    def flat(points: tuple[Vec3, ...]) -> list[Vec2]:
        return [(dot(p, u), dot(p, v)) for p in points]

    return Polygon(flat(side.outer), [flat(hole) for hole in side.holes])
