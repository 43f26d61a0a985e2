"""Edging that is narrower than the edge it is to cover (C303)."""

from generator.geometry.vectors import norm
from generator.model.parts import Part
from generator.model.plan import Plan
from generator.problems import Problem, make_problem
from generator.units import format_both


def check_edging_too_narrow(plan: Plan) -> tuple[Problem, ...]:
    """Return a C303 for every edge that its edging does not cover; a bevel is wider than square."""
    system = plan.edition.system
    found = []
    for part in plan.parts.parts:
        for index, edge in enumerate(part.edges):
            if edge.edging is None:
                continue
            wide_mm = _width(part, index)
            if edge.edging.width_mm < wide_mm:
                found.append(
                    make_problem(
                        "C303",
                        part.place,
                        edge=edge.name,
                        part=part.name,
                        width=format_both(edge.edging.width_mm, system),
                        needed=format_both(wide_mm, system),
                        hint="take a wider edging from shared/edgings.yml",
                    )
                )
    return tuple(found)


def _width(part: Part, index: int) -> float:
    """Return the width of an edge, square to its line."""
    normal = part.edges[index].plane.normal
    level = norm((normal[0], normal[1], 0.0))
    return part.thickness_mm / level
