"""Surfaces: how much of them is glued and how much gets a finish."""

import math

from generator.geometry.rods import Body
from generator.geometry.vectors import cross, norm, subtract
from generator.model.fitting import FinishNeed, GlueNeed
from generator.model.hardware import FinishSpec
from generator.model.joinery import Joinery
from generator.model.parts import Parts

GLUE_MM = 0.2 / 1.1
"""Thickness of the film spread on a joint: 200 g on a square metre of glue that weighs 1.1 kg a
litre; common practice, no source."""


def find_glue(joinery: Joinery) -> GlueNeed | None:
    """Return how much is glued, each contact of two glued pieces once; None where nothing is."""
    glued = {frozenset(pair) for joint in joinery.joints if joint.glue for pair in joint.between}
    area = math.fsum(
        contact.area_mm2
        for contact in joinery.contacts
        if frozenset((contact.first, contact.second)) in glued
    )
    return GlueNeed(area_mm2=area, volume_mm3=area * GLUE_MM) if glued else None


def find_finishes(
    specs: tuple[FinishSpec, ...], parts: Parts, joinery: Joinery
) -> tuple[FinishNeed, ...]:
    """Return the area and the amount of every finish.

    A finish that names no pieces goes on all that no other one names. All faces and edges count,
    but where pieces touch: nobody finishes those, and glue would not hold there.
    """
    named = {name for spec in specs for name in spec.pieces}
    bare = _bare_areas(parts, joinery) if specs else {}
    needs = []
    for spec in specs:
        pieces = spec.pieces or tuple(name for name in bare if name not in named)
        area = math.fsum(bare[name] for name in dict.fromkeys(pieces))
        needs.append(
            FinishNeed(
                spec=spec,
                pieces=pieces,
                area_mm2=area,
                volume_mm3=area * spec.coats / spec.coverage_per_mm,
            )
        )
    return tuple(needs)


def surface_mm2(slab: Body) -> float:
    """Return the area of the skin of a solid, arcs as their chords."""
    return math.fsum(
        norm(cross(subtract(b, a), subtract(c, a))) / 2 for a, b, c in slab.triangles()
    )


def _bare_areas(parts: Parts, joinery: Joinery) -> dict[str, float]:
    """Return for every piece the area of its skin that touches nothing."""
    bare = {
        piece.name: area
        for part in parts.parts
        for area in (surface_mm2(part.slab),)
        for piece in part.pieces
    }
    for contact in joinery.contacts:
        for name in (contact.first, contact.second):
            bare[name] = max(0.0, bare[name] - contact.area_mm2)
    return bare
