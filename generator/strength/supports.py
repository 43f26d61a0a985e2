"""What holds a loaded piece up, and which strips along it stiffen it, seen from the piece itself.

Everything is told in the piece's own frame: x along its length, y along its width, z through it.
"""

from dataclasses import dataclass
from itertools import combinations
from typing import Final

from shapely.geometry import LineString, Polygon

from generator.geometry.rods import place_corners
from generator.geometry.tolerance import CLOSES_MM
from generator.geometry.vectors import Vec3, distance, dot, scale
from generator.model.joinery import Contact, Joinery, Rest, Socket
from generator.model.parts import Part, Parts, Piece
from generator.strength.beams import inertia_mm4, round_inertia_mm4

ACROSS_GRAIN_BOARD: Final = 1 / 20
"""Stiffness of solid wood across its grain; Wood Handbook table 5-1 (0.04 to 0.08), from memory."""

ACROSS_GRAIN_SHEET: Final = 1 / 2
"""Of plywood across the grain of its faces; our judgement, on the low side."""

UPRIGHT: Final = 0.7
"""A direction counts as up or level within 45 degrees."""

FIRM_SHARE: Final = 0.25
"""A mate at least a quarter as high as it runs along the piece hardly bends; our judgement."""

REACH_SHARE: Final = 0.5
"""What carries must reach over half of the piece, or it would tip; our judgement."""

COVER_SHARE: Final = 0.9
"""A strip that covers less than this of a span does not stiffen all of it; our judgement."""

SAMPLES: Final = tuple(0.1 + 0.1 * i for i in range(9))
"""Where a part is measured for its narrowest section, as shares of its length."""

Span = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Body:
    """A piece with its part."""

    part: Part
    piece: Piece

    @property
    def sizes(self) -> Vec3:
        """Length, width and thickness."""
        return (self.part.length_mm, self.part.width_mm, self.part.thickness_mm)

    @property
    def up_axis(self) -> int:
        """Which of x, y and z stands most upright."""
        frame = self.piece.frame
        return max(range(3), key=lambda axis: abs((frame.x, frame.y, frame.z)[axis][2]))

    @property
    def heights(self) -> Span:
        """Lowest and highest point in the room."""
        ends = [point[2] for point in place_corners(self.part.slab, self.piece.frame)]
        return min(ends), max(ends)

    def is_firm(self, size_mm: float, floor_mm: float) -> bool:
        """Whether it stands on the floor, or hardly bends over a length because it is high."""
        low, high = self.heights
        return low <= floor_mm + CLOSES_MM or high - low >= FIRM_SHARE * size_mm

    def stiffness(self, along: int) -> float:
        """Return modulus times second moment, bending up and down along one of its axes."""
        if self.part.stock.is_round:
            return self._modulus(along) * round_inertia_mm4(self.part.thickness_mm)
        across = 1 - along if along < 2 else 0
        narrow = self._narrowest(along) if along < 2 else self.sizes[across]
        thick = self.part.thickness_mm
        width, height = (narrow, thick) if self.up_axis == 2 else (thick, narrow)
        return self._modulus(along) * inertia_mm4(width, height)

    def _modulus(self, along: int) -> float:
        stock = self.part.stock
        modulus = stock.material.stiffness_n_mm2
        if stock.board is not None:
            return modulus if along == 0 else modulus * ACROSS_GRAIN_BOARD
        if not stock.has_grain or (along == 0 and self.part.grain == "along"):
            return modulus
        return modulus * ACROSS_GRAIN_SHEET

    def _narrowest(self, along: int) -> float:
        """Return its least width across one of its axes; openings and notches are taken off."""
        slab = self.part.slab
        holes = [hole.flattened() for hole in slab.holes]
        outline = Polygon(slab.section(slab.thickness_mm / 2).flattened(), holes)
        length, width = self.sizes[along], self.sizes[1 - along]
        widths = []
        for share in SAMPLES:
            at = share * length
            ends = (
                [(at, -1.0), (at, width + 1.0)] if along == 0 else [(-1.0, at), (width + 1.0, at)]
            )
            widths.append(outline.intersection(LineString(ends)).length)
        return float(min(widths))


