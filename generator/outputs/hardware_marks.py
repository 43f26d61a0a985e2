"""Where hardware goes on a part, and on the piece as it is assembled: marks with its name."""

from collections.abc import Iterable
from typing import Final

from generator.geometry.projection import View
from generator.geometry.vectors import Vec2
from generator.model.assembly import Step
from generator.model.hardware import Mounted
from generator.model.parts import FACE_A
from generator.model.plan import Plan
from generator.model.words import plain_words
from generator.model.work import Work
from generator.outputs.bodies import Sheet
from generator.outputs.face_paper import FacePaper
from generator.outputs.panels import Box
from generator.outputs.part_view import face_number
from generator.outputs.scene import Disc, Item, Stroke
from generator.outputs.step_room import Wedge

HALF_MM: Final = 1.5
"""Half the width of a mark on paper."""


def draw_hardware(paper: FacePaper, work: Work) -> tuple[Item, ...]:
    """Return a lozenge with a cross for everything that goes on the face looked at."""
    items: list[Item] = []
    for at in _places(paper, work):
        items += _lozenge(at)
    return tuple(items)


def hardware_boxes(paper: FacePaper, work: Work) -> tuple[tuple[Box, str], ...]:
    """Return the box around every mark on the face looked at, and what it is called."""
    names = [one.name.replace("_", " ") for one in _on_face(paper, work)]
    places = _places(paper, work)
    return tuple(
        ((x - HALF_MM, y - HALF_MM, x + HALF_MM, y + HALF_MM), name)
        for (x, y), name in zip(places, names, strict=True)
    )


def find_fitted(plan: Plan, step: Step, view: View, sheet: Sheet) -> dict[str, list[Vec2]]:
    """Return where each piece of hardware of a step goes on paper, by what it is called."""
    owners = {piece.name: (part, piece) for part in plan.parts.parts for piece in part.pieces}
    found: dict[str, list[Vec2]] = {}
    for one in plan.fitting.mounted:
        if one.name in step.hardware:
            part, piece = owners[one.piece]
            z = 0.0 if one.side == FACE_A else part.thickness_mm
            at = sheet.place(view.project(piece.frame.to_world((*one.at, z))))
            found.setdefault(plain_words(one.name), []).append(at)
    return found


def draw_fitted(places: Iterable[Vec2]) -> list[Item]:
    """Return a ring for each piece of hardware."""
    items: list[Item] = []
    for at in places:
        items += [
            Disc(center=at, radius_mm=HALF_MM, tone="bubble", layer="screw"),
            Disc(center=at, radius_mm=HALF_MM / 3, tone="screw"),
        ]
    return items


def cover_fitted(places: Iterable[Vec2]) -> list[Wedge]:
    """Return what each piece of hardware takes up on paper."""
    return [(at, at, HALF_MM, HALF_MM) for at in places]


def _on_face(paper: FacePaper, work: Work) -> list[Mounted]:
    return [one for one in work.hardware if one.side == face_number(paper.view.face)]


def _places(paper: FacePaper, work: Work) -> list[Vec2]:
    return [paper.point(one.at) for one in _on_face(paper, work)]


def _lozenge(at: Vec2) -> list[Item]:
    x, y = at
    reach = HALF_MM + 0.8
    corners = ((x + HALF_MM, y), (x, y + HALF_MM), (x - HALF_MM, y), (x, y - HALF_MM))
    return [
        Stroke(points=corners, layer="screw", closed=True),
        Stroke(points=((x - reach, y), (x + reach, y)), layer="dimension"),
        Stroke(points=((x, y - reach), (x, y + reach)), layer="dimension"),
    ]
