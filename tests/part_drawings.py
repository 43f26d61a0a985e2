"""The drawings of a part without regard to the height of paper: one for all copies worked alike."""

import math

from generator.model.parts import Part
from generator.model.plan import Plan
from generator.outputs.part_pages import draw_part_pages
from generator.outputs.scene import Scene


def draw_part_sheets(plan: Plan, part: Part) -> tuple[Scene, ...]:
    """Return one drawing for every kind of copy, as high as it needs to be."""
    return draw_part_pages(plan, part, math.inf)
