"""Overlaps of random slabs three ways, and areas of contact two ways.

The check of pieces in one place judges by solids whose skins we triangulate. Beside it stand
manifold3d, given the corners alone (each solid a convex hull less the hulls of its holes), and the
areas of sections, cut with half-planes and shapely and added up by Gauss's rule: no solid at all.
The areas of contacts are held to shapely's areas of the two outlines in their own plane, where no
third direction was ever involved.
"""

import math
import random
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np
import pytest
from manifold3d import Manifold
from shapely.geometry import Polygon

from generator.checks.pieces_in_one_place import check_pieces_in_one_place
from generator.geometry.frames import Frame
from generator.geometry.outlines import Outline
from generator.geometry.slabs import Slab
from generator.geometry.tolerance import CONTACT_AREA_MM2, SAME_PLANE_MM
from generator.geometry.vectors import Vec2, Vec3
from generator.joinery.contacts import find_contacts, place_pieces
from generator.model.parts import Parts
from tests.plain_parts import Line, make_parts, make_stock
from tests.samples import sample_plan

PAIRS = 500
HALF_PLANE = tuple[float, float, float, float]
"""a, b, c, d of all points with a x + b y + c z <= d."""

NODES, WEIGHTS = np.polynomial.legendre.leggauss(5)
FAR = 1e4


@dataclass(frozen=True, slots=True)
class Body:
    """A slab as the half-planes of its sides and of its holes, with its frame in the room."""

    slab: Slab
    sides: tuple[HALF_PLANE, ...]
    holes: tuple[tuple[HALF_PLANE, ...], ...]
    frame: Frame


def rectangle(center: Vec2, length: float, width: float, turn: float) -> list[Vec2]:
    """Return a turned rectangle, counter-clockwise."""
    c, s = math.cos(turn), math.sin(turn)
    corners = ((-1, -1), (1, -1), (1, 1), (-1, 1))
    halves = [(i * length / 2, j * width / 2) for i, j in corners]
    return [(center[0] + c * x - s * y, center[1] + s * x + c * y) for x, y in halves]


def side_lines(ring: Sequence[Vec2]) -> list[tuple[float, float, float]]:
    """Return a, b, d of the sides of a convex ring: inside is a x + b y <= d."""
    lines = []
    for (x0, y0), (x1, y1) in zip(ring, [*ring[1:], ring[0]], strict=True):
        size = math.dist((x0, y0), (x1, y1))
        a, b = (y1 - y0) / size, (x0 - x1) / size
        lines.append((a, b, a * x0 + b * y0))
    return lines


def crossings(lines: Sequence[tuple[float, float, float]]) -> list[Vec2]:
    """Return where each line crosses the one before it."""
    found = []
    for (a, b, d), (e, f, g) in zip([lines[-1], *lines[:-1]], lines, strict=True):
        det = a * f - b * e
        found.append(((d * f - b * g) / det, (a * g - d * e) / det))
    return found


def random_body(rng: random.Random, frame: Frame) -> Body:
    """Return a slab with four or five sides, bevelled by up to 35 degrees, half of them holed."""
    while True:
        length, width = rng.uniform(120, 500), rng.uniform(80, 300)
        thick = rng.uniform(10, 45)
        ring = rectangle((length / 2, width / 2), length, width, 0.0)
        if rng.random() < 0.4:
            cut = rng.uniform(15, 50)
            ring[2:3] = [(length, width - cut), (length - cut, width)]
        low = side_lines(ring)
        leans = [rng.choice((0.0, math.tan(math.radians(rng.uniform(-35, 35))))) for _ in low]
        high = [(a, b, d + lean * thick) for (a, b, d), lean in zip(low, leans, strict=True)]
        faces = crossings(low), crossings(high)
        if not all(Polygon(face).is_valid and is_convex(face) for face in faces):
            continue
        sides = [(a, b, -lean, d) for (a, b, d), lean in zip(low, leans, strict=True)]
        sides += [(0.0, 0.0, -1.0, 0.0), (0.0, 0.0, 1.0, thick)]
        hole = rectangle((length / 2, width / 2), rng.uniform(10, 30), rng.uniform(10, 20),
                         rng.uniform(0, 3))  # fmt: skip
        inside = all(Polygon(face).buffer(-1).contains(Polygon(hole)) for face in faces)
        rings = [hole] if inside and rng.random() < 0.5 else []
        return Body(
            slab=Slab(Outline(tuple(faces[0])), Outline(tuple(faces[1])), thick,
                      tuple(Outline(tuple(one)) for one in rings)),
            sides=tuple(sides),
            holes=tuple(tuple((a, b, 0.0, d) for a, b, d in side_lines(one)) for one in rings),
            frame=frame,
        )  # fmt: skip


