"""A small plan made by hand, for tests of the writers: a shelf of four pieces.

Two upright sides (A) with a clipped corner at top front, a level bottom (B) whose front edge is
bevelled 12 degrees with the long point on top, and a shelf (C) that leans back 12 degrees, has a
round hole, and whose back edge is cut against the wall. Every number follows from the sizes in
`Sizes`; nothing here calls a stage of the generator.
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass

from generator.geometry.frames import Frame, Plane
from generator.geometry.outlines import Outline, circle
from generator.geometry.slabs import Slab
from generator.geometry.vectors import BACK, RIGHT, UP, Vec2, Vec3, cross, dot, scale, subtract
from generator.model.assembly import Assembly, Mark, Step
from generator.model.edition import Edition
from generator.model.joinery import BoredHole, Contact, Fastener, Joinery, Joint
from generator.model.parts import FACE_A, FACE_B, Edge, FaceName, Opening, Part, Parts, Piece
from generator.model.plan import Plan, ShoppingItem
from generator.problems import Place, Problem
from generator.units import System
from tests.sample_cutting import sample_cutting
from tests.sample_edition import sample_catalogue, sample_edition

LEAN_DEG = 12.0
LEAN = math.radians(LEAN_DEG)
POCKET = math.radians(15.0)
FILE = "designs/leaning-shelf/design.yml"


@dataclass(frozen=True, slots=True, kw_only=True)
class Sizes:
    """What the sample is made of, in mm: overall sizes and where things stand."""

    width: float
    height: float
    depth: float
    thickness: float
    bottom_up: float
    shelf_up: float
    shelf_width: float
    clip: tuple[float, float]
    hole: float
    pocket_seat: float
    inset: float

    @property
    def inner(self) -> float:
        """Length between the sides."""
        return self.width - 2 * self.thickness

    @property
    def bevel(self) -> float:
        """How far the short point of a 12 degree bevel stands back from the long point."""
        return self.thickness * math.tan(LEAN)


def sizes_of(system: System) -> Sizes:
    """Return the sizes of the sample in one edition."""
    if system == "metric":
        return Sizes(
            width=600.0,
            height=400.0,
            depth=250.0,
            thickness=18.0,
            bottom_up=50.0,
            shelf_up=250.0,
            shelf_width=230.0,
            clip=(75.0, 50.0),
            hole=40.0,
            pocket_seat=18.0,
            inset=40.0,
        )
    inch = 25.4
    return Sizes(
        width=24 * inch,
        height=16 * inch,
        depth=10 * inch,
        thickness=23 / 32 * inch,
        bottom_up=2 * inch,
        shelf_up=10 * inch,
        shelf_width=9 * inch,
        clip=(3 * inch, 2 * inch),
        hole=1.5 * inch,
        pocket_seat=0.75 * inch,
        inset=1.5 * inch,
    )


def sample_plan(system: System) -> Plan:
    """Return the sample in one edition, complete: parts, joinery, steps, layout, shopping."""
    sizes = sizes_of(system)
    edition = sample_edition(system, sizes.thickness)
    parts = _parts(edition, sizes)
    joinery = _joinery(edition, parts, sizes)
    return Plan(
        edition=edition,
        parts=parts,
        joinery=joinery,
        assembly=_assembly(parts, joinery, sizes),
        cutting=sample_cutting(edition, parts),
        shopping=(
            ShoppingItem(item=edition.stocks[0].sheet.name, quantity=1, unit="sheet", note=""),
            ShoppingItem(
                item=joinery.fasteners[0].screw.name, quantity=4, unit="", note="bottom to sides"
            ),
            ShoppingItem(
                item=joinery.fasteners[-1].screw.name, quantity=4, unit="", note="shelf to sides"
            ),
            ShoppingItem(item="Wood glue", quantity=1, unit="small bottle", note="any white glue"),
        ),
        problems=(
            Problem(
                code="D301",
                level="warning",
                what="parameter `trays` is never used",
                place=Place(file=FILE, line=14, column=3, key="parameters.trays"),
            ),
        ),
    )


def _parts(edition: Edition, sizes: Sizes) -> Parts:
    parts = (_side(edition, sizes), _bottom(edition, sizes), _shelf(edition, sizes))
    total = sum(part.mass_kg * part.count for part in parts)
    centers = [
        scale(piece.frame.to_world(part.slab.center), part.mass_kg / total)
        for part in parts
        for piece in part.pieces
    ]
    return Parts(
        parts=parts,
        low=(0.0, 0.0, 0.0),
        high=(sizes.width, sizes.depth, sizes.height),
        mass_kg=total,
        center=(
            sum(c[0] for c in centers),
            sum(c[1] for c in centers),
            sum(c[2] for c in centers),
        ),
    )


def _side(edition: Edition, sizes: Sizes) -> Part:
    """Length up, width back; the right copy is the left one moved: its outside is face A."""
    height, depth, (clip_up, clip_back) = sizes.height, sizes.depth, sizes.clip
    outline = Outline(
        ((0.0, 0.0), (height - clip_up, 0.0), (height, clip_back), (height, depth), (0.0, depth))
    )
    names = ("front", "top front", "top", "back", "bottom")
    slab = Slab(outline, outline, sizes.thickness)
    slope = math.degrees(math.atan2(clip_up, clip_back))
    edges = tuple(
        _edge(slab, i, name, mitre=slope if name == "top front" else 0.0)
        for i, name in enumerate(names)
    )
    frames = (
        Frame((sizes.thickness, 0.0, 0.0), UP, BACK, (-1.0, 0.0, 0.0)),
        Frame((sizes.width, 0.0, 0.0), UP, BACK, (-1.0, 0.0, 0.0)),
    )
    words = tuple(enumerate(names))
    pieces = (
        _piece("side.left", "A", 1, frames[0], (*words, (FACE_A, "right"), (FACE_B, "left"))),
        _piece(
            "side.right",
            "A",
            2,
            frames[1],
            (*words, (FACE_A, "right"), (FACE_B, "left")),
            show=FACE_A,
        ),
    )
    return _part(
        edition, "A", "side", "Side", slab, edges=edges, face_words=("right", "left"), pieces=pieces
    )


def _bottom(edition: Edition, sizes: Sizes) -> Part:
    """Length right, width back; face A looks down, the bevelled front is longer on face B."""
    low = _rectangle(0.0, sizes.bevel, sizes.inner, sizes.depth)
    high = _rectangle(0.0, 0.0, sizes.inner, sizes.depth)
    slab = Slab(low, high, sizes.thickness)
    edges = (
        _edge(slab, 0, "front", tilt=LEAN_DEG, long_face="B"),
        _edge(slab, 1, "right", meets="side right"),
        _edge(slab, 2, "back"),
        _edge(slab, 3, "left", meets="side left"),
    )
    frame = Frame((sizes.thickness, 0.0, sizes.bottom_up))
    words = ((0, "front"), (1, "right"), (2, "back"), (3, "left"), (FACE_A, "bottom"))
    pieces = (_piece("bottom", "B", 1, frame, (*words, (FACE_B, "top"))),)
    return _part(
        edition,
        "B",
        "bottom",
        "Bottom",
        slab,
        edges=edges,
        face_words=("bottom", "top"),
        pieces=pieces,
    )


def _shelf(edition: Edition, sizes: Sizes) -> Part:
    """Leans back; its back edge lies in the plane of the wall and is longer on face A (below)."""
    low = _rectangle(0.0, 0.0, sizes.inner, sizes.shelf_width)
    high = _rectangle(0.0, 0.0, sizes.inner, sizes.shelf_width - sizes.bevel)
    center = (sizes.inner / 4, sizes.shelf_width / 2)
    hole = circle(center, sizes.hole)
    slab = Slab(low, high, sizes.thickness, (hole,))
    edges = (
        _edge(slab, 0, "front"),
        _edge(slab, 1, "right", meets="side right"),
        _edge(slab, 2, "back", tilt=LEAN_DEG, long_face="A", meets="the wall"),
        _edge(slab, 3, "left", meets="side left"),
    )
    cosine, sine = math.cos(LEAN), math.sin(LEAN)
    front = sizes.depth - sizes.shelf_width * cosine
    frame = Frame(
        (sizes.thickness, front, sizes.shelf_up), RIGHT, (0.0, cosine, -sine), (0.0, sine, cosine)
    )
    words = ((0, "front"), (1, "right"), (2, "back"), (3, "left"), (FACE_A, "bottom"))
    pieces = (_piece("shelf", "C", 1, frame, (*words, (FACE_B, "top"))),)
    opening = Opening(
        name="hole", center=center, sizes_mm=(sizes.hole,), along_x=True, outline=hole
    )
    return _part(
        edition,
        "C",
        "shelf",
        "Shelf",
        slab,
        edges=edges,
        face_words=("bottom", "top"),
        pieces=pieces,
        openings=(opening,),
    )


def _part(
    edition: Edition,
    label: str,
    name: str,
    title: str,
    slab: Slab,
    *,
    edges: tuple[Edge, ...],
    face_words: tuple[str, str],
    pieces: tuple[Piece, ...],
    openings: tuple[Opening, ...] = (),
) -> Part:
    stock = edition.stocks[0]
    _, _, length, width = slab.bounds
    return Part(
        label=label,
        name=name,
        title=title,
        stock=stock,
        grain="along",
        length_mm=length,
        width_mm=width,
        thickness_mm=slab.thickness_mm,
        slab=slab,
        edges=edges,
        openings=openings,
        face_words=face_words,
        section="trapezium" if any(edge.tilt_deg for edge in edges) else "rectangle",
        pieces=pieces,
        mass_kg=slab.volume_mm3 * 1e-9 * stock.sheet.material.density_kg_m3,
        place=Place(file=FILE, line=20, column=3, key=f"parts.{name}"),
    )


def _piece(
    name: str,
    label: str,
    copy: int,
    frame: Frame,
    words: tuple[tuple[int, str], ...],
    *,
    show: int = FACE_B,
) -> Piece:
    place = Place(file=FILE, line=20, column=3, key=f"parts.{name}")
    return Piece(
        name=name, label=label, copy=copy, frame=frame, words=words, show=(show,), place=place
    )


def _edge(
    slab: Slab,
    index: int,
    name: str,
    *,
    tilt: float = 0.0,
    mitre: float = 0.0,
    long_face: FaceName | None = None,
    meets: str = "",
) -> Edge:
    start, end = slab.face_a.edges()[index][:2]
    above = slab.face_b.points[index]
    along: Vec3 = (end[0] - start[0], end[1] - start[1], 0.0)
    across = (above[0] - start[0], above[1] - start[1], slab.thickness_mm)
    normal = cross(along, across)
    normal = scale(normal, 1 / math.hypot(*normal))
    lengthwise = abs(along[0]) > abs(along[1])
    return Edge(
        name=name,
        kind="corner" if " " in name else "edge" if lengthwise else "end",
        tilt_deg=tilt,
        mitre_deg=mitre,
        long_face=long_face if long_face is not None else "",
        meets=meets,
        plane=Plane(normal, dot(normal, (start[0], start[1], 0.0))),
        radius_mm=0.0,
    )


def _joinery(edition: Edition, parts: Parts, sizes: Sizes) -> Joinery:
    pocket, face = sample_catalogue(edition.system, sizes.thickness).screws.values()
    pieces = {piece.name: piece for piece in parts.pieces()}
    fasteners: list[Fastener] = []
    holes: list[BoredHole] = []
    for side, end in (("side.left", 0.0), ("side.right", sizes.inner)):
        for y in (sizes.inset, sizes.depth - sizes.inset):
            away = -1.0 if end == 0.0 else 1.0
            aim = (away * math.cos(POCKET), 0.0, math.sin(POCKET))
            way_in = sizes.thickness / 2 / math.sin(POCKET)
            exit_at: Vec3 = (end, y, sizes.thickness / 2)
            frame = pieces["bottom"].frame
            seat = subtract(exit_at, scale(aim, sizes.pocket_seat))
            tip = subtract(exit_at, scale(aim, sizes.pocket_seat - pocket.length_mm))
            name = f"S{len(fasteners) + 1}"
            fasteners.append(
                Fastener(
                    id=name,
                    joint="bottom to side",
                    screw=pocket,
                    head=frame.to_world(seat),
                    tip=frame.to_world(tip),
                    direction=frame.direction(aim),
                    through=("bottom", side),
                    hidden=True,
                )
            )
            holes.append(
                BoredHole(
                    piece="bottom",
                    fastener=name,
                    kind="pocket",
                    side=FACE_A,
                    at=subtract(exit_at, scale(aim, way_in)),
                    direction=aim,
                    diameter_mm=pocket.clearance_mm,
                    depth_mm=way_in - sizes.pocket_seat,
                    countersink_mm=0.0,
                )
            )
    for side, end in (("side.left", 0.0), ("side.right", sizes.inner)):
        for y in (sizes.inset, sizes.shelf_width - sizes.inset):
            inward = 1.0 if end == 0.0 else -1.0
            frame, of_side = pieces["shelf"].frame, pieces[side].frame
            head = frame.to_world((end - inward * sizes.thickness, y, sizes.thickness / 2))
            aim = (inward, 0.0, 0.0)
            name = f"S{len(fasteners) + 1}"
            fasteners.append(
                Fastener(
                    id=name,
                    joint="shelf to side",
                    screw=face,
                    head=head,
                    tip=(head[0] + inward * face.length_mm, head[1], head[2]),
                    direction=aim,
                    through=(side, "shelf"),
                    hidden=False,
                )
            )
            holes += [
                BoredHole(
                    piece=side,
                    fastener=name,
                    kind="clearance",
                    side=FACE_B if side == "side.left" else FACE_A,
                    at=of_side.to_local(head),
                    direction=of_side.local_direction(aim),
                    diameter_mm=face.clearance_mm,
                    depth_mm=None,
                    countersink_mm=face.head_mm,
                ),
                BoredHole(
                    piece="shelf",
                    fastener=name,
                    kind="pilot",
                    side=3 if side == "side.left" else 1,
                    at=(end, y, sizes.thickness / 2),
                    direction=aim,
                    diameter_mm=face.pilot_soft_mm,
                    depth_mm=face.length_mm - sizes.thickness,
                    countersink_mm=0.0,
                ),
            ]
    return Joinery(
        contacts=tuple(
            _contact(parts, pieces, first, second)
            for first in ("bottom", "shelf")
            for second in ("side.left", "side.right")
        ),
        joints=tuple(
            Joint(
                id=f"{first} to side",
                between=((first, "side.left"), (first, "side.right")),
                with_="pocket screws" if first == "bottom" else "face screws",
                glue=True,
                fasteners=tuple(f.id for f in fasteners if f.joint == f"{first} to side"),
                place=Place(file=FILE, line=40, column=3, key="joints"),
            )
            for first in ("bottom", "shelf")
        ),
        fasteners=tuple(fasteners),
        holes=tuple(holes),
    )


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


def _end_section(slab: Slab, x: float, *, clockwise: bool) -> list[Vec3]:
    """The four corners of an end; counter-clockwise for an eye at the far left looking right."""
    (_, low_y0), _, (_, low_y1), _ = slab.face_a.points
    (_, high_y0), _, (_, high_y1), _ = slab.face_b.points
    t = slab.thickness_mm
    ring: list[Vec3] = [(x, low_y0, 0.0), (x, high_y0, t), (x, high_y1, t), (x, low_y1, 0.0)]
    return ring[::-1] if clockwise else ring


def _assembly(parts: Parts, joinery: Joinery, sizes: Sizes) -> Assembly:
    sides = ("side.left", "side.right")
    first = Step(
        order=1,
        title="Join the bottom to both sides",
        pieces=("bottom", *sides),
        present=(),
        fasteners=("S1", "S2", "S3", "S4"),
        glued=(("bottom", "side.left"), ("bottom", "side.right")),
        apart="",
        joins=(),
        says="Stand the sides upside down, spread glue on the ends of the bottom, and drive the "
        "pocket screws from **below**.",
        cautions=("Clamp the bottom before driving: pocket screws pull it sideways.",),
        marks=tuple(_marks(parts, joinery, "bottom", sizes.bottom_up)),
    )
    second = Step(
        order=2,
        title="Fit the leaning shelf",
        pieces=("shelf",),
        present=("bottom", *sides),
        fasteners=("S5", "S6", "S7", "S8"),
        glued=(("shelf", "side.left"), ("shelf", "side.right")),
        apart="",
        joins=(),
        says="Hold the shelf on its lines and drive the face screws from outside.",
        cautions=(),
        marks=tuple(_marks(parts, joinery, "shelf", sizes.shelf_up)),
    )
    return Assembly(steps=(first, second))


def _marks(parts: Parts, joinery: Joinery, mate: str, up: float) -> Iterable[Mark]:
    pieces = {piece.name: piece for piece in parts.pieces()}
    for contact in joinery.contacts:
        if contact.first == mate:
            side = pieces[contact.second]
            points: list[Vec2] = []
            for point in contact.outline:
                x, y, _ = side.frame.to_local(point)
                points.append((x, y))
            heights = [x for x, _ in points]
            yield Mark(
                label=side.label,
                copies=(side.name,),
                side=contact.second_side,
                mate=pieces[mate].label,
                outline=tuple(points),
                edge="bottom",
                from_mm=min(heights) if mate == "shelf" else up,
                to_mm=max(heights),
            )


def _rectangle(x0: float, y0: float, x1: float, y1: float) -> Outline:
    return Outline(((x0, y0), (x1, y0), (x1, y1), (x0, y1)))
