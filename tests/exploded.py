"""Looks with solids, not with rays, at what moves apart: does anything pass through anything?"""

from functools import cache

from manifold3d import Manifold

from generator.geometry.solids import build_solid
from generator.geometry.vectors import Vec3, add, scale
from generator.model.plan import Plan
from generator.outputs.exploding import Exploded

FRICTION_MM3 = 20.0
"""Solids that touch share so little by rounding."""
LOOKS = 12


def find_collisions(plan: Plan, exploded: Exploded) -> list[str]:
    """Return which pieces pass through which on their ways, and which overlap where they are."""
    solids = {
        piece.name: build_solid(part.slab.triangles(), piece.frame)
        for part in plan.parts.parts
        for piece in part.pieces
    }
    size = max(h - low for low, h in zip(plan.parts.low, plan.parts.high, strict=True))
    found = []
    for names, there, way in exploded.ways:
        for look in range(1, LOOKS + 1):
            shift = add(way.lift, scale(way.direction, size * look / LOOKS))
            for name in names:
                moved = solids[name].translate(shift)
                found += [
                    f"{name} passes through {other}"
                    for other in there
                    if (moved ^ solids[other]).volume() > FRICTION_MM3
                ]
    return sorted({*found, *_overlapping(solids, exploded)})


def _overlapping(solids: dict[str, Manifold], exploded: Exploded) -> list[str]:
    @cache
    def moved(name: str) -> Manifold:
        return solids[name].translate(exploded.moves[name])

    names = sorted(solids)
    return [
        f"{one} and {other} overlap"
        for i, one in enumerate(names)
        for other in names[i + 1 :]
        if (moved(one) ^ moved(other)).volume() > FRICTION_MM3
    ]


def difference(one: Vec3, other: Vec3) -> Vec3:
    """Return one move less another, rounded to 0.001 mm."""
    return (
        round(one[0] - other[0], 3),
        round(one[1] - other[1], 3),
        round(one[2] - other[2], 3),
    )
