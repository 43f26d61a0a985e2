"""Every view of every demo plan against rays: what is drawn is what the eye meets first."""

import functools
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
import shapely

from generator.build import build_plan
from generator.catalogue.read import read_catalogue
from generator.design.read import read_design
from generator.geometry.hidden_line import Edges, find_edges
from generator.geometry.lines import Segment
from generator.geometry.projection import Floats, Truths, View
from generator.geometry.vectors import Vec3
from generator.model.plan import Plan
from generator.outputs.bodies import CHORD_PART, Look, solids_of
from generator.outputs.exploded import look_exploded
from generator.outputs.exploding import explode
from generator.outputs.step_work import look_at_step
from generator.outputs.three_views import FRONT, LEFT, RIGHT, TOP
from generator.outputs.views import look_assembled
from generator.problems import ProblemLog
from generator.units import SYSTEMS, System
from tests.rays import Skin, cast, find_creases, is_clear, make_skin, project

DESIGNS = sorted(Path("designs").glob("*/design.yml"))
CASES = [(path, system) for path in DESIGNS for system in SYSTEMS]
FACE_POINTS = 2000
EDGE_POINTS = 200
HAIR_MM = 1.0
"""Rays this far around a point must agree, else a hair decides: scraps of 1 mm2 are not drawn."""
NEAR_MM = 0.05
LEAST_DEG = 0.1
"""Between chords of the flattest arc there is more of a turn than this."""
SHARP = 0.64
"""Cosine of 50 degrees: no two chords of an arc turn so much."""

QUIET = (-1,)
"""What older pieces are drawn as in the picture of a step, all in one tone."""

Creases = tuple[Floats, Floats]
"""Ends of edges, (k, 2, 3), and the normals on both sides of each."""
Case = tuple[str, View, Skin, Look | None, Edges, Creases]


@pytest.fixture(scope="module", params=CASES, ids=lambda case: f"{case[0].parent.name}-{case[1]}")
def views(request: pytest.FixtureRequest) -> tuple[Case, ...]:
    """Return every view of one plan: as the generator sees it, and as triangles for rays."""
    return tuple(_views(_plan(*request.param)))


def test_at_every_point_the_face_is_drawn_that_a_ray_meets_first(views: tuple[Case, ...]) -> None:
    wrong = {}
    for name, view, skin, looked, _, _ in views:
        if looked is None:
            continue
        flat = project(skin.corners, view)
        low, high = flat.min(axis=(0, 1))[:2], flat.max(axis=(0, 1))[:2]
        points = np.random.default_rng(7).uniform(low - 2, high + 2, (FACE_POINTS, 2))
        drawn = _drawn_faces(looked, points)
        met = _met_faces(skin, view, points, looked)
        rows = np.flatnonzero([a != b for a, b in zip(drawn, met, strict=True)])
        rows = rows[~_is_by_a_hair(skin, view, points[rows], looked)]
        if len(rows):
            wrong[name] = [(points[row].round(1).tolist(), drawn[row], met[row]) for row in rows]

    assert wrong == {}


def test_a_point_of_a_crease_is_drawn_visible_just_where_no_ray_from_it_is_stopped(
    views: tuple[Case, ...],
) -> None:
    wrong = {}
    for name, view, skin, _, edges, creases in views:
        points = _points_of_creases(creases, view)
        flat = project(points, view)
        seen = is_clear(skin, view, points)
        to_visible = _distances(edges.visible, flat)
        to_any = np.minimum(to_visible, _distances(edges.hidden, flat))
        bad = ((seen > 0) & (to_visible > NEAR_MM)) | ((seen < 0) & (to_any > NEAR_MM))
        if bad.any():
            wrong[name] = [(flat[i].round(1).tolist(), int(seen[i])) for i in np.flatnonzero(bad)]

    assert wrong == {}


