"""Notches and arches: runs of sides that take the place of a corner or of a stretch of an edge.

A recess is cut square through the piece, so its walls stand in the same place on both faces:

      edge, first part      edge, second part         both parts of the edge keep its name, its
    ------------+              +-------------         plane and what it meets; the walls between
                |    recess    |                      them begin at points of their own
                +--------------+
"""

import itertools
import math
from dataclasses import dataclass, replace

from shapely.geometry import LineString, Point, Polygon

from generator.geometry.frames import Plane
from generator.geometry.outlines import Outline, arc_points
from generator.geometry.tolerance import SAME_POINT_MM
from generator.geometry.vectors import Vec2
from generator.model.edition import CornerRule, PieceSpec, RecessKind, RecessRule
from generator.model.parts import Recess
from generator.parts.sides import Side, corner_at, find_corner, outline_at
from generator.problems import ProblemLog
from generator.units import System, format_both

Worked = tuple[tuple[Side, ...], tuple[Recess, ...]]
Run = tuple[tuple[Side, ...], Recess]


@dataclass(frozen=True, slots=True)
class _Stretch:
    """A stretch of the line of an edge; ``along`` is the way around the piece."""

    normal: Vec2
    offset: float
    low: float
    high: float

    @property
    def along(self) -> Vec2:
        return (-self.normal[1], self.normal[0])

    def point(self, at: float, depth: float = 0.0) -> Vec2:
        """Return the point at a place on the line, some depth inside the wood."""
        n, d, out = self.normal, self.along, self.offset - depth
        return (n[0] * out + d[0] * at, n[1] * out + d[1] * at)


def cut_recesses(
    spec: PieceSpec, sides: tuple[Side, ...], thickness: float, system: System, log: ProblemLog
) -> Worked | None:
    """Return the sides with all notches and arches cut, or None where P103 or P106 was said."""
    recesses: list[Recess] = []
    rules: list[CornerRule | RecessRule] = [rule for rule in spec.corners if rule.is_notch]
    for rule in (*rules, *spec.recesses):
        if isinstance(rule, CornerRule):
            worked = _notch_corner(spec, sides, rule, len(recesses), thickness, log)
        else:
            worked = _cut_edge(spec, sides, rule, len(recesses), thickness, system, log)
        if worked is None:
            return None
        sides, recess = worked
        recesses.append(recess)
    return sides, tuple(recesses)


def settle_recesses(
    recesses: tuple[Recess, ...], sides: tuple[Side, ...], dx: float, dy: float, *, mirrored: bool
) -> tuple[Recess, ...]:
    """Return the recesses mirrored under x → -x where asked, moved, with their walls numbered."""
    settled = []
    for number, recess in enumerate(recesses):
        outline = recess.outline.mirrored_x() if mirrored else recess.outline
        walls = tuple(i for i, side in enumerate(sides) if side.recess == number)
        settled.append(replace(recess, outline=outline.moved(dx, dy), edges=walls))
    return tuple(settled)


def _notch_corner(
    spec: PieceSpec,
    sides: tuple[Side, ...],
    rule: CornerRule,
    number: int,
    thickness: float,
    log: ProblemLog,
) -> Run | None:
    index = find_corner(sides, rule.edges)
    if index is None:
        _report_corner(spec, rule, "these two edges do not meet in a corner", log)
        return None
    before, after = sides[index - 1], sides[index]
    if not (before.is_square and after.is_square):
        _report_corner(spec, rule, "only a corner between two square edges can be notched", log)
        return None
    corner = corner_at(before.plane, after.plane, 0.0)
    assert corner is not None
    assert rule.clip_mm is not None
    legs = rule.clip_mm if before.name == rule.edges[0] else (rule.clip_mm[1], rule.clip_mm[0])
    back = (before.plane.normal[1], -before.plane.normal[0])
    forward = (-after.plane.normal[1], after.plane.normal[0])
    start, end = _plus(corner, back, legs[0]), _plus(corner, forward, legs[1])
    inner = _plus(start, forward, legs[1])
    name = " ".join(rule.edges)
    outline = Outline((start, corner, end, inner))
    recess = Recess(kind="notch", name=name, sizes_mm=rule.clip_mm, edges=(), outline=outline)
    why = _find_fault(sides, (index + 1, index - 1), recess, thickness)
    if why is not None:
        _report_corner(spec, rule, why, log)
        return None
    walls = _walls((start, inner, end), name, number)
    rest = (replace(after, start=end), *sides[index + 1 :])
    if index == 0:
        return (*rest, *walls), recess
    return (*sides[:index], *walls, *rest), recess


