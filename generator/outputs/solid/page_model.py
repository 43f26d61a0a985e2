"""The finished piece for the page: a script of plain numbers that is loaded when somebody asks.

It is a script and not data to be fetched, because a page opened from a disk may fetch nothing.
"""

import json
import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any, Final

from generator.geometry.projection import View
from generator.geometry.vectors import BACK, DOWN, Vec3, add, cross, dot, scale
from generator.model.assembly import Step
from generator.model.parts import Part, Piece
from generator.model.plan import Plan
from generator.model.words import capital, plain_words
from generator.outputs.bodies import Solids, solids_of
from generator.outputs.driven import Driven, count_driven, find_driven
from generator.outputs.exploding import explode
from generator.outputs.solid.meshes import COARSE_MM, make_mesh
from generator.outputs.step_work import find_new, find_viewpoint
from generator.outputs.views import RAISE_DEG, TURN_DEG

Json = dict[str, Any]

NAME: Final = "planSolid"
"""Under which the script leaves what it holds; a page is of one plan in one edition."""


def write_page_model(plan: Plan) -> bytes:
    """Return the script; lengths are counted in tenths of a millimetre, turns are plain numbers."""
    text = json.dumps(_model(plan), ensure_ascii=True, separators=(",", ":"), allow_nan=False)
    return f"window.{NAME}={text};\n".encode("ascii")


def _model(plan: Plan) -> Json:
    pieces = plan.parts.pieces()
    rows = {part.label: row for row, part in enumerate(plan.parts.parts)}
    numbers = {piece.name: number for number, piece in enumerate(pieces)}
    solids = solids_of(plan)
    moves = dict(explode(plan, solids).moves)
    return {
        "turn": TURN_DEG,
        "raise": RAISE_DEG,
        "parts": [_part(part) for part in plan.parts.parts],
        "pieces": [_piece(piece, rows[piece.label], moves[piece.name]) for piece in pieces],
        "steps": [_step(plan, step, solids, numbers) for step in plan.assembly.steps],
    }


def _part(part: Part) -> Json:
    mesh = make_mesh(part.slab, COARSE_MM)
    return {
        "label": part.label,
        "title": part.title,
        "points": _flat(mesh.points),
        "triangles": _flat(mesh.triangles),
        "edges": _flat(mesh.edges),
        "rounds": _flat(mesh.rounds),
    }


def _piece(piece: Piece, row: int, move: Vec3) -> Json:
    """Return a piece: its part, its name, its frame by columns, and how far it is pulled away."""
    frame = piece.frame
    return {
        "part": row,
        "name": capital(plain_words(piece.name)),
        "axes": [round(value, 5) + 0.0 for way in (frame.x, frame.y, frame.z) for value in way],
        "at": _tenths(frame.origin),
        "away": _tenths(move),
    }


def _step(plan: Plan, step: Step, solids: Solids, numbers: Mapping[str, int]) -> Json:
    """Return a step: what goes on in it, all that is there then, and how it lies on the bench."""
    new = find_new(plan, step)
    there = dict.fromkeys((*new, *step.present)) or numbers
    driven = find_driven(plan, step)
    return {
        "title": step.title,
        "new": [numbers[name] for name in new],
        "there": [numbers[name] for name in there],
        "driven": _flat(_driven(plan, step, driven, numbers)),
        "says": ", ".join(f"{count} × {name}" for name, count in count_driven(driven).items()),
        **_pose(find_viewpoint(plan, step, solids)[0].view),
    }


def _driven(
    plan: Plan, step: Step, driven: Sequence[Driven], numbers: Mapping[str, int]
) -> Iterator[list[int]]:
    """Yield for every fastener its first piece, where it goes in, and where its head is before.

    What is set between two pieces, as a dowel is, would be seen by nobody.
    """
    wanted = [one for one in plan.joinery.fasteners if one.id in step.fasteners]
    for fastener, one in zip(wanted, driven, strict=True):
        if not one.is_inside:
            head = add(one.at, scale(one.way, -one.length_mm))
            yield [numbers[fastener.through[0]], *_tenths(one.at), *_tenths(head)]


def _pose(view: View) -> Json:
    """Return what is right, back and up on the bench, and how far the eye is turned there.

    On a bench the eye stands in front, where the piece has its front, unless it lies on it or on
    its back: then its top or its bottom is there.
    """
    raised = math.radians(RAISE_DEG)
    up = add(scale(view.up, math.cos(raised)), scale(view.eye, math.sin(raised)))
    back = BACK if abs(up[1]) < math.sin(raised) else scale(DOWN, up[1])
    right = cross(back, up)
    turn = math.degrees(math.atan2(dot(view.eye, right), -dot(view.eye, back)))
    bench = [round(value, 5) + 0.0 for way in (right, back, up) for value in way]
    return {"bench": bench, "turn": round(turn, 3) + 0.0}


def _tenths(vector: Vec3) -> list[int]:
    return [round(value / COARSE_MM) for value in vector]


def _flat(rows: Iterable[Iterable[int]]) -> list[int]:
    return [value for row in rows for value in row]
