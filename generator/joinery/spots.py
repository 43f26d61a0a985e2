"""Where fasteners go along a contact: on its middle line, by count or by spacing."""

import math
from dataclasses import dataclass

from shapely import get_coordinates
from shapely.geometry import LineString, Polygon

from generator.geometry.vectors import Vec3, add, cross, dot, norm, scale, subtract, unit
from generator.joinery.contacts import PlacedPiece, plane_basis
from generator.joinery.drive import side_of
from generator.joinery.rules import ENDS_MM, LEAST_END_MM, SPACING_MM, TWO_SCREWS_FROM_MM
from generator.model.edition import JointSpec
from generator.model.joinery import Contact
from generator.problems import ProblemLog
from generator.units import System, format_both

MOST_SPOTS = 1000
"""On one line. Where more were asked for, they crowd each other or the line is longer than any
sheet; either is reported, and a design of a million screws is not worked out first."""


@dataclass(frozen=True, slots=True)
class MiddleLine:
    """The stretch of a line in the contact's plane that lies inside the patch."""

    start: Vec3
    direction: Vec3
    length_mm: float


def find_middle_line(contact: Contact, through: Vec3, direction: Vec3) -> MiddleLine | None:
    """Return where a line crosses a contact's patch, or None where it misses the patch.

    Args:
        contact: The patch.
        through: A point of the line, in the contact's plane.
        direction: Of length 1, in the contact's plane.
    """
    u, v = plane_basis(contact.normal)
    patch = Polygon([(dot(p, u), dot(p, v)) for p in contact.outline])
    at, along = (dot(through, u), dot(through, v)), (dot(direction, u), dot(direction, v))
    reach = math.hypot(*at) + max(math.hypot(*point) for point in patch.exterior.coords)
    ends = [(at[0] + along[0] * s, at[1] + along[1] * s) for s in (-2 * reach, 2 * reach)]
    crossed = get_coordinates(patch.intersection(LineString(ends)))
    if len(crossed) < 2:
        return None
    steps = [(x - at[0]) * along[0] + (y - at[1]) * along[1] for x, y in crossed]
    low, high = min(steps), max(steps)
    return MiddleLine(add(through, scale(direction, low)), direction, high - low)


def find_long_middle(contact: Contact) -> MiddleLine | None:
    """Return the middle line of a patch along its longer side."""
    u, v = plane_basis(contact.normal)
    patch = Polygon([(dot(p, u), dot(p, v)) for p in contact.outline])
    box = get_coordinates(patch.minimum_rotated_rectangle)
    sides = [(box[i + 1][0] - box[i][0], box[i + 1][1] - box[i][1]) for i in (0, 1)]
    along = max(sides, key=lambda side: math.hypot(*side))
    length = math.hypot(*along)
    x, y = (float(box[:4, 0].mean()), float(box[:4, 1].mean()))
    offset = dot(contact.normal, contact.outline[0])
    middle = add(add(scale(u, x), scale(v, y)), scale(contact.normal, offset))
    direction = add(scale(u, along[0] / length), scale(v, along[1] / length))
    if min(direction) < -max(direction):
        direction = scale(direction, -1.0)
    return find_middle_line(contact, middle, direction)


def find_edge_middle(
    contact: Contact, placed: PlacedPiece, number: int, shift_mm: float = 0.0
) -> MiddleLine | None:
    """Return the line of a contact at half the thickness of a piece, along one of its edges.

    Args:
        contact: The patch.
        placed: The piece whose edge it is.
        number: The edge.
        shift_mm: How far off the middle the line lies, in the plane of the contact.
    """
    side = side_of(placed, number)
    frame = placed.piece.frame
    direction = unit(cross(side.normal, frame.z))
    if min(direction) < -max(direction):
        direction = scale(direction, -1.0)
    middle = scale(_sum_of(side.outer), 1.0 / len(side.outer))
    up = subtract(frame.z, scale(side.normal, dot(frame.z, side.normal)))
    rise = norm(up)
    lift = placed.part.thickness_mm / 2 - frame.to_local(middle)[2]
    on_half = add(middle, scale(up, lift / (rise * rise) + shift_mm / rise))
    return find_middle_line(contact, on_half, direction)


def find_spots(
    line: MiddleLine, joint: JointSpec, most_mm: float = SPACING_MM
) -> tuple[float, ...]:
    """Return the distances from the start of the line at which fasteners go, evenly spaced.

    Returns nothing where the line is too short for the ends or the count asked for.

    Args:
        line: Where they go.
        joint: What the maker asks for.
        most_mm: Between two of them, where the maker says nothing.
    """
    if joint.count is not None:
        return _by_count(line.length_mm, joint.count, joint.ends_mm)
    most = most_mm if joint.spacing_mm is None else joint.spacing_mm
    return _by_spacing(line.length_mm, most, joint.ends_mm)


def report_too_short(
    joint: JointSpec, line: MiddleLine | None, system: System, log: ProblemLog
) -> None:
    """Report a J106: a line too short for the ends or the count asked for."""
    ends = LEAST_END_MM if joint.ends_mm is None else joint.ends_mm
    log.add(
        "J106",
        joint.place,
        joint=joint.id,
        length=format_both(0.0 if line is None else line.length_mm, system),
        needed=f"more than {format_both(2 * ends, system)}",
        hint=None if joint.ends_mm is None else "set smaller `ends`",
    )


def point_at(line: MiddleLine, distance_mm: float) -> Vec3:
    """Return the point of the line at a distance from its start."""
    return add(line.start, scale(line.direction, distance_mm))


def _sum_of(points: tuple[Vec3, ...]) -> Vec3:
    return (sum(p[0] for p in points), sum(p[1] for p in points), sum(p[2] for p in points))


def _by_count(length: float, count: int, ends: float | None) -> tuple[float, ...]:
    if count == 1:
        return (length / 2,)
    end = _usual_end(length) if ends is None else ends
    if length <= 2 * end:
        return ()
    return tuple(end + (length - 2 * end) * i / (count - 1) for i in range(count))


def _by_spacing(length: float, most: float, ends: float | None) -> tuple[float, ...]:
    if length < TWO_SCREWS_FROM_MM and ends is None:
        return (length / 2,) if length >= 2 * LEAST_END_MM else ()
    end = _usual_end(length) if ends is None else ends
    room = length - 2 * end
    if room <= 0:
        return ()
    count = min(MOST_SPOTS, max(2, math.ceil(room / most - 1e-9) + 1))
    return tuple(end + room * i / (count - 1) for i in range(count))


def _usual_end(length: float) -> float:
    """Return the usual end distance, less on a contact so short that the screws would crowd."""
    return max(LEAST_END_MM, min(ENDS_MM, length / 4))
