"""The law: what hidden-line removal shows is what rays see, and what it hides they do not."""

import math
import random

import numpy as np
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Point, Polygon

from generator.geometry.frames import Frame
from generator.geometry.hidden_line import find_edges
from generator.geometry.lines import Segment
from generator.geometry.outlines import Outline, circle
from generator.geometry.projection import Floats, Mesh, View, build_mesh, look_at, view_from
from generator.geometry.slabs import Slab
from generator.geometry.tolerance import SAME_POINT_MM
from generator.geometry.vectors import Vec3
from generator.geometry.visible_regions import find_regions
from tests.rays import Board, is_seen, nearest, solids_of, triangles_of

SQUARE = ((0.0, 0.0), (200.0, 0.0), (200.0, 100.0), (0.0, 100.0))
CLIPPED = ((0.0, 0.0), (200.0, 0.0), (200.0, 60.0), (150.0, 100.0), (0.0, 100.0))
INSET = ((10.0, 12.0), (190.0, 12.0), (190.0, 100.0), (10.0, 100.0))
NOTCHED = ((0.0, 0.0), (200.0, 0.0), (200.0, 100.0), (130.0, 100.0), (130.0, 40.0),
           (70.0, 40.0), (70.0, 100.0), (0.0, 100.0))  # fmt: skip
ROUND = Outline(SQUARE, (0.0, 0.3, 0.0, 0.0))
SHAPES = (
    Slab(Outline(SQUARE), Outline(SQUARE), 18.0),
    Slab(Outline(CLIPPED), Outline(CLIPPED), 18.0),
    Slab(Outline(SQUARE), Outline(INSET), 18.0),
    Slab(Outline(NOTCHED), Outline(NOTCHED), 18.0),
    Slab(Outline(SQUARE), Outline(SQUARE), 18.0, (circle((60.0, 50.0), 40.0),)),
    Slab(ROUND, ROUND, 18.0, (circle((60.0, 50.0), 40.0), circle((130.0, 50.0), 50.0))),
)
STANDING = (
    Frame((0, 0, 0)),
    Frame((0, 0, 18.0)),
    Frame((0.0, 18.0, 36.0), (1, 0, 0), (0, 0, 1), (0, -1, 0)),
    Frame((200.0, 0, 0), (0, 1, 0), (0, 0, 1), (1, 0, 0)),
    Frame((0.0, 18.0, 136.0)),
)
"""Boards that lie and stand on each other."""

angles = st.floats(-180, 180)
axes = st.sampled_from([(1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)])


