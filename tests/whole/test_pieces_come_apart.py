"""Every demo plan taken apart: solids, not rays, say that nothing is in the way."""

from pathlib import Path

import pytest

from generator.build import build_plan
from generator.catalogue.read import read_catalogue
from generator.design.read import read_design
from generator.outputs.exploding import explode
from generator.problems import ProblemLog
from tests.exploded import find_collisions

DESIGNS = sorted(path.parent.name for path in Path("designs").glob("*/design.yml"))


@pytest.mark.parametrize("name", DESIGNS)
def test_no_piece_passes_through_another_on_its_way(name: str) -> None:
    path = Path("designs") / name / "design.yml"
    catalogue = read_catalogue(Path("shared"), ProblemLog())
    design, _ = read_design(path, str(path))
    assert catalogue is not None
    assert design is not None
    plan, problems = build_plan(design, catalogue, "metric")
    assert plan is not None, problems

    assert find_collisions(plan, explode(plan)) == []
