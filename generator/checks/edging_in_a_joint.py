"""Edging in a joint: a covered edge that another piece lies against (C302)."""

from generator.model.plan import Plan
from generator.problems import Problem, make_problem
from generator.units import format_both


def check_edging_in_a_joint(plan: Plan) -> tuple[Problem, ...]:
    """Return a C302 for every covered edge that touches another piece.

    Sizes are those of the bare wood, so the edging would hold the two apart.
    """
    owners = {piece.name: (part, piece) for part in plan.parts.parts for piece in part.pieces}
    found = []
    for contact in plan.joinery.contacts:
        for name, side, other in (
            (contact.first, contact.first_side, contact.second),
            (contact.second, contact.second_side, contact.first),
        ):
            part, piece = owners[name]
            edging = part.edges[side].edging if side >= 0 else None
            if edging is None:
                continue
            found.append(
                make_problem(
                    "C302",
                    piece.place,
                    edge=dict(piece.words).get(side, part.edges[side].name),
                    piece=name,
                    other=other,
                    thickness=format_both(edging.thickness_mm, plan.edition.system),
                    hint="cover edges that stay free, and leave this one bare",
                )
            )
    return tuple(found)
