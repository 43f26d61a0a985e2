"""Sizes that do not close: rounded as printed, a row of parts is too long or too short (C501).

Every part keeps the thickness of its wood and takes its length and width as a reader reads them.
Sides that touch stay together, and so do sides of touching pieces that lie in one plane. The floor
of a channel lies as deep below its face as is read. Where a row of parts comes back to where it
began, what is left over is the remainder:

    |<------------ board ------------>|
    | stave | stave | stave |  . . .  |    sum of the staves as read - board as read = remainder
"""

from collections import deque
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from generator.geometry.frames import Plane
from generator.geometry.tolerance import CLOSES_MM, PARALLEL_SINE, SAME_PLANE_MM
from generator.geometry.vectors import add, norm, subtract
from generator.model.parts import FACE_A, FACE_B, Part, Piece
from generator.model.plan import Plan
from generator.problems import Problem, make_problem
from generator.units import System, format_both, format_remainder, read_mm

Side = tuple[str, int]
"""Name of a piece and the number of a side of its part."""


@dataclass(frozen=True, slots=True)
class _Step:
    """A way from one side to another: across a piece, or over to a side in the same plane.

    Attributes:
        moves_mm: How much further the other side lies than it should, in one direction for all.
        size_mm: What is read, with its sign in that direction; 0 between pieces.
    """

    to: Side
    moves_mm: float
    size_mm: float


def check_sizes_that_do_not_close(plan: Plan) -> tuple[Problem, ...]:
    """Return a C501 for every closed row of parts whose sizes as read leave a remainder."""
    planes = _find_planes(plan)
    across: dict[Side, list[_Step]] = {}
    for side, step in _find_across(plan, planes):
        across.setdefault(side, []).append(step)
    links = _find_links(plan, planes)
    over: dict[Side, list[Side]] = {}
    for one, other in links:
        over.setdefault(one, []).append(other)
        over.setdefault(other, []).append(one)
    places = _place_sides(across, over)
    problems: dict[tuple[str, ...], Problem] = {}
    steps = [(one, _Step(other, 0.0, 0.0)) for one, other in links]
    steps += [
        (side, step)
        for side, found in across.items()
        for step in found
        if {side, step.to} <= places.keys()
    ]
    for one, step in steps:
        if abs(places[one] + step.moves_mm - places[step.to]) <= CLOSES_MM:
            continue
        row = [step, *_find_way(step.to, one, across, over)]
        remainder = sum(step.moves_mm for step in row)
        names = tuple(sorted(step.to[0] for step in row if step.size_mm))
        if abs(remainder) > CLOSES_MM and names not in problems:
            problems[names] = _problem(plan, row)
    return tuple(problems.values())


def _find_planes(plan: Plan) -> dict[Side, Plane]:
    """Return the plane of every straight side of every piece, in the room."""
    planes = {}
    for part in plan.parts.parts:
        local = {
            FACE_A: Plane((0.0, 0.0, -1.0), 0.0),
            FACE_B: Plane((0.0, 0.0, 1.0), part.thickness_mm),
        }
        local |= {i: edge.plane for i, edge in enumerate(part.edges) if edge.radius_mm == 0}
        for one in part.housings:
            face = local[one.side]
            local[one.floor] = Plane(face.normal, face.offset - one.depth_mm)
        for piece in part.pieces:
            for side, plane in local.items():
                planes[piece.name, side] = piece.frame.plane_to_world(plane)
    return planes


def _find_across(plan: Plan, planes: Mapping[Side, Plane]) -> Iterator[tuple[Side, _Step]]:
    """Yield the step from each side of a piece to the opposite one, where both are parallel.

    From the floor of a channel it goes to the face behind it.
    """
    system = plan.edition.system
    for part in plan.parts.parts:
        pairs = list(_opposite_sides(part, system))
        for piece in part.pieces:
            for first, second, error, size in pairs:
                sign = _sign(planes[piece.name, second])
                here, there = (piece.name, first), (piece.name, second)
                yield here, _Step(there, sign * error, sign * size)
                yield there, _Step(here, -sign * error, -sign * size)


def _opposite_sides(part: Part, system: System) -> Iterator[tuple[int, int, float, float]]:
    """Yield two sides, how much too far apart they come out, and how far apart they are read."""
    yield FACE_A, FACE_B, 0.0, part.thickness_mm
    for one in part.housings:
        left, missing = (
            part.thickness_mm - one.depth_mm,
            one.depth_mm - read_mm(one.depth_mm, system),
        )
        yield one.floor, FACE_B if one.side == FACE_A else FACE_A, missing, left + missing
    for axis, kind, size in ((0, "end", part.length_mm), (1, "edge", part.width_mm)):
        sides = [i for i, edge in enumerate(part.edges) if edge.kind == kind]
        if len(sides) != 2:
            continue
        normals = [part.edges[side].plane.normal for side in sides]
        if norm(add(*normals)) < PARALLEL_SINE:
            share = abs(normals[0][axis])
            read = read_mm(size, system)
            yield sides[0], sides[1], (read - size) * share, read * share


