"""Volumes, centres, overlaps and contacts against reference libraries for solids.

Sources: trimesh (mass properties of a triangle mesh), manifold3d (slicing a solid). Where a piece
has arcs, its mesh has chords `CHORD_MM` inside them, so the two are compared within what the
chords cut off; without arcs to one part in a million.
"""

import math
from dataclasses import replace
from functools import cache
from itertools import combinations
from pathlib import Path

import numpy as np
import pytest
import trimesh
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from manifold3d import CrossSection, Manifold, Mesh64

from generator.build import build_plan
from generator.design.read import read_design
from generator.geometry.channels import Channel
from generator.geometry.frames import Frame
from generator.geometry.outlines import Outline, arc_of, circle
from generator.geometry.rods import Body, Rod
from generator.geometry.slabs import Slab
from generator.geometry.tolerance import CHORD_MM, CONTACT_AREA_MM2, SAME_POINT_MM
from generator.geometry.vectors import Vec3, scale
from generator.model.plan import Plan
from generator.units import SYSTEMS, System
from tests.little_designs import ROOT, shared_catalogue

DESIGNS = sorted(path.parent.name for path in (ROOT / "designs").glob("*/design.yml"))
EVERY_PLAN = pytest.mark.parametrize(
    ("slug", "system"), [(slug, system) for slug in DESIGNS for system in SYSTEMS]
)
SLIGHTLY_MM = 0.2
"""How far two touching pieces are pushed into each other to measure where they touch."""


@EVERY_PLAN
def test_every_part_has_the_volume_and_the_centre_of_its_mesh(slug: str, system: System) -> None:
    for part in demo_plan(slug, system).parts.parts:
        compare(part.slab, Frame())


@EVERY_PLAN
def test_every_piece_has_its_centre_where_its_mesh_has_it_in_the_room(
    slug: str, system: System
) -> None:
    plan = demo_plan(slug, system)
    for part in plan.parts.parts:
        for piece in part.pieces:
            compare(part.slab, piece.frame)


@EVERY_PLAN
def test_the_whole_has_the_bounds_mass_and_centre_of_all_meshes(slug: str, system: System) -> None:
    parts = demo_plan(slug, system).parts
    meshes = [
        (mesh_of(part.slab, piece.frame, SAME_POINT_MM), part.stock.material.density_kg_m3 * 1e-9)
        for part in parts.parts
        for piece in part.pieces
    ]
    masses = np.array([mesh.volume * density for mesh, density in meshes])
    centers = np.array([mesh.center_mass for mesh, _ in meshes])
    center = (masses[:, None] * centers).sum(axis=0) / masses.sum()
    low = np.min([mesh.bounds[0] for mesh, _ in meshes], axis=0)
    high = np.max([mesh.bounds[1] for mesh, _ in meshes], axis=0)

    assert masses.sum() == pytest.approx(parts.mass_kg, rel=1e-4)
    assert center == pytest.approx(np.array(parts.center), abs=CHORD_MM)
    assert low == pytest.approx(np.array(parts.low), abs=1e-6)
    assert high == pytest.approx(np.array(parts.high), abs=1e-6)


@st.composite
def slabs(draw: st.DrawFn) -> Slab:
    """Return a rectangle with bevels, a clip or a round, up to two holes and three channels."""
    size = st.integers(200, 2000).map(float)
    length, width = draw(size), draw(size)
    t = float(draw(st.integers(6, 40)))
    lean = st.integers(-60, 60).map(lambda deg: t * math.tan(math.radians(deg)))
    left, right, front, back = draw(lean), draw(lean), draw(lean), draw(lean)
    low = [(0.0, 0.0), (length, 0.0), (length, width), (0.0, width)]
    high = [(left, front), (length + right, front), (length + right, width + back),
            (left, width + back)]  # fmt: skip
    work = draw(st.sampled_from(["plain", "clip", "round"]))
    bulges: tuple[float, ...] = (0.0,) * 4
    if work == "round":
        high = low
    if work != "plain":
        across, along = float(draw(st.integers(10, 90))), float(draw(st.integers(10, 90)))
        along = across if work == "round" else along
        low = clipped(low, across, along)
        high = clipped(high, across, along)
        arc = math.tan(math.radians(90) / 4) if work == "round" else 0.0
        bulges = (0.0, arc, 0.0, 0.0, 0.0)
    places = draw(st.lists(st.sampled_from([0.45, 0.6]), max_size=2, unique=True))
    holes = tuple(
        circle((length * at, width * at), float(draw(st.integers(5, 15)))) for at in places
    )
    cut = tuple(draw(st.lists(channels(length, width, t), max_size=3)))
    return Slab(Outline(tuple(low), bulges), Outline(tuple(high), bulges), t, holes, cut)


