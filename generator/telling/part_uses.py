"""Where each part of a plan is met again: on which sheets it lies, in which steps it goes on."""

from collections.abc import Mapping
from dataclasses import dataclass

from generator.model.plan import Plan


@dataclass(frozen=True, slots=True, kw_only=True)
class PartUses:
    """Where one part is met.

    Attributes:
        sheets: Numbers of the layouts of sheets it lies on.
        steps: Numbers of the steps in which copies of it go on.
    """

    sheets: tuple[int, ...]
    steps: tuple[int, ...]


def find_uses(plan: Plan) -> Mapping[str, PartUses]:
    """Return for every label where its part is met; boards are drawn together and left out."""
    labels = plan.parts.labels()
    return {
        part.label: PartUses(
            sheets=tuple(
                layout.number
                for layout in plan.cutting.layouts
                if any(one.label == part.label for one in layout.placements)
            ),
            steps=tuple(
                step.order
                for step in plan.assembly.steps
                if any(labels[name] == part.label for name in step.pieces)
            ),
        )
        for part in plan.parts.parts
    }