@dataclass(frozen=True, slots=True)
class Patch:
    """Where a mate touches the piece: the box around the contact in the piece's frame.

    Attributes:
        up: How far the side that is touched looks up: 1 above, -1 below, 0 at an edge.
        is_fixed: Whether a joint holds both together.
        backs: What the mate is fixed to itself, and how long that contact is.
    """

    mate: Body
    low: Vec3
    high: Vec3
    up: float
    is_fixed: bool
    backs: tuple[tuple[float, Body], ...]

    def span(self, axis: int) -> Span:
        """Return from where to where it reaches along an axis."""
        return self.low[axis], self.high[axis]

    def size(self, axis: int) -> float:
        """Return how far it reaches along an axis."""
        return self.high[axis] - self.low[axis]

    def is_firm(self, axis: int, floor_mm: float) -> bool:
        """Whether the mate, or what it is fixed to, bends so little that it counts as stiff."""
        size = self.size(axis)
        behind = [mate for reach, mate in self.backs if reach >= COVER_SHARE * size]
        return any(mate.is_firm(size, floor_mm) for mate in (self.mate, *behind))


@dataclass(frozen=True, slots=True)
class Support:
    """What carries a piece at one place along it.

    Attributes:
        span: From where to where along the piece.
        reach_mm: How far it reaches across the piece.
        gap_mm: The widest gap in it, across the piece: between two pins, or two legs.
    """

    span: Span
    reach_mm: float
    gap_mm: float


def list_bodies(parts: Parts) -> dict[str, Body]:
    """Return all pieces by name."""
    return {piece.name: Body(part, piece) for part in parts.parts for piece in part.pieces}


def find_patches(body: Body, bodies: dict[str, Body], joinery: Joinery) -> tuple[Patch, ...]:
    """Return where other pieces and shelf pins touch a piece."""
    fixed = {
        frozenset(pair)
        for joint in joinery.joints
        if joint.with_ not in {"nothing", "pins"}
        for pair in joint.between
    }
    patches = []
    for contact in joinery.contacts:
        pair = frozenset((contact.first, contact.second))
        if body.piece.name in pair:
            (other,) = pair - {body.piece.name}
            patches.append(
                _touching(
                    body,
                    bodies[other],
                    contact,
                    is_fixed=pair in fixed,
                    backs=_backs(other, pair, bodies, joinery, fixed),
                )
            )
    for socket in joinery.sockets:
        patches += _socketed(body, socket, bodies) if socket.first == body.piece.name else []
    for rest in joinery.rests:
        patches += _pinned(body, rest, bodies) if rest.piece == body.piece.name else []
    return tuple(patches)


def find_supports(
    body: Body, patches: tuple[Patch, ...], along: int, floor_mm: float
) -> tuple[Support, ...]:
    """Return where along one axis the piece lies or is held, from low to high.

    What touches it from above does not carry, nor what only touches its edge; and what runs along
    most of it is a strip, not a support. Several spots in line, such as pins, are one support
    where they are no further from each other than the piece is long.
    """
    across = next(axis for axis in (2, 1, 0) if axis not in {along, body.up_axis})
    flat = [
        patch
        for patch in patches
        if patch.up < UPRIGHT
        and (patch.is_fixed or patch.up < -UPRIGHT)
        and patch.size(along) <= REACH_SHARE * body.sizes[along]
        and patch.is_firm(across, floor_mm)
    ]
    groups: list[list[Patch]] = []
    for patch in sorted(flat, key=lambda one: one.span(along)):
        last = max((one.high[along] for one in groups[-1]), default=0.0) if groups else 0.0
        if groups and patch.low[along] <= last + body.part.thickness_mm:
            groups[-1].append(patch)
        else:
            groups.append([patch])
    found = [_support(group, along, across) for group in groups]
    least, most = REACH_SHARE * body.sizes[across], body.sizes[along]
    return tuple(one for one in found if one.reach_mm >= least and one.gap_mm <= most)


