"""A design nobody planned for, written with the guide alone, is short and builds."""

from pathlib import Path

import pytest

from generator.build import build_plan
from generator.design.read import read_design
from generator.units import SYSTEMS
from tests.little_designs import shared_catalogue

DESIGNS = sorted((Path(__file__).parents[1] / "designs").glob("*.yml"))


@pytest.mark.parametrize("path", DESIGNS, ids=lambda path: path.stem)
def test_a_design_by_a_newcomer_is_short_and_builds_in_both_editions(path: Path) -> None:
    design, problems = read_design(path, path.name)

    assert problems == ()
    assert design is not None
    assert len(path.read_text("utf-8").splitlines()) < 60
    for system in SYSTEMS:
        plan, found = build_plan(design, shared_catalogue(), system)
        assert found == ()
        assert plan is not None
        assert all(fastener.hidden for fastener in plan.joinery.fasteners)


def test_there_is_such_a_design() -> None:
    assert [path.stem for path in DESIGNS] != []
