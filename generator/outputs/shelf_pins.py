"""Shelf pins in the picture of a step: they stand out of their holes before a shelf lies there."""

from collections.abc import Iterable
from typing import Final

from generator.geometry.projection import View
from generator.geometry.vectors import Vec3, add, scale
from generator.model.assembly import Step
from generator.model.plan import Plan
from generator.outputs.bodies import Sheet
from generator.outputs.scene import Disc, Item, Stroke
from generator.outputs.step_room import Wedge

OUT_MM: Final = 8.0
"""How far a pin stands out of the wood: common practice, no source."""
DOT_MM: Final = 0.7
"""Radius of its end on paper."""


def find_pins(plan: Plan, step: Step) -> tuple[tuple[Vec3, Vec3], ...]:
    """Return the pins that go in before the pieces of a step lie on them: hole and outer end."""
    owners = {piece.name: (part, piece) for part in plan.parts.parts for piece in part.pieces}
    found = []
    for rest in plan.joinery.rests:
        if rest.piece in step.pieces:
            for hole in rest.pins:
                frame = owners[hole.piece][1].frame
                at = frame.to_world(hole.at)
                found.append((at, add(at, scale(frame.direction(hole.direction), -OUT_MM))))
    return tuple(found)


def draw_pins(pins: Iterable[tuple[Vec3, Vec3]], view: View, sheet: Sheet) -> list[Item]:
    """Return every pin as it stands out of its hole."""
    items: list[Item] = []
    for hole, end in pins:
        start, tip = (sheet.place(view.project(point)) for point in (hole, end))
        items.append(Stroke(points=(start, tip), layer="screw"))
        items.append(Disc(center=tip, radius_mm=DOT_MM, tone="screw"))
    return items


def cover_pins(pins: Iterable[tuple[Vec3, Vec3]], view: View, sheet: Sheet) -> list[Wedge]:
    """Return what every pin takes up on paper."""
    placed = [[sheet.place(view.project(point)) for point in pin] for pin in pins]
    return [(start, tip, 0.0, DOT_MM) for start, tip in placed]
