"""Fasteners of a step, drawn out of the wood along their axes: head, shank, and where they go in.

  |-------------  .  .  .  o        A fastener too short to be seen on paper is drawn longer;
head         tip   its axis  hole   a dowel is drawn where it stands between two pieces.
"""

import math
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from generator.geometry.projection import Mesh, View
from generator.geometry.seen_points import find_seen
from generator.geometry.vectors import Vec2, Vec3, add, distance, scale
from generator.model.assembly import Step
from generator.model.joinery import BoredHole, Fastener
from generator.model.plan import Plan
from generator.outputs.bodies import Sheet
from generator.outputs.scene import Disc, Item, Layer, Stroke
from generator.outputs.step_room import Wedge
from generator.units import System, format_length

GAP_MM: Final = 2.0
"""From the wood to the tip, on paper."""
SHORTEST_MM: Final = 5.0
"""No fastener is drawn shorter on paper, but in an enlarged part of the picture."""
HEAD_MM: Final = 1.0
"""Half the width of a head on paper."""
MOUTH_MM: Final = 0.5
"""Radius of the dot where a fastener goes in."""
LIFT_MM: Final = 0.5
"""How far over the wood it is looked whether the eye sees it."""


@dataclass(frozen=True, slots=True)
class Driven:
    """One fastener as it is about to go in.

    Attributes:
        at: Where it goes into the wood, in the room; of a dowel, its end in the first piece.
        way: The way it goes, length 1.
        length_mm: From head to tip.
        name: What it is, for the count: ``pocket screw, 32 mm``.
        is_inside: Whether it is set between two pieces and not driven from outside, as a dowel is.
    """

    at: Vec3
    way: Vec3
    length_mm: float
    name: str
    is_inside: bool


def find_driven(plan: Plan, step: Step) -> tuple[Driven, ...]:
    """Return the fasteners of a step."""
    wanted = frozenset(step.fasteners)
    fasteners = [one for one in plan.joinery.fasteners if one.id in wanted]
    holes = _find_first_holes(plan, fasteners)
    frames = {piece.name: piece.frame for piece in plan.parts.pieces()}
    driven = []
    for one in fasteners:
        hole = holes.get(one.id)
        is_inside = one.goods.kind == "dowel"
        at = one.head if hole is None or is_inside else frames[hole.piece].to_world(hole.at)
        name = _short_name(one, plan.edition.system)
        length = distance(one.head, one.tip)
        driven.append(Driven(at, one.direction, length, name, is_inside))
    return tuple(driven)


def count_driven(driven: Iterable[Driven]) -> dict[str, int]:
    """Return how many there are of each name, in order."""
    return dict(Counter(one.name for one in driven))


def find_ends(one: Driven, scale_mm: float, *, is_true: bool = False) -> tuple[Vec3, Vec3]:
    """Return head and tip in the room as drawn, at so many mm on paper for one of the room."""
    if one.is_inside:
        return one.at, add(one.at, scale(one.way, one.length_mm))
    least = 0.0 if is_true else SHORTEST_MM / scale_mm
    gap, length = GAP_MM / scale_mm, max(one.length_mm, least)
    tip = add(one.at, scale(one.way, -gap))
    return add(tip, scale(one.way, -length)), tip


def find_open(driven: Sequence[Driven], mesh: Mesh, view: View) -> tuple[bool, ...]:
    """Return of each whether the eye sees where it goes in."""
    if not driven:
        return ()
    lifted = np.array([add(one.at, scale(one.way, -LIFT_MM)) for one in driven])
    return tuple(find_seen(mesh, view, lifted).tolist())


def draw_driven(
    driven: Sequence[Driven], seen: Sequence[bool], view: View, sheet: Sheet, *, is_true: bool
) -> list[Item]:
    """Return every fastener with its axis; dashed where something hides its hole.

    Args:
        driven: The fasteners.
        seen: Of each whether its hole is in sight.
        view: How it is looked at.
        sheet: Where it comes on paper.
        is_true: Whether none is drawn longer than it is.
    """
    axes: list[Item] = []
    bodies: list[Item] = []
    mouths: list[Item] = []
    for one, is_open in zip(driven, seen, strict=True):
        ends = find_ends(one, sheet.scale, is_true=is_true)
        head, tip = (sheet.place(view.project(point)) for point in ends)
        layer: Layer = "screw" if is_open or one.is_inside else "hidden"
        bodies.append(Stroke(points=(head, tip), layer=layer))
        if not one.is_inside:
            at = sheet.place(view.project(one.at))
            axes.append(Stroke(points=(tip, at), layer="dimension"))
            bodies.append(_head(head, tip, layer))
            mouths.append(Disc(center=at, radius_mm=MOUTH_MM, tone="screw"))
    return [*axes, *bodies, *mouths]


def cover_driven(driven: Sequence[Driven], view: View, sheet: Sheet) -> list[Wedge]:
    """Return what every fastener takes up on paper as `draw_driven` draws it: head to mouth."""
    covers: list[Wedge] = []
    for one in driven:
        head, tip = (sheet.place(view.project(point)) for point in find_ends(one, sheet.scale))
        if one.is_inside:
            covers.append((head, tip, 0.0, 0.0))
        else:
            covers.append((head, sheet.place(view.project(one.at)), HEAD_MM, MOUTH_MM))
    return covers


def _head(head: Vec2, tip: Vec2, layer: Layer) -> Stroke:
    """Return a short line across the end of a fastener."""
    away = math.dist(head, tip)
    if away < 0.1:
        across = (HEAD_MM, 0.0)
    else:
        across = ((head[1] - tip[1]) / away * HEAD_MM, (tip[0] - head[0]) / away * HEAD_MM)
    return Stroke(
        points=(
            (head[0] - across[0], head[1] - across[1]),
            (head[0] + across[0], head[1] + across[1]),
        ),
        layer=layer,
    )


def _find_first_holes(plan: Plan, fasteners: Sequence[Fastener]) -> dict[str, BoredHole]:
    """Return the pocket or clearance hole the driver goes into, by fastener."""
    firsts = {one.id: one.through[0] for one in fasteners}
    return {
        hole.fastener: hole
        for hole in plan.joinery.holes
        if hole.kind != "pilot" and firsts.get(hole.fastener) == hole.piece
    }


def _short_name(one: Fastener, system: System) -> str:
    kind = "pocket screw" if one.goods.kind == "pocket screw" else one.goods.word
    return f"{kind}, {format_length(one.goods.length_mm, system)}"
