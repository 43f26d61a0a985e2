"""A plan of the demo library, computed here and now."""

from pathlib import Path

from generator.build import build_plan
from generator.catalogue.read import read_catalogue
from generator.design.read import read_design
from generator.model.plan import Plan
from generator.problems import ProblemLog
from generator.units import System


def demo_plan(slug: str, system: System) -> Plan:
    """Return the plan of a design of the demo library in one edition."""
    path = Path("designs") / slug / "design.yml"
    catalogue = read_catalogue(Path("shared"), ProblemLog())
    design, _ = read_design(path, str(path))
    assert catalogue is not None
    assert design is not None
    plan, problems = build_plan(design, catalogue, system)
    assert plan is not None, problems
    return plan
