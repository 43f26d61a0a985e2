"""A piece that its dowels do not let in: they point two ways at once (C403).

A dowel goes into its hole along its own line alone. A piece with dowels to others that are joined
to each other already goes on only if all these dowels point the same way. Pieces of one step go on
one by one, in whatever order suits.
"""

from collections.abc import Sequence

from generator.geometry.tolerance import SAME_AIM
from generator.geometry.vectors import Vec3, distance, scale
from generator.model.edition import StepSpec
from generator.model.joinery import Fastener
from generator.model.plan import Plan
from generator.problems import Problem, make_problem

LOOSE = frozenset({"nothing", "pins"})
"""Ways to join that hold nothing in its place."""


def check_dowels_keep_it_out(plan: Plan) -> tuple[Problem, ...]:
    """Return a C403 for every piece or sub-assembly whose dowels point two ways at once."""
    dowels = [one for one in plan.joinery.fasteners if one.goods.kind == "dowel"]
    groups: dict[str, tuple[str, ...]] = {}
    problems = []
    for spec in plan.edition.steps if dowels else ():
        there = groups.get(spec.apart, ())
        joined = [groups.pop(name, ()) for name in spec.joins]
        for moved in (*joined, *((name,) for name in spec.pieces)):
            barred = _find_barred(plan, dowels, moved, there)
            if barred:
                problems.append(_problem(spec, moved[0], barred))
        groups[spec.apart] = (*there, *(name for group in joined for name in group), *spec.pieces)
    return tuple(problems)


def _find_barred(
    plan: Plan, dowels: Sequence[Fastener], moved: Sequence[str], there: Sequence[str]
) -> tuple[str, ...]:
    """Return two pieces, joined to each other, that dowels of what is moved point to two ways."""
    ways = [found for one in dowels if (found := _way_to(one, moved, there)) is not None]
    rigid = _find_rigid(plan, there)
    for i, (mate, way) in enumerate(ways):
        for other, other_way in ways[:i]:
            if rigid[mate] == rigid[other] and distance(way, other_way) > SAME_AIM:
                return (other, mate)
    return ()


def _way_to(dowel: Fastener, moved: Sequence[str], there: Sequence[str]) -> tuple[str, Vec3] | None:
    """Return the piece a dowel goes to from what is moved, and which way; None where to none."""
    first, second = dowel.through
    if first in moved and second in there:
        return second, dowel.direction
    if second in moved and first in there:
        return first, scale(dowel.direction, -1.0)
    return None


def _find_rigid(plan: Plan, there: Sequence[str]) -> dict[str, str]:
    """Return for each piece one that stands for all it is joined to, directly or by others."""
    heads = {name: name for name in there}
    for joint in plan.joinery.joints:
        for first, second in joint.between if joint.with_ not in LOOSE else ():
            if first in heads and second in heads:
                old, new = heads[second], heads[first]
                heads = {name: new if head == old else head for name, head in heads.items()}
    return heads


def _problem(spec: StepSpec, piece: str, barred: tuple[str, ...]) -> Problem:
    names = " and ".join(f"`{name}`" for name in dict.fromkeys(barred))
    return make_problem(
        "C403",
        spec.place,
        piece=piece,
        others=names,
        hint="fit it in the same step as one of them, or before the last of them goes on",
    )
