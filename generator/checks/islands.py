"""Islands: pieces that are joined to each other and to nothing else (C104)."""

from generator.model.plan import Plan
from generator.problems import Problem, make_problem


def check_islands(plan: Plan) -> tuple[Problem, ...]:
    """Return a C104 for every group of two or more pieces that nothing joins to the largest one."""
    islands = _find_islands(plan)
    places = {piece.name: piece.place for piece in plan.parts.pieces()}
    main = max(islands, key=len, default=())
    problems = []
    for island in islands:
        if island == main or len(island) < 2:
            continue
        others = f"`{island[1]}`" if len(island) == 2 else f"{len(island) - 1} other pieces"
        problems.append(
            make_problem(
                "C104",
                places[island[0]],
                piece=island[0],
                others=others,
                rest=main[0],
                hint="join one of them to a piece of the rest that it touches",
            )
        )
    return tuple(problems)


def _find_islands(plan: Plan) -> list[tuple[str, ...]]:
    """Return the groups of pieces that joints hold together, in the order of the pieces."""
    names = [piece.name for piece in plan.parts.pieces()]
    leader = {name: name for name in names}

    def lead(name: str) -> str:
        while leader[name] != name:
            name = leader[name]
        return name

    for joint in plan.joinery.joints:
        for first, second in joint.between:
            leader[lead(second)] = lead(first)
    groups: dict[str, tuple[str, ...]] = {}
    for name in names:
        groups[lead(name)] = (*groups.get(lead(name), ()), name)
    return list(groups.values())
