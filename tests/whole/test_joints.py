"""Little designs that use every way to join: they build, and their drawings can be read."""

from pathlib import Path

import pytest

from generator.build import build_plan
from generator.design.read import parse_design
from generator.model.plan import Plan
from generator.outputs.scene_check import find_text_faults
from generator.outputs.step_pictures import draw_step
from generator.problems import ProblemLog
from generator.units import SYSTEMS, System
from tests.little_designs import ROOT, say, shared_catalogue
from tests.part_drawings import draw_part_sheets

DESIGNS = sorted((ROOT / "tests" / "designs").rglob("*.yml"))
WAYS = {"pocket screws", "face screws", "nails", "dowels", "bolts"}


@pytest.fixture(
    scope="module",
    params=[(path, system) for path in DESIGNS for system in SYSTEMS],
    ids=lambda param: f"{param[0].stem}-{param[1]}",
)
def plan(request: pytest.FixtureRequest) -> Plan:
    path, system = request.param
    return build(path, system)


def build(path: Path, system: System) -> Plan:
    log = ProblemLog()
    design = parse_design(path.read_text("utf-8"), path.name, path.stem, log)
    assert design is not None, say(log.problems)
    found, problems = build_plan(design, shared_catalogue(), system)

    assert problems == (), say(problems)
    assert found is not None
    return found


def test_every_way_to_join_is_used() -> None:
    plans = [build(path, "metric") for path in DESIGNS]

    assert WAYS <= {joint.with_ for plan in plans for joint in plan.joinery.joints}


def test_every_text_of_its_drawings_can_be_read(plan: Plan) -> None:
    scenes = [scene for part in plan.parts.parts for scene in draw_part_sheets(plan, part)]
    scenes += [draw_step(plan, step) for step in plan.assembly.steps]

    assert [(scene.title, fault) for scene in scenes for fault in find_text_faults(scene)] == []


def test_every_hole_that_is_bored_before_assembly_is_in_a_table(plan: Plan) -> None:
    bored = [hole for hole in plan.joinery.holes if hole.kind != "pilot"]
    told = " ".join(
        scene.description for part in plan.parts.parts for scene in draw_part_sheets(plan, part)
    )

    for word, kind in (("Dowel holes", "dowel"), ("Insert holes", "insert"), ("Pockets", "pocket")):
        assert (word in told) == any(hole.kind == kind for hole in bored)