@st.composite
def boards(draw: st.DrawFn) -> list[Board]:
    """Return boards turned at will, each in a cell of its own."""
    found = []
    for index in range(draw(st.integers(1, 4))):
        frame = Frame((-100.0, -50.0, -9.0))
        turned = Frame().turned(draw(axes), draw(angles)).turned(draw(axes), draw(angles))
        inner = frame.inside(turned)
        cell = (260.0 * (index % 2), 260.0 * (index // 2), 60.0 * index)
        origin = tuple(a + b for a, b in zip(inner.origin, cell, strict=True))
        slab = SHAPES[draw(st.integers(0, len(SHAPES) - 1))]
        placed = Frame((origin[0], origin[1], origin[2]), inner.x, inner.y, inner.z)
        found.append((f"board {index}", slab, placed))
    return found


@st.composite
def stacks(draw: st.DrawFn) -> list[Board]:
    """Return boards that touch each other in whole faces."""
    chosen = draw(st.lists(st.integers(0, len(STANDING) - 1), unique=True, min_size=2))
    return [(f"board {i}", SHAPES[draw(st.sampled_from([0, 1, 4]))], STANDING[i]) for i in chosen]


@st.composite
def views(draw: st.DrawFn) -> View:
    """Return any view, among them those along the axes."""
    eye = draw(
        st.sampled_from([(0.0, -1.0, 0.0), (1.0, 0.0, 0.0), (0.5, -0.8, 0.5), (-1.0, -1.0, 1.0)])
        | st.tuples(st.floats(-1, 1), st.floats(-1, 1), st.floats(-0.9, 0.9)).filter(
            lambda e: math.hypot(e[0], e[1]) > 0.2
        )
    )
    return view_from(eye)


@settings(max_examples=12, deadline=None)
@given(boards=boards() | stacks(), view=views(), seed=st.integers(0, 1000))
def test_an_edge_point_is_drawn_as_visible_exactly_where_no_ray_from_it_is_stopped(
    boards: list[Board], view: View, seed: int
) -> None:
    solids, triangles = solids_of(boards), triangles_of(boards)
    mesh = build_mesh(solids)
    seen = look_at(mesh, view)
    edges = find_edges(mesh, view)
    pick = random.Random(seed)
    for index, (start, end, one, other) in enumerate(mesh.edges):
        faces_eye = seen.front[one] or (other >= 0 and seen.front[other])
        a, b = mesh.points[start], mesh.points[end]
        across = np.linalg.norm((seen.points[end] - seen.points[start])[:2])
        if not faces_eye or across < 2.0 or mesh.smooth[index]:
            continue
        point = a + (b - a) * pick.uniform(0.05, 0.95)
        at = Point(*view.project(_vec(point))[:2])
        answer = is_seen(triangles, point, view)
        if answer is True:
            assert _distance(edges.visible, at) < 0.05
        if answer is False:
            assert _distance(edges.hidden + edges.visible, at) < 0.05


@settings(max_examples=12, deadline=None)
@given(boards=boards() | stacks(), view=views(), seed=st.integers(0, 1000))
def test_under_every_visible_line_is_an_edge_that_rays_see_and_under_a_hidden_one_none(
    boards: list[Board], view: View, seed: int
) -> None:
    triangles = triangles_of(boards)
    mesh = build_mesh(solids_of(boards))
    edges = find_edges(mesh, view)
    pick = random.Random(seed)
    for segment in _some(edges.visible, pick):
        answers = _look_under(mesh, triangles, view, segment, pick.uniform(0.1, 0.9))

        assert True in answers or None in answers
    for segment in _some(edges.hidden, pick):
        answers = _look_under(mesh, triangles, view, segment, pick.uniform(0.1, 0.9))

        assert answers
        assert False in answers or None in answers


@settings(max_examples=20, deadline=None)
@given(boards=boards() | stacks(), view=views())
def test_the_visible_regions_tile_the_silhouette(boards: list[Board], view: View) -> None:
    mesh = build_mesh(solids_of(boards))
    regions = find_regions(mesh, view)
    shapes = [r.shape for r in regions]
    silhouette = shapely.union_all(
        [
            Polygon([view.project(p)[:2] for p in triangle]).buffer(0)
            for triangle in (tuple(_vec(p) for p in rows) for rows in triangles_of(boards))
        ]
    )
    total = sum(shape.area for shape in shapes)

    assert abs(silhouette.area - total) < 1e-3 * silhouette.area + 20
    assert abs(silhouette.area - shapely.union_all(shapes).area) < 1e-3 * silhouette.area + 20


@settings(max_examples=20, deadline=None)
@given(boards=boards() | stacks(), view=views())
def test_a_ray_to_the_middle_of_a_region_meets_that_region_first(
    boards: list[Board], view: View
) -> None:
    solids = solids_of(boards)
    triangles, mesh = triangles_of(boards), build_mesh(solids)
    for region in find_regions(mesh, view):
        wide = region.shape.buffer(-2 * SAME_POINT_MM)
        if wide.is_empty:
            continue
        inside = wide.representative_point()
        face = next(
            f
            for f in solids[region.owner].faces
            if f.edge == region.side and np.allclose(f.normal, region.normal)
        )
        nearness = _plane_nearness(face.outer[0], face.normal, view, (inside.x, inside.y))
        base = sum(
            np.array(axis) * value for axis, value in ((view.right, inside.x), (view.up, inside.y))
        )

        assert abs(nearest(triangles, np.asarray(base), view) - nearness) < 0.05


def _plane_nearness(corner: Vec3, normal: Vec3, view: View, at: tuple[float, float]) -> float:
    n, c = np.array(normal), np.array(corner)
    foot = np.array(view.right) * at[0] + np.array(view.up) * at[1]
    return float(n @ (c - foot) / (n @ np.array(view.eye)))


def _some(segments: tuple[Segment, ...], pick: random.Random) -> list[Segment]:
    """Return some of the segments, none so short that its neighbours run through it."""
    long = [s for s in segments if math.dist(s.start, s.end) > 3.0]
    return pick.sample(long, min(20, len(long)))


def _look_under(
    mesh: Mesh, triangles: Floats, view: View, segment: Segment, part: float
) -> list[bool | None]:
    """Return for every edge that projects onto a point of a segment whether rays see it."""
    seen = look_at(mesh, view)
    x, y = (a + (b - a) * part for a, b in zip(segment.start, segment.end, strict=True))
    answers: list[bool | None] = []
    for start, end, one, other in mesh.edges:
        a, b = seen.points[start], seen.points[end]
        length = float(np.hypot(*(b - a)[:2]))
        if shapely.LineString([a[:2], b[:2]]).distance(Point(x, y)) > 0.03 or length < 0.05:
            continue
        if not (seen.front[one] or (other >= 0 and seen.front[other])):
            answers.append(False)
            continue
        far = float(np.clip(np.dot((b - a)[:2], np.array([x, y]) - a[:2]) / length**2, 0, 1))
        point = mesh.points[start] + (mesh.points[end] - mesh.points[start]) * far
        answers.append(is_seen(triangles, point, view))
    return answers


def _vec(point: Floats) -> Vec3:
    return (float(point[0]), float(point[1]), float(point[2]))


def _distance(segments: tuple[Segment, ...], at: Point) -> float:
    lines = [shapely.LineString([s.start, s.end]) for s in segments]
    return float(min(shapely.distance(lines, at), default=math.inf))