def _sign(plane: Plane) -> int:
    """Return 1 or -1: which of two opposite directions a plane looks in."""
    first = next(value for value in plane.normal if abs(value) > PARALLEL_SINE)
    return 1 if first > 0 else -1


def _find_links(plan: Plan, planes: Mapping[Side, Plane]) -> list[tuple[Side, Side]]:
    """Return the sides that touch, and those of touching pieces that lie in one plane."""
    links: dict[tuple[Side, Side], None] = {}
    sides: dict[str, list[int]] = {}
    for name, side in planes:
        sides.setdefault(name, []).append(side)
    for contact in plan.joinery.contacts:
        pair = ((contact.first, contact.first_side), (contact.second, contact.second_side))
        if pair[0] in planes and pair[1] in planes:
            links[pair] = None
        for mine in sides[contact.first]:
            for theirs in sides[contact.second]:
                flush = ((contact.first, mine), (contact.second, theirs))
                if _is_flush(planes[flush[0]], planes[flush[1]]):
                    links[flush] = None
    return list(links)


def _is_flush(one: Plane, other: Plane) -> bool:
    if abs(one.offset - other.offset) > SAME_PLANE_MM:
        return False
    return norm(subtract(one.normal, other.normal)) < PARALLEL_SINE


def _place_sides(
    across: Mapping[Side, list[_Step]], over: Mapping[Side, list[Side]]
) -> dict[Side, float]:
    """Return how far every linked side comes out of its place, going from side to side once."""
    places: dict[Side, float] = {}
    for start in over:
        if start in places:
            continue
        places[start] = 0.0
        queue = deque([start])
        while queue:
            side = queue.popleft()
            for step in _steps(side, across, over):
                if step.to not in places:
                    places[step.to] = places[side] + step.moves_mm
                    queue.append(step.to)
    return places


def _steps(
    side: Side, across: Mapping[Side, list[_Step]], over: Mapping[Side, list[Side]]
) -> list[_Step]:
    return [*across.get(side, ()), *(_Step(to, 0.0, 0.0) for to in over.get(side, ()))]


def _find_way(
    one: Side, other: Side, across: Mapping[Side, list[_Step]], over: Mapping[Side, list[Side]]
) -> list[_Step]:
    """Return the shortest way from a side to another that does not go there at once."""
    came: dict[Side, tuple[Side, _Step]] = {}
    queue = deque([one])
    while queue and other not in came:
        side = queue.popleft()
        for step in _steps(side, across, over):
            at_once = side == one and step.to == other
            if step.to != one and step.to not in came and not at_once:
                came[step.to] = (side, step)
                queue.append(step.to)
    way = []
    side = other
    while side != one and side in came:
        side, step = came[side]
        way.append(step)
    return way[::-1]


def _problem(plan: Plan, row: list[_Step]) -> Problem:
    """Say that the parts which run one way and those which run the other are not equally long."""
    system = plan.edition.system
    pieces = {piece.name: piece for piece in plan.parts.pieces()}
    ways = [[s for s in row if s.size_mm > 0], [s for s in row if s.size_mm < 0]]
    many, few = sorted(ways, key=len, reverse=True)
    sums = [abs(sum(step.size_mm for step in way)) for way in (many, few)]
    worst = max((s for s in row if s.size_mm), key=lambda s: abs(s.moves_mm))
    return make_problem(
        "C501",
        pieces[worst.to[0]].place,
        row=_words(many, pieces),
        sum=format_both(sums[0], system),
        other=_words(few, pieces),
        size=format_both(sums[1], system),
        remainder=format_remainder(abs(sums[0] - sums[1]), system),
        hint="choose sizes that the tape shows exactly, or let one part take up the remainder",
    )


def _words(way: list[_Step], pieces: Mapping[str, Piece]) -> str:
    """Return the pieces of a way in the order of the design."""
    here = {step.to[0] for step in way}
    names = [name for name in pieces if name in here]
    if len(names) > 3:
        return f"`{names[0]}` to `{names[-1]}` ({len(names)} pieces)"
    return " + ".join(f"`{name}`" for name in names)
