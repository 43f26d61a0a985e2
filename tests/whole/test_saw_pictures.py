"""Pictures of saw settings against the solids of the parts: what is drawn comes off the saw."""

import math
from pathlib import Path

import numpy as np
import pytest

from generator.build import build_plan
from generator.catalogue.read import read_catalogue
from generator.design.read import read_design
from generator.geometry.projection import Floats
from generator.geometry.vectors import Vec2
from generator.model.parts import Part
from generator.model.plan import Plan
from generator.outputs.saw_cuts import SawnEdge, find_saw_cuts
from generator.outputs.saw_panels import kept_section, kept_top
from generator.outputs.saw_settings import draw_saw_settings
from generator.outputs.scene import Words
from generator.outputs.scene_check import find_text_faults
from generator.outputs.svg import write_svg
from generator.problems import ProblemLog

DESIGNS = sorted(path.parent.name for path in Path("designs").glob("*/design.yml"))


@pytest.fixture(scope="module", params=DESIGNS)
def plan(request: pytest.FixtureRequest) -> Plan:
    """Return every demo plan once."""
    path = Path("designs") / request.param / "design.yml"
    catalogue = read_catalogue(Path("shared"), ProblemLog())
    design, _ = read_design(path, str(path))
    assert catalogue is not None
    assert design is not None
    built, problems = build_plan(design, catalogue, "metric")
    assert built is not None, problems
    return built


def test_every_tilt_and_angle_has_one_picture_and_every_setting_with_one_is_named(
    plan: Plan,
) -> None:
    wanted = {
        setting.order: (round(setting.tilt_deg, 1), round(setting.mitre_deg, 1))
        for setting in plan.cutting.settings
        if setting.tilt_deg or setting.mitre_deg
    }
    cuts = find_saw_cuts(plan)
    drawn = {order: (cut.tilt_deg, cut.angle_deg) for cut in cuts for order in cut.settings}

    assert drawn == wanted
    assert len({(cut.tilt_deg, cut.angle_deg, cut.is_rip) for cut in cuts}) == len(cuts)


def test_as_many_edges_are_told_as_the_settings_have_cuts(plan: Plan) -> None:
    wanted = sum(s.cuts for s in plan.cutting.settings if s.tilt_deg or s.mitre_deg)
    told = sum(sawn.part.count for cut in find_saw_cuts(plan) for sawn in cut.edges)

    assert told == wanted


def test_the_kept_piece_is_drawn_with_the_section_of_the_part(plan: Plan) -> None:
    for cut in find_saw_cuts(plan):
        for sawn in cut.edges:
            if cut.tilt_deg:
                drawn = kept_section(cut.tilt_deg, sawn.part.thickness_mm)
                upper, lower = section_corners(sawn)

                assert drawn[0] == (0.0, 0.0)
                assert upper[1] == pytest.approx(0.0, abs=1e-6)
                assert drawn[3] == pytest.approx(
                    (lower[0] - upper[0], lower[1] - upper[1]), abs=0.05
                )


def test_the_cut_leans_from_above_as_the_edge_of_the_upper_face_does(plan: Plan) -> None:
    for cut in find_saw_cuts(plan):
        for sawn in cut.edges:
            if cut.angle_deg and cut.tilt_deg:
                near, far, *_ = kept_top(cut.angle_deg, sawn.lean)
                slope = (far[0] - near[0]) / (far[1] - near[1])

                assert slope == pytest.approx(slope_from_above(sawn), abs=0.002)
            elif cut.angle_deg:
                near, far, *_ = kept_top(cut.angle_deg, sawn.lean)
                slope = (far[0] - near[0]) / (far[1] - near[1])

                assert slope < 0
                assert -slope == pytest.approx(abs(slope_from_above(sawn)), abs=0.004)


def test_a_picture_reads_well_and_is_small(plan: Plan) -> None:
    for cut, scene in draw_saw_settings(plan):
        texts = [item.text for item in scene.items if isinstance(item, Words)]

        assert find_text_faults(scene) == []
        assert len(write_svg(scene).encode()) <= 8000
        assert {"keep", "waste", "straightedge"} <= set(texts)
        assert ("long point: the mark" in texts) == bool(cut.tilt_deg)
        assert all(sawn.part.label in scene.description for sawn in cut.edges)


def section_corners(sawn: SawnEdge) -> tuple[Vec2, Vec2]:
    """Return the two corners of a cut through the middle of an edge, square to it.

    x runs out of the part, in its faces; y from the upper face up. Found by cutting triangles.
    """
    part, edge = sawn.part, sawn.edge
    outline = part.slab.face_a if edge.long_face == "A" else part.slab.face_b
    start, end, _ = outline.edges()[sawn.index]
    line = np.array([end[0] - start[0], end[1] - start[1], 0.0])
    line /= np.linalg.norm(line)
    height = 0.0 if edge.long_face == "A" else part.thickness_mm
    middle = np.array([(start[0] + end[0]) / 2, (start[1] + end[1]) / 2, height])
    out = np.array([line[1], -line[0], 0.0])
    up = np.array([0.0, 0.0, -1.0 if edge.long_face == "A" else 1.0])
    points = cut_triangles(part, middle, line)
    flat = np.stack([(points - middle) @ out, (points - middle) @ up], axis=1)
    upper = flat[np.abs(flat[:, 1]) < 1e-3]
    lower = flat[np.abs(flat[:, 1] + part.thickness_mm) < 1e-3]
    a, b = upper[np.argmax(upper[:, 0])], lower[np.argmax(lower[:, 0])]
    return (float(a[0]), float(a[1])), (float(b[0]), float(b[1]))


def cut_triangles(part: Part, point: Floats, normal: Floats) -> Floats:
    """Return where the sides of the triangles of a part cross a plane."""
    corners = np.array(part.slab.triangles())
    heights = (corners - point) @ normal
    found = []
    for i in range(3):
        j = (i + 1) % 3
        crosses = (heights[:, i] < 0) != (heights[:, j] < 0)
        a, b = corners[crosses, i], corners[crosses, j]
        share = heights[crosses, i] / (heights[crosses, i] - heights[crosses, j])
        found.append(a + (b - a) * share[:, None])
    return np.concatenate(found)


def slope_from_above(sawn: SawnEdge) -> float:
    """Return how far an edge of the upper face leads right for every mm away from the reader."""
    part, edge = sawn.part, sawn.edge
    from_below = edge.long_face == "A"
    outline = part.slab.face_a if from_below else part.slab.face_b
    start, end, _ = outline.edges()[sawn.index]
    middle_x, middle_y = (start[0] + end[0]) / 2, (start[1] + end[1]) / 2
    out = (0.0, 0.0)
    if edge.kind == "edge":
        out = (0.0, math.copysign(1.0, middle_y - part.width_mm / 2))
    else:
        out = (math.copysign(1.0, middle_x - part.length_mm / 2), 0.0)
    # Turned left from above; seen from face A the part is mirrored.
    away = (out[1], -out[0]) if from_below else (-out[1], out[0])
    step = (end[0] - start[0], end[1] - start[1])
    return (step[0] * out[0] + step[1] * out[1]) / (step[0] * away[0] + step[1] * away[1])
