"""What is bored in and marked on the copies of a part, and which copies get the same."""

import math
from dataclasses import dataclass, replace

from generator.geometry.tolerance import SAME_AIM, SAME_PLANE_MM
from generator.geometry.vectors import Vec2, distance
from generator.model.assembly import Mark
from generator.model.hardware import Mounted
from generator.model.joinery import BoredHole
from generator.model.parts import FACE_A, FACE_B, Part, Piece
from generator.model.plan import Plan
from generator.model.words import plain_words


@dataclass(frozen=True, slots=True, kw_only=True)
class Work:
    """Copies of a part that are bored and marked alike.

    Attributes:
        pieces: The copies.
        holes: To bore before assembly, in the first of them: pockets and clearance holes.
        pilots: Bored in place, through the part that is screwed on.
        marks: Layout lines on its two faces.
        hardware: What is fitted to the first of them at a place that is told.
        mirror_of: Names of the copies this is the mirror image of, "" where there are none.
    """

    pieces: tuple[Piece, ...]
    holes: tuple[BoredHole, ...]
    pilots: tuple[BoredHole, ...]
    marks: tuple[Mark, ...]
    hardware: tuple[Mounted, ...] = ()
    mirror_of: str = ""

    @property
    def names(self) -> str:
        """The names of the copies, for a drawing."""
        return format_names(tuple(piece.name for piece in self.pieces))

    @property
    def turned(self) -> tuple[str, ...]:
        """Names of the copies that stand otherwise in the whole than the first, which is drawn."""
        return tuple(one.name for one in self.pieces if one.words != self.pieces[0].words)


def find_drawn(plan: Plan) -> dict[str, Piece]:
    """Return for every piece, by name, the copy whose faces and edges its drawing names.

    They are the same copy or one that is bored and marked alike. It may stand otherwise in the
    whole: what is the back face of one wall is the front face of the wall across from it.
    """
    works = (work for part in plan.parts.parts for work in find_work(plan, part))
    return {piece.name: work.pieces[0] for work in works for piece in work.pieces}


def find_work(plan: Plan, part: Part) -> tuple[Work, ...]:
    """Return the work on a part, copies with equal work together, in the order of the copies."""
    found: list[Work] = []
    for piece in part.pieces:
        work = _work_of(plan, piece)
        for i, other in enumerate(found):
            if _is_same(work, other):
                found[i] = replace(other, pieces=(*other.pieces, piece))
                break
        else:
            found.append(_with_mirror(part, work, found))
    return tuple(found)


def format_hands(works: tuple[Work, ...]) -> str:
    """Return how many copies are handed each way: ``1 left, 1 right``; empty where none is.

    Copies whose holes and marks are mirror images of each other are handed, and so are those of
    which another face shows.
    """
    if len(works) == 1:
        return _format_shown(works[0].pieces)
    if len(works) != 2 or not works[1].mirror_of:
        return ""
    counts = tuple(len(work.pieces) for work in works)
    words = tuple({piece.name.rpartition(".")[2] for piece in work.pieces} for work in works)
    if words in (({"left"}, {"right"}), ({"right"}, {"left"})):
        return ", ".join(f"{count} {min(word)}" for count, word in zip(counts, words, strict=True))
    return f"{counts[0]} as drawn, {counts[1]} mirrored"


def _format_shown(pieces: tuple[Piece, ...]) -> str:
    """Return how many copies show the other face; of a piece that names none, either may show."""
    first = pieces[0].show
    others = [piece for piece in pieces if first and piece.show and piece.show != first]
    if not others:
        return ""
    return f"{len(pieces) - len(others)} as drawn, {len(others)} with the other face to show"


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
        hardware=tuple(one for one in plan.fitting.mounted if one.piece == piece.name),
    )


def _with_mirror(part: Part, work: Work, others: list[Work]) -> Work:
    if not any(_is_as_much(work, other) for other in others):
        return work
    turned = Work(
        pieces=work.pieces,
        holes=tuple(_turned_hole(hole, part.thickness_mm) for hole in work.holes),
        pilots=(),
        marks=tuple(_turned_mark(mark) for mark in work.marks),
        hardware=tuple(replace(one, side=_other_face(one.side)) for one in work.hardware),
    )
    images = (turned, *_swapped(part, work)) if _is_plain(part) else (turned,)
    for other in others:
        if any(_is_same(image, other) for image in images):
            return replace(work, mirror_of=other.names)
    return work


