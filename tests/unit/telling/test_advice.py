"""What a builder is told beside the figures names what the plan has, and nothing else."""

from dataclasses import replace

import pytest

from generator.model.plan import Plan
from generator.telling.advice import make_advice
from tests.samples import sample_plan

WORDS = {"pocket": "pockets", "clearance": "clearance holes", "pilot": "pilot holes"}


def without(plan: Plan, kinds: set[str]) -> Plan:
    holes = tuple(hole for hole in plan.joinery.holes if hole.kind not in kinds)
    return replace(plan, joinery=replace(plan.joinery, holes=holes))


@pytest.mark.parametrize("kind", sorted(WORDS))
def test_only_holes_that_are_bored_are_spoken_of(kind: str) -> None:
    plan = sample_plan("metric")

    assert kind in {hole.kind for hole in plan.joinery.holes}
    assert WORDS[kind] in " ".join(make_advice(plan).drilling)
    assert WORDS[kind] not in " ".join(make_advice(without(plan, {kind})).drilling)


def test_a_part_that_is_what_is_left_is_to_be_measured() -> None:
    plan = sample_plan("metric")
    sheet = plan.cutting.layouts[0]
    cuts = (*sheet.cuts[:-1], replace(sheet.cuts[-1], frees="A, leaving B"))
    layouts = (replace(sheet, cuts=cuts), *plan.cutting.layouts[1:])
    left = replace(plan, cutting=replace(plan.cutting, layouts=layouts))

    assert "saw it to size where it is larger" in make_advice(left).wide_first
    assert "saw it to size" not in make_advice(plan).wide_first


def test_a_plan_without_screws_says_so() -> None:
    plan = sample_plan("metric")
    bare = replace(plan, joinery=replace(plan.joinery, fasteners=()))

    assert ("This plan has no screws.",) == make_advice(bare).drilling
