"""Every drawing of every demo plan, read for what a reader could not read."""

from pathlib import Path

import pytest

from generator.build import build_plan
from generator.catalogue.read import read_catalogue
from generator.design.read import read_design
from generator.model.plan import Plan
from generator.outputs.booklet.paper import PAPERS
from generator.outputs.line_check import find_line_faults
from generator.outputs.plan_files import draw_pictures
from generator.outputs.scene import Scene
from generator.outputs.scene_check import find_text_faults
from generator.outputs.svg import write_svg
from generator.problems import ProblemLog
from generator.units import SYSTEMS, System
from tests.leaders import find_crossed_leaders

DESIGNS = sorted(Path("designs").glob("*/design.yml"))
CASES = [(path, system) for path in DESIGNS for system in SYSTEMS]
LARGEST_BYTES = 15_000
"""More than this takes a phone in a workshop too long."""
LARGEST_EXPLODED_BYTES = 30_000
"""The exploded view shows every face of every piece."""


@pytest.fixture(scope="module", params=CASES, ids=lambda case: f"{case[0].parent.name}-{case[1]}")
def plan(request: pytest.FixtureRequest) -> Plan:
    """Return one plan of the demo library."""
    path, system = request.param
    return _plan(path, system)


@pytest.fixture(scope="module")
def scenes(plan: Plan) -> tuple[Scene, ...]:
    """Return all drawings of one plan."""
    return tuple(draw_pictures(plan)[1].values())


def test_no_text_lies_over_another_leaves_the_sheet_or_is_too_small_when_printed(
    plan: Plan, scenes: tuple[Scene, ...]
) -> None:
    room = PAPERS[plan.edition.system].room
    faults = {
        scene.title: find_text_faults(scene, printed=room.scale_of(scene.width_mm, scene.height_mm))
        for scene in scenes
    }

    assert {scene.title: [] for scene in scenes} == faults


def test_no_line_runs_through_a_text_and_no_leaders_cross(scenes: tuple[Scene, ...]) -> None:
    faults = {scene.title: find_line_faults(scene) for scene in scenes}

    assert {scene.title: [] for scene in scenes} == faults


def test_every_drawing_has_a_title_and_a_description_of_its_own(scenes: tuple[Scene, ...]) -> None:
    assert len(scenes) == len({scene.title for scene in scenes})
    assert all(len(scene.description) > 20 for scene in scenes)


def test_no_drawing_is_too_heavy_for_a_phone(scenes: tuple[Scene, ...]) -> None:
    sizes = {scene.title: len(write_svg(scene).encode()) for scene in scenes}
    heavy = {
        title: size
        for title, size in sizes.items()
        if size > (LARGEST_EXPLODED_BYTES if "exploded" in title else LARGEST_BYTES)
    }

    assert heavy == {}


def test_no_leader_of_a_view_crosses_another_a_letter_or_words(scenes: tuple[Scene, ...]) -> None:
    crossed = {}
    for scene in scenes:
        if "assembled" in scene.title or "exploded" in scene.title or "Step" in scene.title:
            found = find_crossed_leaders(scene)
            if found:
                crossed[scene.title] = found

    assert crossed == {}


def _plan(path: Path, system: System) -> Plan:
    log = ProblemLog()
    catalogue = read_catalogue(Path("shared"), log)
    design, _ = read_design(path, str(path))
    assert catalogue is not None
    assert design is not None
    plan, problems = build_plan(design, catalogue, system)
    assert plan is not None, problems
    return plan