def _is_plain(part: Part) -> bool:
    """Whether a part is a square rectangle, which is its own mirror image end for end too."""
    square = all(edge.is_plain and edge.tilt_deg == edge.mitre_deg == 0.0 for edge in part.edges)
    return square and len(part.edges) == 4 and not part.openings


def _swapped(part: Part, work: Work) -> tuple[Work, ...]:
    """Return the work on a rectangle mirrored end for end, and edge for edge."""
    return tuple(
        replace(
            work,
            holes=tuple(_swapped_hole(part, hole, axis) for hole in work.holes),
            marks=tuple(_swapped_mark(part, mark, axis) for mark in work.marks),
            hardware=tuple(
                replace(one, at=_swapped_point(part, one.at, axis)) for one in work.hardware
            ),
        )
        for axis in (0, 1)
    )


def _swapped_hole(part: Part, hole: BoredHole, axis: int) -> BoredHole:
    x, y, z = hole.at
    a, b, c = hole.direction
    at, direction = (
        ((part.length_mm - x, y, z), (-a, b, c))
        if axis == 0
        else ((x, part.width_mm - y, z), (a, -b, c))
    )
    side = _opposite_edge(part, hole.side, axis)
    return replace(hole, side=side, at=at, direction=direction)


def _swapped_mark(part: Part, mark: Mark, axis: int) -> Mark:
    size = (part.length_mm, part.width_mm)[axis]
    outline = tuple((size - x, y) if axis == 0 else (x, size - y) for x, y in mark.outline)
    return replace(mark, outline=outline)


def _swapped_point(part: Part, point: Vec2, axis: int) -> Vec2:
    x, y = point
    return (part.length_mm - x, y) if axis == 0 else (x, part.width_mm - y)


def _opposite_edge(part: Part, side: int, axis: int) -> int:
    """Return the edge a swapped hole enters; faces and the other two edges stay what they are."""
    if side < 0 or abs(part.edges[side].plane.normal[axis]) < 0.5:
        return side
    return (side + 2) % 4


def _turned_hole(hole: BoredHole, thickness_mm: float) -> BoredHole:
    """Return the hole as it is seen in a mirror laid on a face.

    The height of one in a face is left aside, see `_is_same_hole`.
    """
    x, y, z = hole.direction
    at = hole.at
    if hole.side not in {FACE_A, FACE_B}:
        at = (at[0], at[1], thickness_mm - at[2])
    return BoredHole(
        piece=hole.piece,
        fastener=hole.fastener,
        kind=hole.kind,
        side=_other_face(hole.side),
        at=at,
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
        _is_as_much(one, other)
        and all(any(_is_same_place(a, b) for b in other.hardware) for a in one.hardware)
        and all(any(_is_same_hole(a, b) for b in other.holes) for a in one.holes)
        and all(any(_is_same_mark(a, b) for b in other.marks) for a in one.marks)
    )


def _is_as_much(one: Work, other: Work) -> bool:
    """Whether two pieces get as many holes, marks and pieces of hardware."""
    return (
        len(one.holes) == len(other.holes)
        and len(one.marks) == len(other.marks)
        and len(one.hardware) == len(other.hardware)
    )


def _is_same_hole(one: BoredHole, other: BoredHole) -> bool:
    """Whether two holes enter the same side at one place, the same way."""
    return (
        one.side == other.side
        and math.hypot(one.at[0] - other.at[0], one.at[1] - other.at[1]) < SAME_PLANE_MM
        and (one.side in {FACE_A, FACE_B} or abs(one.at[2] - other.at[2]) < SAME_PLANE_MM)
        and one.kind == other.kind
        and one.diameter_mm == other.diameter_mm
        and one.countersink_mm == other.countersink_mm
        and distance(one.direction, other.direction) < SAME_AIM
        and _is_same_depth(one.depth_mm, other.depth_mm)
    )


def _is_same_place(one: Mounted, other: Mounted) -> bool:
    return (one.name, one.side) == (other.name, other.side) and (
        math.dist(one.at, other.at) < SAME_PLANE_MM
    )


def _is_same_depth(one: float | None, other: float | None) -> bool:
    if one is None or other is None:
        return one is other
    return abs(one - other) < SAME_PLANE_MM


def _is_same_mark(one: Mark, other: Mark) -> bool:
    return (
        (one.side, one.mate) == (other.side, other.mate)
        and len(one.outline) == len(other.outline)
        and all(any(math.dist(a, b) < SAME_PLANE_MM for b in other.outline) for a in one.outline)
    )