def is_convex(ring: Sequence[Vec2]) -> bool:
    turns = zip([ring[-1], *ring[:-1]], ring, [*ring[1:], ring[0]], strict=True)
    return all(
        (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0]) > 25 for a, b, c in turns
    )


def random_frame(rng: random.Random, reach: float, *, by_quarters: bool = False) -> Frame:
    """Return a frame that stands and is turned at random, or is turned by quarters alone."""
    frame = Frame((rng.uniform(-reach, reach), rng.uniform(-reach, reach), rng.uniform(-60, 60)))
    for axis in ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)):
        angle = rng.choice((0.0, 90.0, 180.0)) if by_quarters else rng.uniform(0, 360)
        frame = frame.turned(axis, angle)
    return frame


def random_pairs(count: int) -> Iterator[tuple[Body, Body]]:
    rng = random.Random(20261126)
    for number in range(count):
        frames = [random_frame(rng, 70.0, by_quarters=number % 2 == 0) for _ in range(2)]
        yield random_body(rng, frames[0]), random_body(rng, frames[1])


def judged(first: Body, second: Body) -> bool:
    """Whether our check reports the two."""
    plan = replace(sample_plan("metric"), parts=parts_of(first, second))
    return bool(check_pieces_in_one_place(plan))


def hull(body: Body, rings: Sequence[Sequence[Vec3]]) -> Manifold:
    points = [body.frame.to_world(point) for ring in rings for point in ring]
    return Manifold.hull_points(np.array(points))


def solid_by_hulls(body: Body) -> Manifold:
    slab, thick = body.slab, body.slab.thickness_mm
    faces = [
        [(x, y, z) for x, y in outline.points]
        for outline, z in ((slab.face_a, 0.0), (slab.face_b, thick))
    ]
    solid = hull(body, faces)
    for hole in slab.holes:
        solid -= hull(body, [[(x, y, z) for x, y in hole.points] for z in (-1.0, thick + 1.0)])
    return solid


def clip(ring: list[Vec2], a: float, b: float, d: float) -> list[Vec2]:
    """Return what is left of a convex ring where a x + b y <= d."""
    kept: list[Vec2] = []
    for (x0, y0), (x1, y1) in zip(ring, [*ring[1:], *ring[:1]], strict=True):
        h0, h1 = a * x0 + b * y0 - d, a * x1 + b * y1 - d
        if h0 <= 0:
            kept.append((x0, y0))
        if h0 * h1 < 0:
            share = h0 / (h0 - h1)
            kept.append((x0 + (x1 - x0) * share, y0 + (y1 - y0) * share))
    return kept


def area_of(ring: list[Vec2]) -> float:
    return sum(
        x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in zip(ring, [*ring[1:], *ring[:1]], strict=True)
    ) / 2  # fmt: skip


def volume_by_sections(first: Body, second: Body) -> float:
    """Return the volume two bodies share, from sections parallel to the faces of the first."""
    turned = [seen_from(first.frame, second.frame, plane) for plane in second.sides]
    holes = [[seen_from(first.frame, second.frame, plane) for plane in hole]
             for hole in second.holes]  # fmt: skip
    corners = [(x, y, z) for outline, z in ((second.slab.face_a, 0.0),
               (second.slab.face_b, second.slab.thickness_mm))
               for x, y in outline.points]  # fmt: skip
    levels = [first.frame.to_local(second.frame.to_world(corner))[2] for corner in corners]
    thick = first.slab.thickness_mm
    inside = {min(max(level, 0.0), thick) for level in levels}
    stops = sorted({0.0, thick, *inside, *(thick * i / 6 for i in range(7))})
    volume = 0.0
    for low, high in pairwise(stops):
        middle, half = (low + high) / 2, (high - low) / 2
        for node, weight in zip(NODES, WEIGHTS, strict=True):
            volume += weight * half * shared_area(first, turned, holes, middle + half * node)
    return float(volume)


