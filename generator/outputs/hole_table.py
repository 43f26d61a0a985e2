"""The table of holes of a part: what is bored where, equally spaced holes in one row."""

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from shapely.geometry import LineString, Point

from generator.model.joinery import BoredHole
from generator.model.parts import FACE_A, FACE_B, Part
from generator.model.plan import Plan
from generator.model.work import Work
from generator.outputs.edge_holes import across_axis, edge_height, from_long_point_mm
from generator.outputs.face_paper import FacePaper
from generator.outputs.part_sizes import Axis, distance_mm, find_datum
from generator.outputs.part_view import edge_word, face_word
from generator.outputs.scene import SMALLEST_TEXT_MM, Item, Stroke, Words
from generator.outputs.text_width import text_width_mm
from generator.units import (
    System,
    format_angle,
    format_fraction,
    format_length,
    format_size,
    inches,
)

AXES: Final[tuple[Axis, Axis]] = (0, 1)
EQUAL_MM: Final = 0.5
SAME_WAY: Final = 1e-3
"""Edges whose normals differ less than this along a hole face the same way."""
"""Spacings that differ less than a pencil line is wide count as equal."""
LEAST_RUN: Final = 4
"""Fewer sizes with one step are as quickly read one by one."""
ROW_MM: Final = 4.8
COLUMN_GAP_MM: Final = 5.0
WIDTH_MM: Final = 158.0
"""Of the whole table."""
CELL_MM: Final = 52.0
"""Widest text in one line of a cell."""
HOLE_WORDS: Final = {"dowel": "Dowel holes", "insert": "Insert holes", "bolt": "Bolt holes"}
"""What holes are called that are not just holes."""


@dataclass(frozen=True, slots=True)
class HoleRow:
    """Holes of one kind in line, or in lines that are alike; or one point of a free outline.

    Attributes:
        letter: Names them on the drawing; the number of a point.
        holes: At least one; none for a point.
        tagged: The same line by line; one of each line carries the letter on the drawing.
        bore: How they are bored, for the heading they stand under.
        cells: What they are for, distance from the end, distance from the edge.
    """

    letter: str
    holes: tuple[BoredHole, ...]
    tagged: tuple[tuple[BoredHole, ...], ...]
    bore: str
    cells: tuple[str, str, str]


def find_hole_rows(
    plan: Plan, papers: tuple[FacePaper, FacePaper], work: Work
) -> tuple[HoleRow, ...]:
    """Return the rows of the table, holes of face A first.

    Args:
        plan: Says which part a screw goes into.
        papers: The views of face A and of face B, which say what is measured from where.
        work: The holes, and the piece whose words are used.
    """
    rows: list[HoleRow] = []
    for group in _groups(plan, work.holes):
        paper = papers[1] if group[0].side == FACE_B else papers[0]
        bore = _bore(plan, paper, work, group[0])
        for lines in _lines(group):
            letter = chr(ord("a") + len(rows) % 26)
            holes = tuple(hole for line in lines for hole in line)
            into = _into(plan, holes[0])
            what = f"{len(holes)} × {_mate_words(plan, holes[0], into)}"
            if holes[0].kind == "pin" and len(lines) > 1:
                what = f"{len(lines)} rows of {len(lines[0])}"
            ends = [_distances(plan, paper, work, holes, axis) for axis in AXES]
            tagged = tuple(tuple(line) for line in lines)
            rows.append(HoleRow(letter, holes, tagged, bore, (what, ends[0], ends[1])))
    return tuple(rows)


def draw_hole_table(
    rows: Sequence[HoleRow], heads: tuple[str, str], notes: Sequence[str]
) -> tuple[Item, ...]:
    """Return the table, its top left corner at 0, and the notes below it."""
    items: list[Item] = []
    y = -ROW_MM
    starts = _column_starts([("", "bore", *heads), *((row.letter, *row.cells) for row in rows)])
    bore = ""
    for row in rows:
        if row.bore != bore:
            bore = row.bore
            items.append(_text(0.0, y, bore, bold=True))
            rule = y - 1.3
            items.append(Stroke(points=((0.0, rule), (WIDTH_MM, rule)), layer="frame"))
            y -= ROW_MM + 0.6
            for x, head in zip(starts[2:], heads, strict=True):
                items.append(_text(x, y, head, bold=False))
            y -= ROW_MM
        lines = [_wrapped(cell) for cell in (row.letter, *row.cells)]
        for column, texts in enumerate(lines):
            for i, text in enumerate(texts):
                if text:
                    items.append(_text(starts[column], y - i * ROW_MM, text, bold=column == 0))
        y -= ROW_MM * max(len(texts) for texts in lines)
    y -= 1.0 if rows else 0.0
    for line in (line for note in notes for line in _wrapped(note, WIDTH_MM)):
        items.append(_text(0.0, y, line, bold=False))
        y -= ROW_MM
    return tuple(items)