def test_under_a_visible_line_lies_an_edge_that_rays_see_and_under_a_hidden_one_an_edge_they_miss(
    views: tuple[Case, ...],
) -> None:
    wrong = {}
    for name, view, skin, _, edges, creases in views:
        for kind, segments, wanted in (
            ("visible", edges.visible, 1),
            ("hidden", edges.hidden, -1),
        ):
            points = _points_of_lines(segments)
            bad = points[~_has_edge_under(skin, creases, view, points, wanted)]
            if len(bad):
                wrong[name, kind] = bad.round(1).tolist()

    assert wrong == {}


def test_rays_find_a_face_that_is_drawn_as_another(views: tuple[Case, ...]) -> None:
    # The checks above would see a mistake: with two pieces' names swapped, points differ.
    _, view, skin, looked, _, _ = views[0]
    assert looked is not None
    flat = project(skin.corners, view)
    points = np.random.default_rng(7).uniform(
        flat.min(axis=(0, 1))[:2], flat.max(axis=(0, 1))[:2], (200, 2)
    )
    swapped = Skin(skin.corners, (skin.owners + 1) % len(looked.names))

    assert _drawn_faces(looked, points) != _met_faces(swapped, view, points, looked)


def _views(plan: Plan) -> Iterator[Case]:
    names = [piece.name for piece in plan.parts.pieces()]
    solids = solids_of(plan)
    moves = dict(explode(plan, solids).moves)
    looks = [
        ("assembled", look_assembled(solids), {}),
        ("exploded", look_exploded(solids, moves), moves),
        *((f"step {s.order}", look_at_step(plan, s, solids)[1], {}) for s in plan.assembly.steps),
    ]
    for name, looked, moved in looks:
        skin = _skin(plan, looked.names, moved)
        edges = Edges(looked.visible, find_edges(looked.mesh, looked.view).hidden)
        yield name, looked.view, skin, looked, edges, find_creases(skin, LEAST_DEG)
    mesh = solids.whole()
    skin = _skin(plan, tuple(names), {})
    creases = find_creases(skin, LEAST_DEG)
    for name, view in (("front", FRONT), ("left", LEFT), ("right", RIGHT), ("top", TOP)):
        yield name, view, skin, None, find_edges(mesh, view), creases


def _skin(plan: Plan, names: tuple[str, ...], moves: dict[str, Vec3]) -> Skin:
    chord_mm = CHORD_PART * max(
        high - low for low, high in zip(plan.parts.low, plan.parts.high, strict=True)
    )
    boards = {
        piece.name: (part.slab, piece.frame) for part in plan.parts.parts for piece in part.pieces
    }
    return make_skin(
        [(*boards[name], moves.get(name, (0.0, 0.0, 0.0))) for name in names], chord_mm
    )


def _drawn_faces(looked: Look, points: Floats) -> list[tuple[int, ...]]:
    """Return for every point which piece and which way of looking is drawn there; () for none."""
    tree = shapely.STRtree([r.shape for r in looked.regions])
    found: list[tuple[int, ...]] = [()] * len(points)
    for point, region in tree.query(shapely.points(points), predicate="within").T.tolist():
        one = looked.regions[region]
        found[point] += _sign(one.owner, np.array(one.normal))
    for point in np.flatnonzero(shapely.contains_xy(looked.quiet, *points.T)):
        found[point] += QUIET
    return found


def _met_faces(skin: Skin, view: View, points: Floats, looked: Look) -> list[tuple[int, ...]]:
    """Return for every point which piece and way of looking a ray meets; of older pieces just that.

    Where no piece is new, each is told from the others.
    """
    _, triangles = cast(skin, view, points)
    normals = skin.normals()
    is_told = [looked.new is None or name in looked.new for name in looked.names]
    found = []
    for row in triangles.tolist():
        owner = int(skin.owners[row])
        met = _sign(owner, normals[row]) if is_told[owner] else QUIET
        found.append(met if row >= 0 else ())
    return found


def _sign(owner: int, normal: Floats) -> tuple[int, ...]:
    return (owner, *(round(float(x) * 50) for x in normal))