def _report_corner(spec: PieceSpec, rule: CornerRule, why: str, log: ProblemLog) -> None:
    log.add("P103", rule.place, corner=" ".join(rule.edges), piece=spec.name, why=why)


def _cut_edge(
    spec: PieceSpec,
    sides: tuple[Side, ...],
    rule: RecessRule,
    number: int,
    thickness: float,
    system: System,
    log: ProblemLog,
) -> Run | None:
    cut = _place_on_edge(sides, rule, thickness)
    if isinstance(cut, str):
        _report(spec, rule, cut, log)
        return None
    if rule.kind == "arch" and rule.sizes_mm[1] > rule.sizes_mm[0] / 2 + SAME_POINT_MM:
        rise, half = (format_both(mm, system) for mm in (rule.sizes_mm[1], rule.sizes_mm[0] / 2))
        why = f"it rises {rise}, more than half its span ({half})"
        _report(spec, rule, why, log, "a half circle rises half its span; a flat arch far less")
        return None
    found = _find_segment(sides, rule, cut, thickness, system)
    if isinstance(found, str):
        _report(spec, rule, found, log)
        return None
    outline = _void(rule, cut)
    recess = Recess(
        kind=rule.kind, name=rule.edge, sizes_mm=rule.sizes_mm, edges=(), outline=outline
    )
    why_not = _find_fault(sides, (found + 1, found), recess, thickness)
    if why_not is not None:
        _report(spec, rule, why_not, log)
        return None
    walls = _edge_walls(rule, cut, sides[found].plane, number)
    second = replace(sides[found], start=cut.point(cut.high))
    return (*sides[: found + 1], *walls, second, *sides[found + 1 :]), recess


def _report(
    spec: PieceSpec, rule: RecessRule, why: str, log: ProblemLog, hint: str | None = None
) -> None:
    log.add("P106", rule.place, what=rule.kind, edge=rule.edge, piece=spec.name, why=why, hint=hint)


def _place_on_edge(sides: tuple[Side, ...], rule: RecessRule, thickness: float) -> _Stretch | str:
    """Return the stretch of the edge that is cut away, or what forbids it."""
    plain = [side for side in sides if side.kind in {"end", "edge"}]
    side = next(side for side in plain if side.name == rule.edge)
    if not side.is_square:
        return "only an edge that is square to the faces can be cut into"
    normal = (side.plane.normal[0], side.plane.normal[1])
    length = rule.sizes_mm[0]
    line = _Stretch(normal, side.plane.offset, 0.0, length)
    others = [other for other in plain if other.kind != side.kind]
    ends = {other.name: _long_point(line, side, other, thickness) for other in others}
    if rule.start is None:
        low = (min(ends.values()) + max(ends.values()) - length) / 2
    else:
        name, distance = rule.start
        is_first = ends[name] == min(ends.values())
        low = ends[name] + distance if is_first else ends[name] - distance - length
    return replace(line, low=low, high=low + length)


def _long_point(line: _Stretch, side: Side, other: Side, thickness: float) -> float:
    """Return where on the line of an edge another edge ends it, on the face with more wood."""
    corners = [corner_at(side.plane, other.plane, z) for z in (0.0, thickness)]
    places = [p[0] * line.along[0] + p[1] * line.along[1] for p in corners if p is not None]
    is_ahead = _dot(line.along, other.plane) > 0
    return max(places) if is_ahead else min(places)


def _dot(way: Vec2, plane: Plane) -> float:
    return way[0] * plane.normal[0] + way[1] * plane.normal[1]


