"""A tall, narrow piece that nothing fixes to a wall (C611).

Source of height and mass: ASTM F2057-23, 1.1, the scope of the safety specification for clothing
storage units, 27 in and 30 lb. It leaves out shelves and benches, which tip no less. That a piece
less than two and a half times as high as its base is deep is broad enough is our judgement.
"""

from typing import Final

from generator.checks.tips import check_tips
from generator.geometry.rods import place_corners
from generator.geometry.tolerance import SAME_PLANE_MM
from generator.model.parts import Piece
from generator.model.plan import Plan
from generator.problems import Place, Problem, make_problem
from generator.units import KG_PER_POUND, MM_PER_INCH, format_both, format_mass

TALL_MM: Final = 27 * float(MM_PER_INCH)
HEAVY_KG: Final = 30 * KG_PER_POUND
NARROW: Final = 2.5
"""Times as high as the base is deep, or wide where that is less."""


def check_tall_and_not_anchored(plan: Plan) -> tuple[Problem, ...]:
    """Return a C611 for a piece without an anchor that says it has one, or that needs one.

    What tips easily is told already (C603 to C605).
    """
    story = plan.edition.story
    if story.stands == "hung" or any(spec.is_anchor for spec in plan.edition.hardware):
        return ()
    if story.stands == "fixed":
        return (_problem(story.stands_place, "the design says that it is fixed to one"),)
    if check_tips(plan):
        return ()
    system, height = plan.edition.system, plan.parts.high[2] - plan.parts.low[2]
    base = _base_mm(plan)
    if height < TALL_MM or plan.parts.mass_kg < HEAVY_KG or height < NARROW * base:
        return ()
    why = (
        f"it is {format_both(height, system)} high on a base of {format_both(base, system)}, and "
        f"weighs {format_mass(plan.parts.mass_kg, system)}"
    )
    return (_problem(_tallest(plan).place, why),)


def _problem(place: Place, why: str) -> Problem:
    return make_problem(
        "C611",
        place,
        why=why,
        hint="fix it to the wall with hardware that says `wall: yes`; "
        "where nobody climbs or leans on it, accept this with the reason",
    )


def _base_mm(plan: Plan) -> float:
    """Return the lesser of depth and width of what touches the floor."""
    floor = plan.parts.low[2] + SAME_PLANE_MM
    points = [
        point
        for part in plan.parts.parts
        for piece in part.pieces
        for point in place_corners(part.slab, piece.frame)
        if point[2] < floor
    ]
    return min(max(p[axis] for p in points) - min(p[axis] for p in points) for axis in (0, 1))


def _tallest(plan: Plan) -> Piece:
    tops = [
        (max(point[2] for point in place_corners(part.slab, piece.frame)), piece)
        for part in plan.parts.parts
        for piece in part.pieces
    ]
    return max(tops, key=lambda top: top[0])[1]
