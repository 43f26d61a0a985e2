"""The table of holes of a part: what is bored where, equally spaced holes in one row."""

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from generator.model.joinery import BoredHole
from generator.model.parts import FACE_A, FACE_B
from generator.outputs.part_face import FacePaper
from generator.outputs.part_sizes import Axis, distance_mm
from generator.outputs.part_view import edge_word, face_word
from generator.outputs.part_work import Work
from generator.outputs.scene import SMALLEST_TEXT_MM, Item, Stroke, Words
from generator.outputs.text_width import text_width_mm
from generator.units import System, format_angle, format_size

EQUAL_MM: Final = 0.5
"""Spacings that differ less than a pencil line is wide count as equal."""
ROW_MM: Final = 4.8
COLUMN_GAP_MM: Final = 4.0
WIDTH_MM: Final = 158.0
"""Of the whole table."""


@dataclass(frozen=True, slots=True)
class HoleRow:
    """Holes of one kind in line.

    Attributes:
        letter: Names them on the drawing.
        holes: At least one.
        cells: Hole, bit, depth, distance from the end, distance from the edge.
    """

    letter: str
    holes: tuple[BoredHole, ...]
    cells: tuple[str, ...]


def find_hole_rows(
    papers: tuple[FacePaper, FacePaper], work: Work, system: System
) -> tuple[HoleRow, ...]:
    """Return the rows of the table, holes of face A first.

    Args:
        papers: The views of face A and of face B, which say what is measured from where.
        work: The holes, and the piece whose words are used.
        system: How sizes are printed.
    """
    rows: list[HoleRow] = []
    for group in _groups(work.holes):
        paper = papers[1] if group[0].side == FACE_B else papers[0]
        for line in _lines(group):
            letter = chr(ord("a") + len(rows) % 26)
            rows.append(HoleRow(letter, tuple(line), _cells(paper, work, line, system)))
    return tuple(rows)


def draw_hole_table(
    rows: Sequence[HoleRow], heads: tuple[str, str], notes: Sequence[str]
) -> tuple[Item, ...]:
    """Return the table, its top left corner at 0, and the notes below it."""
    items: list[Item] = []
    y = -ROW_MM
    if rows:
        table: list[tuple[str, ...]] = [("", "bore", "bit", "depth", *heads)]
        table += [(row.letter, *row.cells) for row in rows]
        starts = _column_starts(table)
        for number, cells in enumerate(table):
            lines = _wrapped(cells, WIDTH_MM - starts[-1])
            for line in lines:
                items += _row(line, starts, y, bold=number == 0)
                y -= ROW_MM
            if number == 0:
                rule = y + ROW_MM - 1.3
                items.append(Stroke(points=((0.0, rule), (WIDTH_MM, rule)), layer="frame"))
        y -= 1.0
    for note in notes:
        items.append(Words(at=(0.0, y), text=note, size_mm=SMALLEST_TEXT_MM))
        y -= ROW_MM
    return tuple(items)


def format_distances(sizes_mm: Sequence[float], system: System) -> str:
    """Return distances from an edge: ``63``, ``40 and 210``, ``40, then every 85 (3 in all)``."""
    ordered = sorted(sizes_mm)
    texts = [format_size(size, system) for size in ordered]
    steps = [b - a for a, b in itertools.pairwise(ordered)]
    if len(ordered) == 2:
        return f"{texts[0]} and {texts[1]}"
    if len(ordered) > 2 and max(steps) - min(steps) < EQUAL_MM:
        step = (ordered[-1] - ordered[0]) / len(steps)
        return f"{texts[0]}, then every {format_size(step, system)} ({len(ordered)} in all)"
    return ", ".join(texts)


def _column_starts(table: Sequence[tuple[str, ...]]) -> list[float]:
    """Return where each column starts so that the widest text of the one before leaves a gap."""
    starts = [0.0]
    for column in range(len(table[0]) - 1):
        is_bold = column == 0
        widest = max(
            text_width_mm(cells[column], SMALLEST_TEXT_MM, is_bold or number == 0)
            for number, cells in enumerate(table)
        )
        starts.append(starts[-1] + widest + COLUMN_GAP_MM)
    return starts