def _find_segment(
    sides: tuple[Side, ...], rule: RecessRule, cut: _Stretch, thickness: float, system: System
) -> int | str:
    """Return the part of the edge that the cut lies in, or what forbids it."""
    outlines = [outline_at(sides, z) for z in (0.0, thickness)]
    spans: list[tuple[float, float]] = []
    for i, side in enumerate(sides):
        if side.name != rule.edge or side.kind not in {"end", "edge"}:
            continue
        starts, ends = [], []
        for outline in outlines:
            assert outline is not None
            start, end, _ = outline.edges()[i]
            starts.append(start[0] * cut.along[0] + start[1] * cut.along[1])
            ends.append(end[0] * cut.along[0] + end[1] * cut.along[1])
        spans.append((max(starts), min(ends)))
        if cut.low > spans[-1][0] + SAME_POINT_MM and cut.high < spans[-1][1] - SAME_POINT_MM:
            return i
    past = max(min(low for low, _ in spans) - cut.low, cut.high - max(high for _, high in spans))
    if past > SAME_POINT_MM:
        return f"it reaches {format_both(past, system)} past the end of the edge"
    if past > -SAME_POINT_MM:
        return "it leaves nothing of the edge at one end; notch the corner instead"
    return "it runs into another cut"


def _void(rule: RecessRule, cut: _Stretch) -> Outline:
    start, end = cut.point(cut.low), cut.point(cut.high)
    if rule.kind == "arch":
        return Outline((start, end), (0.0, _bulge(rule)))
    depth = rule.sizes_mm[1]
    return Outline((start, end, cut.point(cut.high, depth), cut.point(cut.low, depth)))


def _bulge(rule: RecessRule) -> float:
    """Return tan(angle / 4) of an arch: twice its rise over its span."""
    return 2 * rule.sizes_mm[1] / rule.sizes_mm[0]


def _edge_walls(rule: RecessRule, cut: _Stretch, plane: Plane, number: int) -> tuple[Side, ...]:
    if rule.kind == "notch":
        depth = rule.sizes_mm[1]
        corners = (cut.point(cut.low), cut.point(cut.low, depth), cut.point(cut.high, depth))
        return _walls((*corners, cut.point(cut.high)), rule.edge, number)
    span, rise = rule.sizes_mm
    arch = Side(
        name=rule.edge,
        kind="arch",
        plane=plane,
        radius_mm=(span * span / 4 + rise * rise) / (2 * rise),
        bulge=-_bulge(rule),
        start=cut.point(cut.low),
        recess=number,
    )
    return (arch,)


def _walls(points: tuple[Vec2, ...], name: str, number: int) -> tuple[Side, ...]:
    """Return the straight walls of a notch from point to point; wood lies on their left."""
    kind: RecessKind = "notch"
    walls = []
    for start, end in itertools.pairwise(points):
        length = math.dist(start, end)
        normal = ((end[1] - start[1]) / length, (start[0] - end[0]) / length, 0.0)
        plane = Plane(normal, normal[0] * start[0] + normal[1] * start[1])
        walls.append(Side(name=name, kind=kind, plane=plane, start=start, recess=number))
    return tuple(walls)


def _find_fault(
    sides: tuple[Side, ...], ends: tuple[int, int], recess: Recess, thickness: float
) -> str | None:
    """Return what is wrong where a recess meets the outline from one point round to another."""
    void = recess.outline.polygon()
    for z in (0.0, thickness):
        outline = outline_at(sides, z)
        assert outline is not None
        meets = _first_met(outline, ends, void)
        if meets is not None:
            is_cut = sides[meets].kind in {"notch", "arch"}
            return "it runs into another cut" if is_cut else f"it meets the {_said(sides[meets])}"
    return None


def _first_met(outline: Outline, ends: tuple[int, int], void: Polygon) -> int | None:
    count = len(outline.points)
    edges = outline.edges()
    first, last = ends[0] % count, ends[1] % count
    for i in range((last - first) % count):
        index = (first + i) % count
        start, end, bulge = edges[index]
        line = LineString([start, *arc_points(start, end, bulge), end])
        if void.distance(line) < SAME_POINT_MM or void.contains(Point(start)):
            return index
    return None


def _said(side: Side) -> str:
    return f"{side.name} {side.kind}"


def _plus(point: Vec2, way: Vec2, distance: float) -> Vec2:
    return (point[0] + way[0] * distance, point[1] + way[1] * distance)
