"""Hardware whose screws are longer than the wood they go into is thick (C304)."""

from shapely.geometry import Point, Polygon

from generator.model.hardware import Mounted
from generator.model.parts import FACE_A, FACE_B
from generator.model.plan import Plan
from generator.problems import Problem, make_problem
from generator.units import format_both


def check_hardware_screws_too_long(plan: Plan) -> tuple[Problem, ...]:
    """Return a C304 for hardware at a place behind which its screws come out.

    Where another piece lies behind that place, and for what goes through into a wall, it is left to
    the maker.
    """
    system = plan.edition.system
    thickness = {
        piece.name: part.thickness_mm for part in plan.parts.parts for piece in part.pieces
    }
    found = []
    for spec in plan.edition.hardware:
        places = [one for one in plan.fitting.mounted if one.name == spec.name]
        thin = [one for one in places if thickness[one.piece] <= spec.screw_mm]
        bare = [one for one in thin if not _is_backed(plan, one)]
        if bare and not spec.is_anchor:
            found.append(
                make_problem(
                    "C304",
                    spec.place,
                    name=spec.name,
                    length=format_both(spec.screw_mm, system),
                    piece=bare[0].piece,
                    thickness=format_both(thickness[bare[0].piece], system),
                    hint="take shorter screws, or those it is sold with, and say so in a `note`",
                )
            )
    return tuple(found)


def _is_backed(plan: Plan, mounted: Mounted) -> bool:
    """Whether some piece lies on the far face behind the place where hardware sits."""
    far = FACE_B if mounted.side == FACE_A else FACE_A
    frame = next(one.frame for one in plan.parts.pieces() if one.name == mounted.piece)
    for contact in plan.joinery.contacts:
        sides = ((contact.first, contact.first_side), (contact.second, contact.second_side))
        if (mounted.piece, far) in sides:
            patch = Polygon([frame.to_local(point)[:2] for point in contact.outline])
            if patch.contains(Point(mounted.at)):
                return True
    return False