def find_strips(
    body: Body, patches: tuple[Patch, ...], along: int, span: Span, floor_mm: float
) -> tuple[tuple[str, float, float], ...]:
    """Return the mates fixed along a span: name, place across from -1 to 1, and stiffness.

    A mate that hardly bends, such as a back, has a stiffness without end. One that the edge of the
    piece is housed in touches it on three sides and counts once.
    """
    if body.up_axis != 2:
        return ()
    across = 1 - along
    half = body.sizes[across] / 2
    strips: dict[str, tuple[str, float, float]] = {}
    for patch in patches:
        covered = min(patch.high[along], span[1]) - max(patch.low[along], span[0])
        if not patch.is_fixed:
            continue
        if covered < COVER_SHARE * (span[1] - span[0]) or patch.size(across) > half:
            continue
        at = ((patch.low[across] + patch.high[across]) / 2 - half) / half
        mate_along = _same_axis(body, patch.mate, along)
        name = patch.mate.piece.name
        if patch.is_firm(along, floor_mm):
            strips.setdefault(name, (name, at, float("inf")))
        elif mate_along < 2:
            strips.setdefault(name, (name, at, patch.mate.stiffness(mate_along)))
    return tuple(strips.values())


def _backs(
    name: str,
    pair: frozenset[str],
    bodies: dict[str, Body],
    joinery: Joinery,
    fixed: set[frozenset[str]],
) -> tuple[tuple[float, Body], ...]:
    """Return the other pieces a mate is fixed to, and how long each contact is."""
    backs = []
    for contact in joinery.contacts:
        own = frozenset((contact.first, contact.second))
        if name in own and own != pair and own in fixed:
            (other,) = own - {name}
            reach = max(distance(p, q) for p, q in combinations(contact.outline, 2))
            backs.append((reach, bodies[other]))
    return tuple(backs)


def _touching(
    body: Body,
    mate: Body,
    contact: Contact,
    *,
    is_fixed: bool,
    backs: tuple[tuple[float, Body], ...],
) -> Patch:
    is_first = contact.first == body.piece.name
    normal = contact.normal if is_first else scale(contact.normal, -1.0)
    points = [body.piece.frame.to_local(point) for point in contact.outline]
    axes = list(zip(*points, strict=True))
    low, high = [min(values) for values in axes], [max(values) for values in axes]
    return Patch(
        mate=mate,
        low=(low[0], low[1], low[2]),
        high=(high[0], high[1], high[2]),
        up=normal[2],
        is_fixed=is_fixed,
        backs=backs,
    )


def _socketed(body: Body, socket: Socket, bodies: dict[str, Body]) -> list[Patch]:
    """Return the hole a rod stands in, at its middle; it holds the rod up and down."""
    x = body.piece.frame.to_local(socket.center)[0]
    _, width, thick = body.sizes
    return [
        Patch(
            mate=bodies[socket.second],
            low=(x, 0.0, 0.0),
            high=(x, width, thick),
            up=-1.0,
            is_fixed=True,
            backs=(),
        )
    ]


def _pinned(body: Body, rest: Rest, bodies: dict[str, Body]) -> list[Patch]:
    """Return the pins under a piece, each at the place of its hole that is nearest to the piece."""
    patches = []
    for pin in rest.pins:
        holder = bodies[pin.piece]
        point = body.piece.frame.to_local(holder.piece.frame.to_world(pin.at))
        x, y, z = (min(max(point[i], 0.0), body.sizes[i]) for i in range(3))
        patches.append(
            Patch(mate=holder, low=(x, y, z), high=(x, y, z), up=-1.0, is_fixed=False, backs=())
        )
    return patches


def _support(group: list[Patch], along: int, across: int) -> Support:
    ends = sorted(patch.span(across) for patch in group)
    reached, gap = ends[0][1], 0.0
    for low, high in ends[1:]:
        gap, reached = max(gap, low - reached), max(reached, high)
    return Support(
        span=(min(one.low[along] for one in group), max(one.high[along] for one in group)),
        reach_mm=reached - ends[0][0],
        gap_mm=gap,
    )


def _same_axis(body: Body, mate: Body, along: int) -> int:
    """Return which axis of the mate runs along an axis of the piece."""
    frame, own = mate.piece.frame, body.piece.frame
    way = (own.x, own.y, own.z)[along]
    return max(range(3), key=lambda axis: abs(dot((frame.x, frame.y, frame.z)[axis], way)))