@st.composite
def channels(draw: st.DrawFn, length: float, width: float, t: float) -> Channel:
    """Return a straight channel anywhere on either face, at any angle, through or stopped."""
    x, y = (float(draw(st.integers(0, int(size)))) for size in (length, width))
    angle = math.radians(draw(st.sampled_from([0, 0, 90, 90, 7, 33, 135])))
    long = draw(st.sampled_from([60.0, 5000.0])) / 2
    wide = float(draw(st.integers(3, 40))) / 2
    cosine, sine = math.cos(angle), math.sin(angle)
    corners = ((-long, -wide), (long, -wide), (long, wide), (-long, wide))
    outline = Outline(tuple((x + u * cosine - v * sine, y + u * sine + v * cosine)
                            for u, v in corners))  # fmt: skip
    return Channel(outline, draw(st.booleans()), t / draw(st.integers(3, 6)))


def clipped(
    points: list[tuple[float, float]], across: float, along: float
) -> list[tuple[float, float]]:
    """Return four corners with the one at the greatest x and y's neighbour below cut off."""
    x, y = points[1]
    return [points[0], (x - across, y), (x, y + along), *points[2:]]


angles = st.integers(-180, 180).map(float)
places = st.tuples(*[st.integers(-3000, 3000).map(float)] * 3)


@settings(max_examples=40, deadline=None)
@given(slabs(), angles, angles, places)
def test_any_slab_anywhere_has_the_volume_and_the_centre_of_its_mesh(
    slab: Slab, first: float, second: float, at: Vec3
) -> None:
    frame = Frame(at).turned((1.0, 0.0, 0.0), first).turned((0.0, 0.0, 1.0), second)

    compare(slab, frame)


@settings(max_examples=60, deadline=None)
@given(slabs())
def test_a_slab_with_channels_is_the_plain_slab_without_their_boxes(slab: Slab) -> None:
    """An independent way: boxes taken off by a boolean, in the opposite order."""
    left = solid_of(replace(slab, channels=()), Frame())
    for channel in reversed(slab.channels):
        corners = np.array(channel.outline.points)
        low = -1.0 if not channel.in_b else slab.thickness_mm - channel.depth_mm
        box = Manifold.extrude(CrossSection([corners]), channel.depth_mm + 1.0)
        left -= box.translate((0.0, 0.0, low))

    assert left.volume() == pytest.approx(solid_of(slab, Frame()).volume(), rel=1e-9)
    assert left.surface_area() == pytest.approx(area_of_faces(slab), rel=1e-9)


def area_of_faces(slab: Body) -> float:
    """Return the area of the polygons a slab gives for its faces."""
    rings = [(face.outer, 1) for face in slab.faces()]
    rings += [(hole, -1) for face in slab.faces() for hole in face.holes]
    total = 0.0
    for ring, sign in rings:
        corners = np.array(ring) - ring[0]
        total += sign * float(np.linalg.norm(np.cross(corners[1:-1], corners[2:]).sum(axis=0))) / 2
    return total


@settings(max_examples=40, deadline=None)
@given(
    st.lists(st.integers(100, 400), min_size=5, max_size=12),
    st.lists(st.sampled_from([0.0, 0.0, 0.2, -0.1, -0.2]), min_size=12, max_size=12),
    angles,
    places,
)
def test_a_slab_of_any_outline_of_points_and_arcs_has_the_volume_and_the_centre_of_its_mesh(
    radii: list[int], bulges: list[float], turn: float, at: Vec3
) -> None:
    """A star: it is hollow at some of its points, and swells or is hollow between them."""
    ways = [2 * math.pi * i / len(radii) for i in range(len(radii))]
    points = tuple(
        (500 + r * math.cos(w), 500 + r * math.sin(w)) for r, w in zip(radii, ways, strict=True)
    )
    outline = Outline(points, tuple(bulges[: len(points)]))
    assume(outline.polygon().is_valid)

    compare(Slab(outline, outline, 18.0), Frame(at).turned((1.0, 0.0, 0.0), turn))


@settings(max_examples=40, deadline=None)
@given(st.integers(5, 80), st.integers(50, 2000), angles, angles, places)
def test_any_rod_anywhere_has_the_volume_and_the_centre_of_its_mesh(
    diameter: int, length: int, first: float, second: float, at: Vec3
) -> None:
    frame = Frame(at).turned((1.0, 0.0, 0.0), first).turned((0.0, 0.0, 1.0), second)

    compare(Rod(float(length), float(diameter)), frame)


def test_a_rod_has_the_volume_of_a_cylinder_the_finer_the_chords_the_nearer() -> None:
    """Pi / 4 d² l: Euclid, Elements, book XII, proposition 14, with Archimedes' circle."""
    rod = Rod(300.0, 25.0)
    fine = trimesh.Trimesh(
        np.array(rod.triangles(1e-5)).reshape(-1, 3),
        np.arange(3 * len(rod.triangles(1e-5))).reshape(-1, 3),
    )

    assert math.pi / 4 * 25**2 * 300 == pytest.approx(rod.volume_mm3, rel=1e-12)
    assert rod.volume_mm3 == pytest.approx(fine.volume, rel=2e-6)
    assert fine.is_watertight
    assert trimesh.creation.cylinder(12.5, 300).volume == pytest.approx(rod.volume_mm3, rel=1e-2)


