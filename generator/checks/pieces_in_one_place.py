"""Two pieces in one place: their solids share room (C101)."""

from manifold3d import Manifold

from generator.geometry.solids import build_solid
from generator.geometry.tolerance import (
    CHORD_MM,
    CONTACT_AREA_MM2,
    SAME_PLANE_MM,
    SAME_POINT_MM,
)
from generator.model.parts import Part, Piece
from generator.model.plan import Plan
from generator.problems import Note, Problem, make_problem
from generator.units import format_both

SHARED_MM3 = CONTACT_AREA_MM2 * SAME_PLANE_MM
"""Less than a contact patch one paper deep is a matter of rounding."""


def check_pieces_in_one_place(plan: Plan) -> tuple[Problem, ...]:
    """Return a C101 for every two pieces that share room."""
    fitted = any(part.stock.is_round for part in plan.parts.parts)
    chord_mm = SAME_POINT_MM if fitted else CHORD_MM
    solids = [
        (piece, _solid(part, piece, chord_mm)) for part in plan.parts.parts for piece in part.pieces
    ]
    problems = []
    for i, (first, mine) in enumerate(solids):
        for second, theirs in solids[i + 1 :]:
            if not _boxes_meet(mine, theirs):
                continue
            shared = mine ^ theirs
            if shared.volume() > SHARED_MM3 and _thickness_mm(shared) > SAME_PLANE_MM:
                problems.append(_problem(plan, first, second, shared))
    return tuple(problems)


def _solid(part: Part, piece: Piece, chord_mm: float) -> Manifold:
    """Return a piece in the room; with fine chords a rod takes nothing off the wall of its hole."""
    return build_solid(part.slab.triangles(chord_mm), piece.frame)


def _thickness_mm(shared: Manifold) -> float:
    """Return how thick a sliver is: its volume over half of its skin; of a cube a third."""
    return 2.0 * float(shared.volume()) / float(shared.surface_area())


def _boxes_meet(first: Manifold, second: Manifold) -> bool:
    a, b = first.bounding_box(), second.bounding_box()
    return all(
        a[i] < b[i + 3] - SAME_PLANE_MM and b[i] < a[i + 3] - SAME_PLANE_MM for i in range(3)
    )


def _problem(plan: Plan, first: Piece, second: Piece, shared: Manifold) -> Problem:
    box = shared.bounding_box()
    system = plan.edition.system
    sizes = [format_both(max(box[i + 3] - box[i], 0.0), system) for i in range(3)]
    note = f"they share a room {sizes[0]} wide, {sizes[1]} deep and {sizes[2]} high"
    return make_problem(
        "C101",
        first.place,
        first=first.name,
        second=second.name,
        notes=[
            Note(text=f"{note}, in the {system} edition"),
            Note(text=f"`{second.name}` is written", place=second.place),
        ],
        hint="make one of them smaller, or cut its edge `against` the other",
    )