def format_distances(sizes_mm: Sequence[float], system: System) -> str:
    """Return distances from an edge: ``63``, ``40 and 210``, ``40, then every 85``.

    Several rows with a step of their own are told one after the other: ``40 to 720 every 85``.
    """
    ordered = sorted(sizes_mm)
    texts = [format_size(size, system) for size in ordered]
    steps = [b - a for a, b in itertools.pairwise(ordered)]
    if len(ordered) == 2:
        return f"{texts[0]} and {texts[1]}"
    if len(ordered) > 2 and max(steps) - min(steps) < EQUAL_MM:
        step = (ordered[-1] - ordered[0]) / len(steps)
        return f"{texts[0]}, then every {format_size(step, system)}"
    return ", ".join(_tell_run(run, system) for run in _find_runs(ordered))


def _find_runs(ordered: Sequence[float]) -> list[list[float]]:
    """Return sizes in runs with one step each; fewer than `LEAST_RUN` together stand alone."""
    runs: list[list[float]] = []
    for size in ordered:
        last = runs[-1] if runs else []
        step = last[1] - last[0] if len(last) > 1 else size - last[-1] if last else 0.0
        if last and abs(size - last[-1] - step) < EQUAL_MM:
            last.append(size)
        else:
            runs.append([size])
    return [
        part for run in runs for part in ([run] if len(run) >= LEAST_RUN else [[s] for s in run])
    ]


def _tell_run(run: Sequence[float], system: System) -> str:
    first = format_size(run[0], system)
    if len(run) == 1:
        return first
    step = format_size((run[-1] - run[0]) / (len(run) - 1), system)
    return f"{first} to {format_size(run[-1], system)} every {step}"


def format_bit(diameter_mm: float, system: System) -> str:
    """Return the size of a drill bit; in inches they come in sixty-fourths (common practice)."""
    if system == "metric":
        return format_length(diameter_mm, system)
    return f"{format_fraction(Fraction(round(inches(diameter_mm) * 64), 64))} in"


def _column_starts(table: Sequence[tuple[str, ...]]) -> list[float]:
    """Return where each column starts so that the widest text of the one before leaves a gap."""
    starts = [0.0]
    for column in range(len(table[0]) - 1):
        widths = [
            text_width_mm(text, SMALLEST_TEXT_MM, column == 0)
            for cells in table
            for text in _wrapped(cells[column])
        ]
        starts.append(starts[-1] + max(widths) + COLUMN_GAP_MM)
    return starts


def _wrapped(cell: str, most_mm: float = CELL_MM) -> list[str]:
    """Return the text broken at commas into as many lines as it needs."""
    lines = [""]
    for word in cell.split(", "):
        longer = f"{lines[-1]}, {word}" if lines[-1] else word
        if lines[-1] and text_width_mm(longer, SMALLEST_TEXT_MM) > most_mm:
            lines[-1] += ","
            lines.append(word)
        else:
            lines[-1] = longer
    return lines


def _text(x: float, y: float, text: str, *, bold: bool) -> Words:
    return Words(at=(x, y), text=text, size_mm=SMALLEST_TEXT_MM, bold=bold)


def _groups(plan: Plan, holes: Sequence[BoredHole]) -> list[list[BoredHole]]:
    """Return holes bored alike for the same mate together, face A first."""
    groups: dict[tuple[int, str, float, float, float, str, str], list[BoredHole]] = {}
    for hole in holes:
        depth = -1.0 if hole.depth_mm is None else round(hole.depth_mm, 1)
        way = _aim(hole) if hole.kind == "pocket" else ""
        way = f"{hole.at[2]:.1f}" if hole.side >= 0 else way
        order = {FACE_A: -2, FACE_B: -1}.get(hole.side, hole.side)
        bit, sink = round(hole.diameter_mm, 2), round(hole.countersink_mm, 2)
        key = (order, hole.kind, bit, sink, depth, way, _into(plan, hole))
        groups.setdefault(key, []).append(hole)
    return [groups[key] for key in sorted(groups)]


def _mate_words(plan: Plan, hole: BoredHole, mate: str) -> str:
    """Return what a hole is for: ``into B Side``, ``dowel to B Side``, ``bolt from B Side``."""
    if not mate:
        return ""
    word = {"dowel": "dowel to", "insert": "bolt from", "bolt": "bolt from"}.get(hole.kind, "into")
    return f"{word} {mate} {plan.parts.part(mate).title}"


def _into(plan: Plan, hole: BoredHole) -> str:
    """Return the label of the part that the hole's screw goes into after this piece, if any."""
    if not hole.fastener:
        return ""
    through = plan.joinery.fastener(hole.fastener).through
    if hole.kind in {"dowel", "insert", "bolt"} and hole.piece == through[-1]:
        through = through[::-1]
    after = through[through.index(hole.piece) + 1 :] if hole.piece in through else ()
    labels = plan.parts.labels()
    return labels[after[0]] if after else ""


