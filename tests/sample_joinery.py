"""Contacts, screws and holes of the sample plan."""

import math

from generator.geometry.outlines import Outline
from generator.geometry.rods import Body
from generator.geometry.vectors import Vec3, scale, subtract
from generator.model.edition import Edition
from generator.model.fixings import Screw
from generator.model.joinery import BoredHole, Contact, Fastener, Joinery, Joint
from generator.model.parts import FACE_A, FACE_B, Parts, Piece
from generator.problems import Place
from tests.sample_sizes import FILE, POCKET, Sizes

Made = tuple[Fastener, tuple[BoredHole, ...]]


def sample_joinery(edition: Edition, parts: Parts, sizes: Sizes) -> Joinery:
    """Return four pocket screws under the bottom, four face screws into the shelf's ends."""
    pocket, face = edition.catalogue.screws.values()
    pieces = {piece.name: piece for piece in parts.pieces()}
    ends = (("side.left", 0.0), ("side.right", sizes.inner))
    pockets = [
        (side, end, y) for side, end in ends for y in (sizes.inset, sizes.depth - sizes.inset)
    ]
    faces = [
        (side, end, y) for side, end in ends for y in (sizes.inset, sizes.shelf_width - sizes.inset)
    ]
    made = [
        _pocket_screw(f"S{i + 1}", pocket, pieces, sizes, *where) for i, where in enumerate(pockets)
    ]
    made += [_face_screw(f"S{i + 5}", face, pieces, sizes, *where) for i, where in enumerate(faces)]
    fasteners = tuple(fastener for fastener, _ in made)
    return Joinery(
        contacts=tuple(
            _contact(parts, pieces, first, second)
            for first in ("bottom", "shelf")
            for second in ("side.left", "side.right")
        ),
        joints=tuple(_joint(first, fasteners) for first in ("bottom", "shelf")),
        fasteners=fasteners,
        holes=tuple(hole for _, holes in made for hole in holes),
    )


def _joint(first: str, fasteners: tuple[Fastener, ...]) -> Joint:
    return Joint(
        id=f"{first} to side",
        between=((first, "side.left"), (first, "side.right")),
        with_="pocket screws" if first == "bottom" else "face screws",
        glue=True,
        fasteners=tuple(f.id for f in fasteners if f.joint == f"{first} to side"),
        place=Place(file=FILE, line=40, column=3, key="joints"),
    )


def _pocket_screw(
    name: str,
    screw: Screw,
    pieces: dict[str, Piece],
    sizes: Sizes,
    side: str,
    end: float,
    y: float,
) -> Made:
    away = -1.0 if end == 0.0 else 1.0
    aim = (away * math.cos(POCKET), 0.0, math.sin(POCKET))
    way_in = sizes.thickness / 2 / math.sin(POCKET)
    exit_at: Vec3 = (end, y, sizes.thickness / 2)
    frame = pieces["bottom"].frame
    fastener = Fastener(
        id=name,
        joint="bottom to side",
        goods=screw,
        head=frame.to_world(subtract(exit_at, scale(aim, sizes.pocket_seat))),
        tip=frame.to_world(subtract(exit_at, scale(aim, sizes.pocket_seat - screw.length_mm))),
        direction=frame.direction(aim),
        through=("bottom", side),
        hidden=True,
    )
    hole = BoredHole(
        piece="bottom",
        fastener=name,
        kind="pocket",
        side=FACE_A,
        at=subtract(exit_at, scale(aim, way_in)),
        direction=aim,
        diameter_mm=screw.clearance_mm,
        depth_mm=way_in - sizes.pocket_seat,
        countersink_mm=0.0,
    )
    return fastener, (hole,)


def _face_screw(
    name: str,
    screw: Screw,
    pieces: dict[str, Piece],
    sizes: Sizes,
    side: str,
    end: float,
    y: float,
) -> Made:
    inward = 1.0 if end == 0.0 else -1.0
    frame, of_side = pieces["shelf"].frame, pieces[side].frame
    head = frame.to_world((end - inward * sizes.thickness, y, sizes.thickness / 2))
    aim = (inward, 0.0, 0.0)
    fastener = Fastener(
        id=name,
        joint="shelf to side",
        goods=screw,
        head=head,
        tip=(head[0] + inward * screw.length_mm, head[1], head[2]),
        direction=aim,
        through=(side, "shelf"),
        hidden=False,
    )
    clearance = BoredHole(
        piece=side,
        fastener=name,
        kind="clearance",
        side=FACE_B if side == "side.left" else FACE_A,
        at=of_side.to_local(head),
        direction=of_side.local_direction(aim),
        diameter_mm=screw.clearance_mm,
        depth_mm=None,
        countersink_mm=screw.head_mm,
    )
    pilot = BoredHole(
        piece="shelf",
        fastener=name,
        kind="pilot",
        side=3 if side == "side.left" else 1,
        at=(end, y, sizes.thickness / 2),
        direction=aim,
        diameter_mm=screw.pilot_soft_mm,
        depth_mm=screw.length_mm - sizes.thickness,
        countersink_mm=0.0,
    )
    return fastener, (clearance, pilot)


def _contact(parts: Parts, pieces: dict[str, Piece], first: str, second: str) -> Contact:
    """The whole end of the bottom or shelf lies on the inside of a side."""
    piece = pieces[first]
    slab = parts.part(piece.label).slab
    left = second == "side.left"
    local = _end_section(slab, 0.0 if left else slab.bounds[2], clockwise=not left)
    end = Outline(tuple((point[1], point[2]) for point in local))
    return Contact(
        first=first,
        second=second,
        first_side=3 if left else 1,
        second_side=FACE_A if left else FACE_B,
        outline=tuple(piece.frame.to_world(point) for point in local),
        normal=(-1.0, 0.0, 0.0) if left else (1.0, 0.0, 0.0),
        area_mm2=abs(end.area_mm2),
    )


def _end_section(slab: Body, x: float, *, clockwise: bool) -> list[Vec3]:
    """The four corners of an end; counter-clockwise for an eye at the far left looking right."""
    (_, low_y0), _, (_, low_y1), _ = slab.face_a.points
    (_, high_y0), _, (_, high_y1), _ = slab.face_b.points
    t = slab.thickness_mm
    ring: list[Vec3] = [(x, low_y0, 0.0), (x, high_y0, t), (x, high_y1, t), (x, low_y1, 0.0)]
    return ring[::-1] if clockwise else ring
