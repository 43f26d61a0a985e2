"""A screw head or a pocket on a face that shows: somebody looks at it every day (C301)."""

from generator.model.joinery import Joint
from generator.model.parts import FACE_A, FACE_B, Piece
from generator.model.plan import Plan
from generator.model.words import piece_side_word
from generator.problems import Problem, make_problem


def check_seen_screw_heads(plan: Plan) -> tuple[Problem, ...]:
    """Return a C301 for every joint with heads on a face that its piece names with ``show``.

    A piece without a word of its own about faces has none that shows.
    """
    return tuple(
        problem
        for joint in plan.joinery.joints
        if (problem := _problem(plan, joint, _seen(plan, joint))) is not None
    )


def _seen(plan: Plan, joint: Joint) -> list[tuple[str, int]]:
    """Return piece and side of every head of a joint that is seen on a show face."""
    pieces = {piece.name: piece for piece in plan.parts.pieces()}
    entries = {hole.fastener: hole for hole in plan.joinery.holes if hole.kind != "pilot"}
    seen = []
    for name in joint.fasteners:
        hole = entries.get(name)
        if hole is None or plan.joinery.fastener(name).hidden:
            continue
        piece = pieces[hole.piece]
        if hole.side in piece.show and hole.side in {FACE_A, FACE_B}:
            seen.append((piece.name, hole.side))
    return seen


def _problem(plan: Plan, joint: Joint, seen: list[tuple[str, int]]) -> Problem | None:
    if not seen:
        return None
    name, side = seen[0]
    others = {piece for piece, _ in seen if piece != name}
    verb = {"nails": "nail", "bolts": "bolt"}.get(joint.with_, "screw")
    what = "1 head" if len(seen) == 1 else f"{len(seen)} heads"
    return make_problem(
        "C301",
        joint.place,
        joint=joint.id,
        heads=f"{what} or pockets" if joint.with_ == "pocket screws" else what,
        face=_face_words(plan, name, side),
        piece=name,
        others=f" and of {len(others)} more" if others else "",
        hint=f"{verb} from the other side, or accept it with the reason a reader should know",
    )


def _face_words(plan: Plan, name: str, side: int) -> str:
    piece: Piece = next(piece for piece in plan.parts.pieces() if piece.name == name)
    return piece_side_word(piece, plan.parts.part(piece.label), side)
