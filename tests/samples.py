"""A small plan made by hand, for tests of the writers: a shelf of four pieces.

Two upright sides (A) with a clipped corner at top front, a level bottom (B) whose front edge is
bevelled 12 degrees with the long point on top, and a shelf (C) that leans back 12 degrees, has a
round hole, and whose back edge is cut against the wall. Every number follows from the sizes in
`Sizes`; nothing here calls a stage of the generator.
"""

import math

from generator.geometry.frames import Frame, Plane
from generator.geometry.outlines import Outline, circle
from generator.geometry.slabs import Slab
from generator.geometry.vectors import BACK, RIGHT, UP, Vec3, cross, dot, scale
from generator.model.edition import Edition
from generator.model.fitting import Fitting
from generator.model.parts import FACE_A, FACE_B, Edge, FaceName, Opening, Part, Parts, Piece
from generator.model.plan import Plan, ShoppingItem
from generator.model.strength import Strength
from generator.problems import Place, Problem
from generator.units import System
from tests.sample_assembly import sample_assembly
from tests.sample_cutting import sample_cutting
from tests.sample_edition import sample_edition
from tests.sample_joinery import sample_joinery
from tests.sample_sizes import FILE, LEAN, LEAN_DEG, Sizes, sizes_of


def sample_plan(system: System) -> Plan:
    """Return the sample in one edition, complete: parts, joinery, steps, layout, shopping."""
    sizes = sizes_of(system)
    edition = sample_edition(system, sizes.thickness)
    parts = _parts(edition, sizes)
    joinery = sample_joinery(edition, parts, sizes)
    return Plan(
        edition=edition,
        parts=parts,
        joinery=joinery,
        assembly=sample_assembly(parts, joinery, sizes),
        cutting=sample_cutting(edition, parts),
        fitting=Fitting(edgings=(), glue=None, finishes=()),
        shopping=(
            ShoppingItem(item=edition.stocks[0].title, quantity=1, unit="sheet", note=""),
            ShoppingItem(
                item=joinery.fasteners[0].goods.name, quantity=4, unit="", note="bottom to sides"
            ),
            ShoppingItem(
                item=joinery.fasteners[-1].goods.name, quantity=4, unit="", note="shelf to sides"
            ),
            ShoppingItem(item="Wood glue", quantity=1, unit="small bottle", note="any white glue"),
        ),
        strength=Strength(),
        problems=(
            Problem(
                code="D301",
                level="warning",
                what="parameter `trays` is never used",
                place=Place(file=FILE, line=14, column=3, key="parameters.trays"),
                accepted="It is kept for a wider shelf.",
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
        volume_mm3=slab.volume_mm3,
        mass_kg=slab.volume_mm3 * 1e-9 * stock.material.density_kg_m3,
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


def _rectangle(x0: float, y0: float, x1: float, y1: float) -> Outline:
    return Outline(((x0, y0), (x1, y0), (x1, y1), (x0, y1)))
