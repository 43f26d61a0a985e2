"""What is glued: a few pairs one by one, many pairs of the same two parts in one line."""

from dataclasses import replace

from generator.model.artifacts import Picture
from generator.model.plan import Plan
from generator.telling.joinery_tables import FEW_PAIRS, make_steps
from tests.samples import sample_plan

PICTURE = Picture(path="step.svg", title="Step", alt="A step.", width_px=10, height_px=10)


def _glued(plan: Plan, *pairs: tuple[str, str]) -> tuple[str, ...]:
    steps = tuple(replace(step, glued=pairs) for step in plan.assembly.steps)
    plan = replace(plan, assembly=replace(plan.assembly, steps=steps))
    return make_steps(plan, [PICTURE for _ in steps])[0].glued


def test_a_few_pairs_are_named_by_their_pieces() -> None:
    pair = ("shelf", "side.left")

    assert _glued(sample_plan("metric"), pair) == ("shelf (C) to side left (A)",)


def test_many_pairs_of_the_same_parts_are_one_line_that_counts_them() -> None:
    pairs = [("shelf", "side.left")] * (FEW_PAIRS + 1)

    assert _glued(sample_plan("metric"), *pairs) == ("C Shelf to A Side: 4 times",)
