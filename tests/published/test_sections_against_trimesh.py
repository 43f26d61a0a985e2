"""The section through a piece against areas that trimesh cuts of its solids, and what it tells.

Source: trimesh (where a plane meets the triangles of a mesh); the area follows from the lines and
their outward normals by Gauss's theorem.
"""

import math
from collections import Counter
from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import pytest
import trimesh
from shapely.geometry import Polygon

from generator.geometry.tolerance import SAME_POINT_MM
from generator.model.parts import Part, Piece
from generator.model.plan import Plan
from generator.outputs.scene import Area, Arrowhead, Scene, Stroke, Words
from generator.outputs.three_views import draw_three_views
from generator.units import SYSTEMS, System
from tests import demo_plans
from tests.drawn_sizes import SCALE, read_size
from tests.samples import sample_plan

SLUGS = sorted(path.parent.name for path in Path("designs").glob("*/design.yml"))
CASES = [(slug, system) for slug in SLUGS for system in SYSTEMS]
EVERY_PLAN = pytest.mark.parametrize(("slug", "system"), CASES)
CLEAR_HEIGHTS = {"entry-bench", "pantry-shelf", "step-stool", "tool-tote"}
"""Designs with level pieces across their middle."""


@EVERY_PLAN
def test_the_wood_cut_is_as_large_as_the_plane_cuts_it_of_the_solids(
    slug: str, system: System
) -> None:
    plan, scene = drawn(slug, system)
    cut = [area for _, area in cut_areas(plan, scene)]

    assert sum(cut) == pytest.approx(wood_mm2(scene), rel=2e-3)
    assert bool(cut) == ("Section A–A" in texts(scene))


@EVERY_PLAN
def test_every_kind_of_piece_cut_has_its_letter_and_at_most_one_copy_is_shut_in(
    slug: str, system: System
) -> None:
    plan, scene = drawn(slug, system)
    pieces = Counter(name for name, _ in cut_areas(plan, scene))
    letters = Counter(item.text for item in words(scene) if item.bold)
    letters -= Counter("AA")

    assert set(pieces) == set(letters)
    assert letters <= pieces
    assert (pieces - letters).total() <= (slug == "cleat-wall")


@EVERY_PLAN
def test_the_chain_of_heights_closes_with_the_height_of_the_piece(
    slug: str, system: System
) -> None:
    plan, scene = drawn(slug, system)
    height = plan.parts.high[2] - plan.parts.low[2]
    chains: dict[float, list[Words]] = {}
    for item in words(scene):
        if item.span is not None and item.span[0][0] == item.span[1][0]:
            chains.setdefault(item.span[0][0], []).append(item)
    closed = [chain for chain in chains.values() if len(chain) > 1]

    assert len(closed) == 1 or slug not in CLEAR_HEIGHTS
    for chain in closed:
        ranges = [read_size(item.text, system) for item in chain]
        ends = sorted(point[1] for item in chain for point in item.span or ())
        assert sum(low for low, _ in ranges) <= height <= sum(high for _, high in ranges)
        assert ends[1:-1:2] == pytest.approx(ends[2:-1:2])
        assert ends[-1] - ends[0] == pytest.approx(height / ratio_of(scene))


@pytest.mark.parametrize("system", SYSTEMS)
def test_a_plan_with_one_piece_cut_has_no_section_and_with_two_it_has(system: System) -> None:
    plan = sample_plan(system)
    sides, bottom, _ = plan.parts.parts
    one = replace(plan, parts=replace(plan.parts, parts=(sides, bottom)))

    assert "Section A–A" in texts(draw_three_views(plan))
    assert "Section A–A" not in texts(draw_three_views(one))
    assert texts(draw_three_views(one)).count("A") == 0


@pytest.mark.parametrize(("system", "way"), [("imperial", -1.0), ("metric", 1.0)])
def test_the_arrows_of_the_cutting_line_point_the_way_the_side_view_is_seen(
    system: System, way: float
) -> None:
    # ISO 128-3: reference arrows show the direction of viewing. Third angle: seen from the right.
    scene = draw_three_views(sample_plan(system))
    x = cutting_x(scene)
    assert x is not None
    arrows = [i for i in scene.items if isinstance(i, Arrowhead) and i.at[0] == x]

    assert [(way, 0.0), (way, 0.0)] == [arrow.direction for arrow in arrows]


@cache
def drawn(slug: str, system: System) -> tuple[Plan, Scene]:
    plan = demo_plans.demo_plan(slug, system)
    return plan, draw_three_views(plan)


def cut_areas(plan: Plan, scene: Scene) -> list[tuple[str, float]]:
    """Return the label and the area of every piece that the line in the front view cuts."""
    x = cutting_x(scene)
    if x is None:
        return []
    outlines = [i for i in scene.items if isinstance(i, Stroke) and i.layer == "outline"]
    left = min(point[0] for stroke in outlines for point in stroke.points)
    x_mm = plan.parts.low[0] + (x - left) * ratio_of(scene)
    areas = [
        (part.label, cut_area(part, piece, x_mm))
        for part in plan.parts.parts
        for piece in part.pieces
    ]
    return [(label, area) for label, area in areas if area > 1.0]


def cut_area(part: Part, piece: Piece, x_mm: float) -> float:
    skin = [
        [piece.frame.to_world(corner) for corner in triangle]
        for triangle in part.slab.triangles(SAME_POINT_MM)
    ]
    corners = np.array(skin).reshape(-1, 3)
    faces = np.arange(len(corners)).reshape(-1, 3)
    mesh = trimesh.Trimesh(corners, faces)
    lines, met = trimesh.intersections.mesh_plane(  # type: ignore[no-untyped-call]
        mesh, plane_normal=[1, 0, 0], plane_origin=[x_mm, 0, 0], return_faces=True
    )
    if not len(lines):
        return 0.0
    out = mesh.face_normals[met][:, 1:]
    out = out / np.linalg.norm(out, axis=1)[:, None]
    lengths = np.linalg.norm(lines[:, 1] - lines[:, 0], axis=1)
    middles = lines.mean(axis=1)[:, 1:]
    return float((lengths * (middles * out).sum(axis=1)).sum() / 2)


def wood_mm2(scene: Scene) -> float:
    """Return how much wood is drawn as cut through, at full size."""
    wood = [i for i in scene.items if isinstance(i, Area) and i.tone == "section"]
    return sum(Polygon(i.rings[0], i.rings[1:]).area for i in wood) * ratio_of(scene) ** 2


def cutting_x(scene: Scene) -> float | None:
    """Return where the cutting line stands: the one upright chain line that letters stand at."""
    upright = [
        item.points[0][0]
        for item in scene.items
        if isinstance(item, Stroke)
        and item.layer == "center"
        and math.isclose(item.points[0][0], item.points[-1][0])
        and abs(item.points[0][1] - item.points[-1][1]) > 15.0
    ]
    return upright[0] if upright else None


def ratio_of(scene: Scene) -> float:
    found = [SCALE.search(text) for text in texts(scene)]
    return next(float(one[1]) for one in found if one is not None)


def words(scene: Scene) -> list[Words]:
    return [item for item in scene.items if isinstance(item, Words)]


def texts(scene: Scene) -> list[str]:
    return [item.text for item in words(scene)]
