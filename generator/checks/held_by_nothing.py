"""A piece that nothing holds: no joint of the design joins it to another one (C102)."""

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
