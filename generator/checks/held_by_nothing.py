"""A piece that nothing holds.

What it means:
    No joint of the design joins the piece to another one.

Why it matters at the bench:
    It lies there when everything else is screwed together; usually a joint was forgotten or its
    name means other pieces.
"""

from generator.model.plan import Plan
from generator.problems import Problem, make_problem


def check_held_by_nothing(plan: Plan) -> tuple[Problem, ...]:
    """Return a C102 for every piece without a joint."""
    held = {name for joint in plan.joinery.joints for pair in joint.between for name in pair}
    return tuple(
        make_problem("C102", piece.place, piece=piece.name, hint="join it to a piece it touches")
        for piece in plan.parts.pieces()
        if piece.name not in held
    )
