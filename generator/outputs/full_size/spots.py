"""What is bored in and marked on a shaped part, as its template shows it.

Everything is in millimetres of the part as it is seen on the face of the template. What is bored
from the other face stands where it is there: paper that is turned over lies on it the same way.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

from generator.geometry.vectors import Vec2
from generator.model.housing_words import housing_face, housing_labels, housing_name
from generator.model.joinery import BoredHole
from generator.model.parts import FaceName, Part
from generator.model.plan import Plan
from generator.model.words import plain_words
from generator.model.work import Work
from generator.outputs.face_paper import find_paper
from generator.outputs.full_size.shapes import Box
from generator.outputs.full_size.tiles import OVERLAP_MM
from generator.outputs.hole_table import HoleRow, find_hole_rows
from generator.outputs.part_view import View, face_number, find_view
from generator.units import System, format_length

ARM_MM: Final = 4.0
"""Half the length of a cross; longer where the hole is wide."""
BEYOND_MM: Final = 1.5
"""How far a cross reaches beyond the rim of a hole."""
KINDS: Final = {
    "pocket": "pocket, ",
    "pin": "shelf pin, ",
    "dowel": "dowel, ",
    "insert": "insert, ",
    "bolt": "bolt, ",
}
"""What stands before the size of a hole that is not just a hole."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """A hole, or where hardware goes.

    Attributes:
        at: Its middle.
        letter: Of its row in the table of the part drawing; "" for hardware.
        words: How it is bored, or the name of the hardware.
        halves: Half the length and width of its opening; 0 for hardware.
        way: Where its bit leans, or goes in an edge, length 1.
        sink_mm: Half the width of its countersink, or 0.
        deep_mm: How far a hole in an edge goes into the wood; 0 for one in a face.
        is_aimed: Whether an arrow shows the way: a pocket.
        is_far: Whether it is bored from the face that is not seen.
    """

    at: Vec2
    letter: str
    words: str
    halves: Vec2 = (0.0, 0.0)
    way: Vec2 = (1.0, 0.0)
    sink_mm: float = 0.0
    deep_mm: float = 0.0
    is_aimed: bool = False
    is_far: bool = False

    @property
    def reach_mm(self) -> float:
        """Half the length of its cross, which is as wide as the bit at least."""
        return max(ARM_MM, *(half + BEYOND_MM for half in (self.halves[1], self.sink_mm)))

    @property
    def box(self) -> Box:
        """What must be whole on one sheet: its cross, as far as sheets overlap."""
        x, y = self.at
        reach = min(self.reach_mm, OVERLAP_MM / 2)
        return (x - reach, y - reach, x + reach, y + reach)


@dataclass(frozen=True, slots=True, kw_only=True)
class Marking:
    """The outline of a channel, or layout lines.

    Attributes:
        corners: As seen.
        words: What it is.
        is_cut: Whether it is a channel.
        is_far: Whether it is in the face that is not seen.
    """

    corners: tuple[Vec2, ...]
    words: str
    is_cut: bool
    is_far: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class FaceWork:
    """What one template shows of the work on a part.

    Attributes:
        work: Of which copies.
        rows: The table of holes of the part drawing.
        spots: Holes row by row, then hardware.
        markings: Channels, then layout lines of the face that is seen.
    """

    work: Work
    rows: tuple[HoleRow, ...]
    spots: tuple[Spot, ...]
    markings: tuple[Marking, ...]


def choose_face(work: Work) -> FaceName:
    """Return the face from which more is bored; face A where that decides nothing."""
    counts = [
        (
            sum(hole.side == face_number(face) for hole in work.holes),
            sum(mark.side == face_number(face) for mark in work.marks),
        )
        for face in ("A", "B")
    ]
    return "B" if counts[1] > counts[0] else "A"


def find_face_work(plan: Plan, part: Part, work: Work, view: View) -> FaceWork:
    """Return what a template shows of the work on some copies of a part."""
    paper = find_paper(part, find_view(part, "A"), work)
    papers = (paper, replace(paper, view=find_view(part, "B")))
    rows = find_hole_rows(plan, papers, work)
    spots = [_bored(hole, row, view) for row in rows for hole in row.holes]
    spots += [
        Spot(
            at=view.point(one.at),
            letter="",
            words=plain_words(one.name),
            is_far=one.side != face_number(view.face),
        )
        for one in work.hardware
    ]
    markings = [*_channels(plan, part, work, view), *_layout_lines(work, view)]
    return FaceWork(work=work, rows=rows, spots=tuple(spots), markings=tuple(markings))


def find_row_spots(face_work: FaceWork, row: HoleRow) -> Sequence[Spot]:
    """Return the holes of one row of the table."""
    before = sum(len(one.holes) for one in face_work.rows[: face_work.rows.index(row)])
    return face_work.spots[before : before + len(row.holes)]


def _bored(hole: BoredHole, row: HoleRow, view: View) -> Spot:
    way = view.direction((hole.direction[0], hole.direction[1]))
    size = math.hypot(*way)
    in_edge = hole.side >= 0
    half = hole.diameter_mm / 2
    _, _, bit = row.bore.partition(": ")
    return Spot(
        at=view.point((hole.at[0], hole.at[1])),
        letter=row.letter,
        words=f"{KINDS.get(hole.kind, '')}{bit}",
        halves=(half, half) if in_edge else (half / abs(hole.direction[2]), half),
        way=(way[0] / size, way[1] / size) if size else (1.0, 0.0),
        sink_mm=hole.countersink_mm / 2,
        deep_mm=(hole.depth_mm or 0.0) if in_edge else 0.0,
        is_aimed=hole.kind == "pocket",
        is_far=not in_edge and hole.side != face_number(view.face),
    )


def _channels(plan: Plan, part: Part, work: Work, view: View) -> Iterator[Marking]:
    labels = plan.parts.labels()
    system: System = plan.edition.system
    for one in part.housings:
        is_far = one.side != face_number(view.face)
        where = f" in the {housing_face(part, one, work.pieces[0])} face" if is_far else ""
        deep = format_length(one.depth_mm, system)
        mates = ", ".join(housing_labels(one, labels))
        yield Marking(
            corners=view.outline(one.outline).points,
            words=f"{housing_name(one)} for {mates}, {deep} deep{where}",
            is_cut=True,
            is_far=is_far,
        )


def _layout_lines(work: Work, view: View) -> Iterator[Marking]:
    for mark in work.marks:
        if mark.side == face_number(view.face):
            yield Marking(
                corners=tuple(view.point(point) for point in mark.outline),
                words=f"{mark.mate} lands here",
                is_cut=False,
                is_far=False,
            )
