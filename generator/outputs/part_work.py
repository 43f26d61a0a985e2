"""What is bored in and marked on the copies of a part, and which copies get the same."""

import math
from dataclasses import dataclass
from typing import Final

from generator.geometry.tolerance import SAME_PLANE_MM
from generator.geometry.vectors import distance
from generator.model.assembly import Mark
from generator.model.joinery import BoredHole
from generator.model.parts import FACE_A, FACE_B, Part, Piece
from generator.model.plan import Plan
from generator.model.words import plain_words

SAME_AIM: Final = 1e-3
"""Over the 60 mm of a long screw this is less than a tenth of a millimetre."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Work:
    """Copies of a part that are bored and marked alike.

    Attributes:
        pieces: The copies.
        holes: To bore before assembly, in the first of them: pockets and clearance holes.
        pilots: Bored in place, through the part that is screwed on.
        marks: Layout lines on its two faces.
        mirror_of: Names of the copies this is the mirror image of, "" where there are none.
    """

    pieces: tuple[Piece, ...]
    holes: tuple[BoredHole, ...]
    pilots: tuple[BoredHole, ...]
    marks: tuple[Mark, ...]
    mirror_of: str = ""

    @property
    def names(self) -> str:
        """The names of the copies, for a drawing."""
        return format_names(tuple(piece.name for piece in self.pieces))


def find_work(plan: Plan, part: Part) -> tuple[Work, ...]:
    """Return the work on a part, copies with equal work together, in the order of the copies."""
    found: list[Work] = []
    for piece in part.pieces:
        work = _work_of(plan, piece)
        for i, other in enumerate(found):
            if _is_same(work, other):
                found[i] = Work(
                    pieces=(*other.pieces, piece),
                    holes=other.holes,
                    pilots=other.pilots,
                    marks=other.marks,
                    mirror_of=other.mirror_of,
                )
                break
        else:
            found.append(_with_mirror(work, found))
    return tuple(found)


def format_names(names: tuple[str, ...]) -> str:
    """Return names of pieces in short: ``tray 1 to 3``, ``side left``, else with commas."""
    plain = [plain_words(name) for name in names]
    stems = {name.rpartition(" ")[0] for name in plain}
    numbers = [name.rpartition(" ")[2] for name in plain]
    if len(plain) > 2 and len(stems) == 1 and all(number.isdigit() for number in numbers):
        first, last = int(numbers[0]), int(numbers[-1])
        if [int(number) for number in numbers] == list(range(first, last + 1)):
            return f"{plain[0]} to {last}"
    return ", ".join(plain)


def _work_of(plan: Plan, piece: Piece) -> Work:
    holes = [hole for hole in plan.joinery.holes if hole.piece == piece.name]
    marks: list[Mark] = []
    for step in plan.assembly.steps:
        for mark in step.marks:
            on_it = mark.label == piece.label and piece.name in mark.copies and bool(mark.outline)
            if on_it and not any(_is_same_mark(mark, other) for other in marks):
                marks.append(mark)
    return Work(
        pieces=(piece,),
        holes=tuple(hole for hole in holes if hole.kind != "pilot"),
        pilots=tuple(hole for hole in holes if hole.kind == "pilot"),
        marks=tuple(mark for mark in marks if mark.side in {FACE_A, FACE_B}),
    )


def _with_mirror(work: Work, others: list[Work]) -> Work:
    image = Work(
        pieces=work.pieces,
        holes=tuple(_turned_hole(hole) for hole in work.holes),
        pilots=(),
        marks=tuple(_turned_mark(mark) for mark in work.marks),
    )
    for other in others:
        if _is_same(image, other):
            return Work(
                pieces=work.pieces,
                holes=work.holes,
                pilots=work.pilots,
                marks=work.marks,
                mirror_of=other.names,
            )
    return work


def _turned_hole(hole: BoredHole) -> BoredHole:
    """Return the hole on the other face; its height is left aside, see `_is_same_hole`."""
    x, y, z = hole.direction
    return BoredHole(
        piece=hole.piece,
        fastener=hole.fastener,
        kind=hole.kind,
        side=_other_face(hole.side),
        at=hole.at,
        direction=(x, y, -z),
        diameter_mm=hole.diameter_mm,
        depth_mm=hole.depth_mm,
        countersink_mm=hole.countersink_mm,
    )


def _turned_mark(mark: Mark) -> Mark:
    return Mark(
        label=mark.label,
        copies=mark.copies,
        side=_other_face(mark.side),
        mate=mark.mate,
        outline=mark.outline,
        edge=mark.edge,
        from_mm=mark.from_mm,
        to_mm=mark.to_mm,
    )


def _other_face(side: int) -> int:
    return {FACE_A: FACE_B, FACE_B: FACE_A}.get(side, side)


def _is_same(one: Work, other: Work) -> bool:
    """Whether two pieces get the same work; pilots count for nothing, they follow in place."""
    return (
        len(one.holes) == len(other.holes)
        and len(one.marks) == len(other.marks)
        and all(any(_is_same_hole(a, b) for b in other.holes) for a in one.holes)
        and all(any(_is_same_mark(a, b) for b in other.marks) for a in one.marks)
    )


def _is_same_hole(one: BoredHole, other: BoredHole) -> bool:
    """Whether two holes enter the same side at one place, the same way."""
    heights_count = one.side not in {FACE_A, FACE_B}
    return (
        (one.kind, one.side, one.diameter_mm, one.countersink_mm)
        == (other.kind, other.side, other.diameter_mm, other.countersink_mm)
        and math.dist(one.at[:2], other.at[:2]) < SAME_PLANE_MM
        and (not heights_count or abs(one.at[2] - other.at[2]) < SAME_PLANE_MM)
        and distance(one.direction, other.direction) < SAME_AIM
        and _is_same_depth(one.depth_mm, other.depth_mm)
    )


def _is_same_depth(one: float | None, other: float | None) -> bool:
    if one is None or other is None:
        return one is other
    return abs(one - other) < SAME_PLANE_MM


def _is_same_mark(one: Mark, other: Mark) -> bool:
    return (
        (one.side, one.mate, one.edge) == (other.side, other.mate, other.edge)
        and abs(one.from_mm - other.from_mm) < SAME_PLANE_MM
        and abs(one.to_mm - other.to_mm) < SAME_PLANE_MM
        and len(one.outline) == len(other.outline)
        and all(any(math.dist(a, b) < SAME_PLANE_MM for b in other.outline) for a in one.outline)
    )