def shared_area(
    first: Body, sides: list[HALF_PLANE], holes: list[list[HALF_PLANE]], level: float
) -> float:
    """Return the area of the section of what both share, holes of either taken off."""
    ring = [(-FAR, -FAR), (FAR, -FAR), (FAR, FAR), (-FAR, FAR)]
    for a, b, c, d in (*first.sides[:-2], *sides):
        ring = clip(ring, a, b, d - c * level)
        if not ring:
            return 0.0
    cuts = [*first.holes, *holes]
    gone = []
    for hole in cuts:
        lost = ring
        for a, b, c, d in hole:
            lost = clip(lost, a, b, d - c * level) if lost else []
        gone.append(lost)
    both = 0.0
    if len(gone) == 2 and all(len(one) > 2 for one in gone):
        both = Polygon(gone[0]).intersection(Polygon(gone[1])).area
    return area_of(ring) - sum(area_of(one) for one in gone if one) + both


def seen_from(frame: Frame, other: Frame, plane: HALF_PLANE) -> HALF_PLANE:
    """Return a half-plane of the other frame in this one."""
    a, b, c, d = plane
    normal = frame.local_direction(other.direction((a, b, c)))
    origin = frame.to_local(other.to_world((0.0, 0.0, 0.0)))
    return (*normal, d + sum(n * o for n, o in zip(normal, origin, strict=True)))


def test_500_random_pairs_overlap_by_as_much_as_manifold_and_sections_say() -> None:
    apart = overlapping = 0
    for first, second in random_pairs(PAIRS):
        shared = solid_by_hulls(first) ^ solid_by_hulls(second)
        by_hulls, by_sections = float(shared.volume()), volume_by_sections(first, second)
        skin = float(shared.surface_area())
        thin = skin > 0 and 2 * by_hulls / skin < 2 * SAME_PLANE_MM

        assert by_sections == pytest.approx(by_hulls, rel=2e-3, abs=5.0)
        if thin or 0 < by_hulls < 4 * CONTACT_AREA_MM2 * SAME_PLANE_MM:
            continue
        assert judged(first, second) == (by_hulls > 0)
        overlapping += by_hulls > 0
        apart += by_hulls == 0

    assert apart + overlapping > PAIRS - 10
    assert min(apart, overlapping) > 100


def test_200_random_contacts_have_the_area_of_their_outlines_in_the_plane() -> None:
    rng = random.Random(7)
    touching = 0
    for _ in range(200):
        room = random_frame(rng, 300.0)
        low = random_body(rng, room)
        turn = rng.uniform(0, 360)
        onto = Frame((rng.uniform(-200, 300), rng.uniform(-200, 200), low.slab.thickness_mm))
        high = random_body(rng, onto.turned((0.0, 0.0, 1.0), turn).inside(room))
        flat = outline_of(high, high.slab.face_a, onto.turned((0.0, 0.0, 1.0), turn))
        expected = flat.intersection(outline_of(low, low.slab.face_b, Frame()))
        found = find_contacts(place_pieces(parts_of(low, high)))
        area = sum(contact.area_mm2 for contact in found)

        if expected.area < 2 * CONTACT_AREA_MM2:
            continue
        assert area == pytest.approx(expected.area, rel=1e-6, abs=CONTACT_AREA_MM2)
        touching += 1

    assert touching > 100


def outline_of(body: Body, outline: Outline, frame: Frame) -> Polygon:
    """Return a face of a body in the plane both faces lie in."""
    rings = [outline, *body.slab.holes]
    flat = [[frame.to_world((x, y, 0.0))[:2] for x, y in ring.points] for ring in rings]
    return Polygon(flat[0], flat[1:])


def parts_of(*bodies: Body) -> Parts:
    parts = make_parts(
        [Line(label=label, count=1, length_mm=100, width_mm=50) for label in "AB"],
        [make_stock([(2440, 1220)])],
    )
    placed = [
        replace(part, slab=body.slab, thickness_mm=body.slab.thickness_mm,
                pieces=(replace(part.pieces[0], frame=body.frame),))
        for part, body in zip(parts.parts, bodies, strict=True)
    ]  # fmt: skip
    return replace(parts, parts=tuple(placed))