@EVERY_PLAN
def test_no_two_pieces_of_the_demo_designs_overlap(slug: str, system: System) -> None:
    for (mine, one), (theirs, other) in combinations(solids_of(slug, system).items(), 2):
        assert (one ^ other).volume() < 1.0, (mine, theirs)


@EVERY_PLAN
def test_contacts_have_the_area_two_solids_share_when_one_is_pushed_into_the_other(
    slug: str, system: System
) -> None:
    """An independent way: push by a little, intersect, divide the volume by the way.

    Patches of two pieces that look the same way are measured together, such as those of a wall
    that another channel divides.
    """
    solids = solids_of(slug, system)
    contacts = demo_plan(slug, system).joinery.contacts
    for contact in contacts:
        pushed = solids[contact.first].translate(scale(contact.normal, SLIGHTLY_MM))
        area = (pushed ^ solids[contact.second]).volume() / SLIGHTLY_MM
        told = sum(
            other.area_mm2
            for other in contacts
            if (other.first, other.second) == (contact.first, contact.second)
            and math.dist(other.normal, contact.normal) < 1e-6
        )

        assert told == pytest.approx(area, rel=0.01, abs=3.0), contact


@EVERY_PLAN
def test_pieces_without_a_contact_share_nothing_when_either_moves_by_a_little(
    slug: str, system: System
) -> None:
    solids = solids_of(slug, system)
    contacts = demo_plan(slug, system).joinery.contacts
    sockets = demo_plan(slug, system).joinery.sockets
    touching = {frozenset((contact.first, contact.second)) for contact in contacts}
    touching |= {frozenset((socket.first, socket.second)) for socket in sockets}
    for mine, theirs in combinations(solids, 2):
        if frozenset((mine, theirs)) in touching:
            continue
        if solids[mine].min_gap(solids[theirs], 1.0) > SLIGHTLY_MM:
            continue
        for way in ((1, 0, 0), (-1, 0, 0), (0, 1, 0), (0, -1, 0), (0, 0, 1), (0, 0, -1)):
            pushed = solids[mine].translate(scale(way, SLIGHTLY_MM))
            area = (pushed ^ solids[theirs]).volume() / SLIGHTLY_MM

            assert area < CONTACT_AREA_MM2, (mine, theirs)


@cache
def demo_plan(slug: str, system: System) -> Plan:
    path: Path = ROOT / "designs" / slug / "design.yml"
    design, problems = read_design(path, str(path))

    assert design is not None, problems
    plan, problems = build_plan(design, shared_catalogue(), system)

    assert plan is not None, problems
    return plan


@cache
def solids_of(slug: str, system: System) -> dict[str, Manifold]:
    """Return all pieces of a demo design in the room, by name."""
    parts = demo_plan(slug, system).parts.parts
    has_rods = any(isinstance(part.slab, Rod) for part in parts)
    chord_mm = SAME_POINT_MM if has_rods else CHORD_MM
    return {
        piece.name: solid_of(part.slab, piece.frame, chord_mm)
        for part in parts
        for piece in part.pieces
    }


def compare(slab: Body, frame: Frame) -> None:
    """Hold a slab to its mesh: within what chords cut off, or one in a million without arcs."""
    mesh = mesh_of(slab, frame)
    lost = chord_loss_mm3(slab)

    assert mesh.is_watertight
    assert mesh.is_winding_consistent
    assert mesh.volume == pytest.approx(slab.volume_mm3, rel=1e-6, abs=lost)
    center = frame.to_world(slab.center)
    near = 1e-3 + lost / slab.volume_mm3 * max(slab.bounds)

    assert mesh.center_mass == pytest.approx(np.array(center), abs=near)


def chord_loss_mm3(slab: Body) -> float:
    """Return the most that chords take from or add to a solid: its curved area times `CHORD_MM`."""
    if isinstance(slab, Rod):
        return math.pi * slab.diameter_mm * slab.length_mm * CHORD_MM
    arcs = 0.0
    for outline in (slab.face_a, *slab.holes):
        for start, end, bulge in outline.edges():
            if bulge:
                _, radius, sweep = arc_of(start, end, bulge)
                arcs += radius * abs(sweep)
    return arcs * CHORD_MM * slab.thickness_mm


def mesh_of(slab: Body, frame: Frame, chord_mm: float = CHORD_MM) -> trimesh.Trimesh:
    skin = [[frame.to_world(corner) for corner in each] for each in slab.triangles(chord_mm)]
    corners = np.array(skin).reshape(-1, 3)
    faces = np.arange(len(corners)).reshape(-1, 3)
    mesh = trimesh.Trimesh(corners, faces, process=False)
    mesh.merge_vertices(digits_vertex=6)
    return mesh


def solid_of(slab: Body, frame: Frame, chord_mm: float = CHORD_MM) -> Manifold:
    mesh = mesh_of(slab, frame, chord_mm)
    return Manifold(Mesh64(np.array(mesh.vertices), np.array(mesh.faces, dtype=np.uint64)))
