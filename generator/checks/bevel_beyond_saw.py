"""A bevel beyond the saw: an edge leans further than the blade of the saw tilts (C103)."""

from generator.model.plan import Plan
from generator.problems import Problem, make_problem
from generator.units import format_angle

HOLDS_DEG = 0.05
"""No scale on a saw shows a twentieth of a degree."""


def check_bevel_beyond_saw(plan: Plan) -> tuple[Problem, ...]:
    """Return a C103 for every part with an edge the saw cannot cut."""
    saw = plan.edition.saw
    limit = saw.tilt_limit_deg
    if limit is None:
        limit = 0.0
    problems = []
    for part in plan.parts.parts:
        tilt = max(edge.tilt_deg for edge in part.edges)
        if tilt > limit + HOLDS_DEG:
            problems.append(
                make_problem(
                    "C103",
                    part.place,
                    tilt=format_angle(tilt),
                    piece=part.name,
                    saw=saw.key,
                    limit=format_angle(limit),
                    hint="a smaller lean, or another saw of shared/tools.yml: `saw: …`",
                )
            )
    return tuple(problems)