def _wrapped(cells: tuple[str, ...], room_mm: float) -> list[tuple[str, ...]]:
    """Return the cells, the last one broken at commas into as many lines as it needs."""
    lines = [""]
    for word in cells[-1].split(", "):
        longer = f"{lines[-1]}, {word}" if lines[-1] else word
        if lines[-1] and text_width_mm(longer, SMALLEST_TEXT_MM) > room_mm:
            lines[-1] += ","
            lines.append(word)
        else:
            lines[-1] = longer
    blank = ("",) * (len(cells) - 1)
    return [(*(cells[:-1] if i == 0 else blank), line) for i, line in enumerate(lines)]


def _row(cells: Sequence[str], starts: Sequence[float], y: float, *, bold: bool) -> list[Item]:
    items: list[Item] = []
    for i, (x, cell) in enumerate(zip(starts, cells, strict=True)):
        if cell:
            is_bold = bold or i == 0
            items.append(Words(at=(x, y), text=cell, size_mm=SMALLEST_TEXT_MM, bold=is_bold))
    return items


def _groups(holes: Sequence[BoredHole]) -> list[list[BoredHole]]:
    """Return holes bored alike together: kind, side, bit, depth and way, face A first."""
    groups: dict[tuple[int, str, float, float, float, str], list[BoredHole]] = {}
    for hole in holes:
        depth = -1.0 if hole.depth_mm is None else round(hole.depth_mm, 1)
        way = _aim(hole) if hole.kind == "pocket" else ""
        size = (round(hole.diameter_mm, 2), round(hole.countersink_mm, 2))
        order = {FACE_A: -2, FACE_B: -1}.get(hole.side, hole.side)
        groups.setdefault((order, hole.kind, *size, depth, way), []).append(hole)
    return [groups[key] for key in sorted(groups)]


def _aim(hole: BoredHole) -> str:
    """Return the way a pocket aims: x or y, plus or minus."""
    x, y, _ = hole.direction
    if abs(x) > abs(y):
        return "x+" if x > 0 else "x-"
    return "y+" if y > 0 else "y-"


def _lines(group: list[BoredHole]) -> list[list[BoredHole]]:
    """Return the holes of a group in lines across the part, else along it, else one by one."""
    for axis in (0, 1):
        lines: dict[int, list[BoredHole]] = {}
        for hole in group:
            lines.setdefault(round(hole.at[axis] / EQUAL_MM), []).append(hole)
        found = [lines[key] for key in sorted(lines)]
        if len(found) < len(group):
            return found
    return [[hole] for hole in sorted(group, key=lambda hole: hole.at)]


def _cells(
    paper: FacePaper, work: Work, line: Sequence[BoredHole], system: System
) -> tuple[str, ...]:
    hole = line[0]
    from_end = _distances(paper, work, line, 0, system)
    from_edge = _distances(paper, work, line, 1, system)
    depth = "through" if hole.depth_mm is None else format_size(hole.depth_mm, system)
    return (
        f"{len(line)} × {_what(paper, work, hole, system)}",
        format_size(hole.diameter_mm, system),
        depth,
        from_end,
        from_edge,
    )


def _what(paper: FacePaper, work: Work, hole: BoredHole, system: System) -> str:
    piece = work.pieces[0]
    if hole.side >= 0:
        where = f"in {edge_word(paper.part, piece, hole.side)}"
    else:
        where = f"in {face_word(paper.part, piece, paper.view.face)} face"
    if hole.kind == "pocket":
        return f"pocket {where}"
    if hole.countersink_mm:
        return f"hole {where}, sunk to Ø {format_size(hole.countersink_mm, system)}"
    lean_deg = math.degrees(math.acos(min(1.0, abs(hole.direction[2]))))
    if hole.side >= 0 or lean_deg < 0.1:
        return f"hole {where}"
    return f"hole {where}, {format_angle(lean_deg)} off square"


def _distances(
    paper: FacePaper, work: Work, line: Sequence[BoredHole], axis: Axis, system: System
) -> str:
    """Return distances along an axis, or the end or edge that pockets aim at."""
    hole = line[0]
    if hole.kind == "pocket" and _aim(hole)[0] == "xy"[axis]:
        edges = paper.part.edges
        flat = hole.direction[:2]

        def facing(index: int) -> float:
            normal = edges[index].plane.normal
            return normal[0] * flat[0] + normal[1] * flat[1]

        index = max(range(len(edges)), key=facing)
        return f"aims at {edge_word(paper.part, work.pieces[0], index)} {edges[index].kind}"
    sizes: list[float] = []
    for one in line:
        size = distance_mm(paper, work, (one.at[0], one.at[1]), axis)
        if not any(abs(size - other) < EQUAL_MM for other in sizes):
            sizes.append(size)
    return format_distances(sizes, system)