def _is_by_a_hair(skin: Skin, view: View, points: Floats, looked: Look) -> Truths:
    """Return for every point whether rays beside it do not all meet the same face."""
    around = HAIR_MM * np.array([[0, 0], [1, 0.3], [-0.3, 1], [-1, -0.3], [0.3, -1]])
    faces = [_met_faces(skin, view, points + step, looked) for step in around]
    return np.array([len(set(row)) > 1 for row in zip(*faces, strict=True)], dtype=bool)


def _points_of_creases(creases: Creases, view: View) -> Floats:
    """Return random points of sharp edges of which a face looks towards the eye."""
    ends, normals = creases
    is_sharp = np.sum(normals[:, 0] * normals[:, 1], axis=1) < SHARP
    ends, normals = ends[is_sharp], normals[is_sharp]
    facing = (normals @ np.array(view.eye) > 0.01).any(axis=1)
    flat = project(ends, view)
    long = np.hypot(*(flat[:, 1] - flat[:, 0])[:, :2].T) > 2.0
    ends = ends[facing & long]
    random = np.random.default_rng(5)
    rows = random.integers(0, len(ends), EDGE_POINTS)
    parts = random.uniform(0.05, 0.95, (EDGE_POINTS, 1))
    chosen: Floats = ends[rows, 0] + (ends[rows, 1] - ends[rows, 0]) * parts
    return chosen


def _points_of_lines(segments: tuple[Segment, ...]) -> Floats:
    """Return random points of drawn lines, none near the end of one."""
    lines = np.array([(s.start, s.end) for s in segments]).reshape(-1, 2, 2)
    lines = lines[np.hypot(*(lines[:, 1] - lines[:, 0]).T) > 3.0]
    if not len(lines):
        return np.zeros((0, 2))
    random = np.random.default_rng(3)
    rows = random.integers(0, len(lines), EDGE_POINTS)
    parts = random.uniform(0.1, 0.9, (EDGE_POINTS, 1))
    chosen: Floats = lines[rows, 0] + (lines[rows, 1] - lines[rows, 0]) * parts
    return chosen


def _has_edge_under(
    skin: Skin, creases: Creases, view: View, points: Floats, wanted: int
) -> Truths:
    """Return for every point of the paper whether an edge there is seen (1) or not (-1)."""
    ends, normals = creases
    facing = (normals @ np.array(view.eye) > 1e-9).any(axis=1)
    flat = project(ends, view)
    distance, part = _distance_and_part(flat[:, 0, :2], flat[:, 1, :2], points)
    which, rows = np.nonzero(distance < 0.03)
    at = ends[rows, 0] + (ends[rows, 1] - ends[rows, 0]) * part[which, rows, None]
    answer = np.where(facing[rows], is_clear(skin, view, at), -1)
    good = np.zeros(len(points), dtype=bool)
    good[which[(answer == wanted) | (answer == 0)]] = True
    return good


def _distances(segments: tuple[Segment, ...], points: Floats) -> Floats:
    lines = np.array([(s.start, s.end) for s in segments]).reshape(-1, 2, 2)
    if not len(lines):
        return np.full(len(points), np.inf)
    distance, _ = _distance_and_part(lines[:, 0], lines[:, 1], points[:, :2])
    nearest: Floats = distance.min(axis=1)
    return nearest


def _distance_and_part(start: Floats, end: Floats, points: Floats) -> tuple[Floats, Floats]:
    """Return how far every point is from every segment, and where along it, from 0 to 1."""
    along = end - start
    length = np.maximum(np.sum(along * along, axis=1), 1e-12)
    away = points[:, None, :] - start[None, :, :]
    part = np.clip(np.sum(away * along, axis=2) / length, 0.0, 1.0)
    rest = away - part[:, :, None] * along
    return np.hypot(rest[:, :, 0], rest[:, :, 1]), part


@functools.cache
def _plan(path: Path, system: System) -> Plan:
    catalogue = read_catalogue(Path("shared"), ProblemLog())
    design, _ = read_design(path, str(path))
    assert catalogue is not None
    assert design is not None
    plan, problems = build_plan(design, catalogue, system)
    assert plan is not None, problems
    return plan
