"""Tools and bits: each is told once, with all it is for."""

from dataclasses import replace

from generator.model.joinery import BoredHole
from generator.model.plan import Plan
from generator.telling.buying_tables import make_bits, make_tools, needed_tools
from tests.samples import sample_plan


def _with_holes(plan: Plan, *kinds: str) -> Plan:
    first = plan.joinery.holes[0]
    holes = tuple(_hole(first, kind) for kind in kinds)
    return replace(plan, joinery=replace(plan.joinery, holes=holes))


def _hole(first: BoredHole, kind: str) -> BoredHole:
    return replace(first, kind=kind, diameter_mm=6.0, countersink_mm=0.0)  # type: ignore[arg-type]


def test_a_bit_of_one_size_is_one_line_for_all_its_holes() -> None:
    bits = make_bits(_with_holes(sample_plan("metric"), "pilot", "nail", "pin", "clearance"))

    assert bits[0] == (
        "Drill bit 6 mm for clearance holes, nail holes and pilot holes, "
        "and with a stop collar for shelf-pin holes"
    )
    assert len([bit for bit in bits if "6 mm" in bit]) == 1


def test_a_bit_for_pockets_is_another_bit_than_a_twist_bit_of_its_size() -> None:
    bits = make_bits(_with_holes(sample_plan("metric"), "pocket", "pilot"))

    assert "Drill bit 6 mm for pilot holes" in bits
    assert "Stepped drill bit 6 mm for pockets, run in the jig" in bits


def test_every_tool_is_named_once_and_the_saw_first() -> None:
    plan = sample_plan("imperial")
    story = replace(plan.edition.story, tools=(plan.edition.saw, *plan.edition.story.tools))
    plan = replace(plan, edition=replace(plan.edition, story=story))
    names = [tool.key for tool in needed_tools(plan)]

    assert names[0] == plan.edition.saw.key
    assert len(names) == len(set(names))
    assert make_tools(plan)[0].startswith(plan.edition.saw.name[:1].upper())