def _aim(hole: BoredHole) -> str:
    """Return the way a pocket aims: x or y, plus or minus."""
    x, y, _ = hole.direction
    if abs(x) > abs(y):
        return "x+" if x > 0 else "x-"
    return "y+" if y > 0 else "y-"


def _lines(group: list[BoredHole]) -> list[list[list[BoredHole]]]:
    """Return the holes of a group in lines, alike ones together: the way that takes fewest rows.

    Those in an edge lie in one line along it.
    """
    if group[0].side >= 0:
        return [[group]]
    ways = [_alike(group, axis) for axis in AXES]
    return min(ways, key=lambda rows: (len(rows), sum(len(row) for row in rows)))


def _alike(group: list[BoredHole], axis: Axis) -> list[list[list[BoredHole]]]:
    """Return lines at one x (axis 0) or one y (axis 1), lines with equal places together."""
    lines: dict[int, list[BoredHole]] = {}
    for hole in sorted(group, key=lambda hole: (hole.at[axis], hole.at[1 - axis])):
        near = [key for key in lines if abs(lines[key][0].at[axis] - hole.at[axis]) < EQUAL_MM]
        lines.setdefault(near[0] if near else len(lines), []).append(hole)
    rows: list[list[list[BoredHole]]] = []
    for line in lines.values():
        for row in rows:
            if _is_alike(row[0], line, 1 - axis):
                row.append(line)
                break
        else:
            rows.append([line])
    return rows


def _is_alike(one: list[BoredHole], other: list[BoredHole], axis: int) -> bool:
    a, b = (sorted(hole.at[axis] for hole in line) for line in (one, other))
    return len(a) == len(b) and all(abs(p - q) < EQUAL_MM for p, q in zip(a, b, strict=True))


def _bore(plan: Plan, paper: FacePaper, work: Work, hole: BoredHole) -> str:
    """Return how a hole is bored: side, bit, depth, countersink."""
    system = plan.edition.system
    piece = work.pieces[0]
    if hole.side >= 0:
        where = (
            f"in the {edge_word(paper.part, piece, hole.side)} {paper.part.edges[hole.side].kind}"
        )
    else:
        where = f"in the {face_word(paper.part, piece, paper.view.face)} face"
    bit = f"{format_bit(hole.diameter_mm, system)} bit"
    deep_mm = hole.depth_mm
    depth = "through" if deep_mm is None else f"{format_length(deep_mm, system)} deep"
    if hole.kind == "pocket":
        return f"Pockets {where}: {bit}, {depth} along the bit"
    if hole.kind == "pin":
        return f"Holes for shelf pins {where}: {bit}, {depth}"
    what = HOLE_WORDS.get(hole.kind, "Holes")
    if hole.side >= 0:
        bevel = ", square to the bevel" if paper.part.edges[hole.side].tilt_deg else ""
        return f"{what} {where}: {bit}, {depth}{bevel}"
    sink = f", sunk to Ø {format_bit(hole.countersink_mm, system)}"
    lean_deg = math.degrees(math.acos(min(1.0, abs(hole.direction[2]))))
    lean = f", {format_angle(lean_deg)} off square" if hole.side < 0 and lean_deg > 0.1 else ""
    return f"{what} {where}: {bit}, {depth}{sink if hole.countersink_mm else ''}{lean}"


def _distances(
    plan: Plan, paper: FacePaper, work: Work, holes: Sequence[BoredHole], axis: Axis
) -> str:
    """Return distances along an axis, or the end or edge that pockets aim at."""
    hole = holes[0]
    if hole.kind == "pocket" and _aim(hole)[0] == "xy"[axis]:
        index = _aimed_at(paper.part, hole)
        kind = paper.part.edges[index].kind
        return f"aim at {edge_word(paper.part, work.pieces[0], index)} {kind}"
    if hole.side >= 0:
        if axis == across_axis(paper.part, hole):
            return edge_height(paper, work, hole, plan.edition.system)
        if paper.part.edges[hole.side].mitre_deg:
            along = [from_long_point_mm(paper.part, one) for one in holes]
            return f"{format_distances(along, plan.edition.system)} from the long point"
    sizes: list[float] = []
    datum = find_datum(paper, work, axis)
    for one in holes:
        size = distance_mm(paper, datum, (one.at[0], one.at[1]))
        if not any(abs(size - other) < EQUAL_MM for other in sizes):
            sizes.append(size)
    return format_distances(sizes, plan.edition.system)


def _aimed_at(part: Part, hole: BoredHole) -> int:
    """Return the edge a hole goes to: the nearest of those that face the way it goes."""

    def facing(index: int) -> float:
        normal = part.edges[index].plane.normal
        return normal[0] * hole.direction[0] + normal[1] * hole.direction[1]

    def away(index: int) -> float:
        start, end, _ = part.slab.face_a.edges()[index]
        return float(LineString([start, end]).distance(Point(hole.at[:2])))

    edges = range(len(part.edges))
    best = max(facing(index) for index in edges)
    return min((index for index in edges if facing(index) > best - SAME_WAY), key=away)
