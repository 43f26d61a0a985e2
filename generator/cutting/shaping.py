"""What follows the sheets: bevels, angles, channels, rounds and openings, grouped by setting."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from generator.cutting.blanks import find_bevels, find_side, is_bevel
from generator.geometry.tolerance import SAME_PLANE_MM
from generator.model.cutting import Blank, Setting, SettingKind
from generator.model.housing_words import housing_face, housing_name
from generator.model.parts import Edge, Housing, Opening, Part
from generator.model.words import recess_words
from generator.units import System, format_length

KINDS: tuple[SettingKind, ...] = ("bevel", "angle", "channel", "round", "bore", "jigsaw")

SAME_ANGLE_DEG = 0.05
"""No tilt scale is read finer than a tenth of a degree: half of that is one setting."""

STACK_WORDS = "clamp equal pieces together and saw them in one pass"
"""For angles sawn with an upright blade: a tilted one leaves every layer another size. Common
practice, no source."""


@dataclass(frozen=True, slots=True)
class _Work:
    """One cut or hole on every copy of a part."""

    kind: SettingKind
    value_mm: float
    tilt_deg: float
    mitre_deg: float
    label: str
    count: int
    where: str


def find_shaping(
    parts: Sequence[Part], blanks: dict[str, Blank], before: int, system: System
) -> tuple[Setting, ...]:
    """Return the settings after the sheets, numbered on from ``before``.

    Bevels of one tilt stand together, wide before narrow. Where two opposite edges are bevelled,
    the first leaves the finished size and the allowance of the second.
    """
    works: list[_Work] = []
    for part in parts:
        works += _bevels(part, blanks[part.label])
        works += _angles_and_rounds(part, system)
        works += [_channel(part, housing, system) for housing in part.housings]
        works += [_bore(part, opening, system) for opening in part.openings]
        works += [_plain_work("jigsaw", 0.0, 0.0, part, text) for text in _sawn_out(part, system)]
    groups: list[list[_Work]] = []
    for work in sorted(works, key=_rank):
        if groups and _is_same_setting(groups[-1][0], work):
            groups[-1].append(work)
        else:
            groups.append([work])
    return tuple(_make_setting(before + i, group) for i, group in enumerate(groups, start=1))


def _bevels(part: Part, blank: Blank) -> Iterator[_Work]:
    for axis, finished in enumerate((part.length_mm, part.width_mm)):
        edges = find_bevels(part, axis)
        left = {find_side(edge): blank.allowance_mm[find_side(edge)] for edge in edges}
        for edge in edges:
            left.pop(find_side(edge), None)
            yield _Work(
                kind="bevel",
                value_mm=finished + sum(left.values()),
                tilt_deg=edge.tilt_deg,
                mitre_deg=edge.mitre_deg,
                label=part.label,
                count=part.count,
                where=f"{edge.name} {edge.kind}, long point on {_face_word(part, edge)}",
            )


def _face_word(part: Part, edge: Edge) -> str:
    return part.face_words[0 if edge.long_face == "A" else 1]


def _angles_and_rounds(part: Part, system: System) -> Iterator[_Work]:
    for index, edge in enumerate(part.edges):
        if edge.kind == "line" and _is_open(part, index):
            where = f"{edge.name}, from point to point"
            yield _plain_work("angle", 0.0, edge.mitre_deg, part, where)
        if edge.is_recess:
            continue
        if edge.radius_mm > 0:
            radius = format_length(edge.radius_mm, system)
            yield _plain_work(
                "round", edge.radius_mm, 0.0, part, f"{edge.name} corner, radius {radius}"
            )
        elif edge.kind == "corner":
            dx, dy = _legs(part, index)
            legs = f"{format_length(dx, system)} along, {format_length(dy, system)} across"
            yield _plain_work(
                "angle", 0.0, edge.mitre_deg, part, f"{edge.name} corner clipped, {legs}"
            )
        elif edge.mitre_deg > 0 and not is_bevel(edge):
            finished = part.length_mm if edge.kind == "end" else part.width_mm
            yield _plain_work(
                "angle", finished, edge.mitre_deg, part, f"{edge.name} {edge.kind}, long point"
            )


def _legs(part: Part, index: int) -> tuple[float, float]:
    points = part.slab.face_a.points
    start, end = points[index], points[(index + 1) % len(points)]
    return (abs(end[0] - start[0]), abs(end[1] - start[1]))


def _channel(part: Part, housing: Housing, system: System) -> _Work:
    """Return the cut of a channel: the saw or the router is set to its depth once for all.

    Where each one runs stands in a table of its own.
    """
    wide = format_length(housing.width_mm, system)
    where = f"{housing_name(housing)} {wide} wide, {housing_face(part, housing)} face"
    return _plain_work("channel", housing.depth_mm, 0.0, part, where)


def _bore(part: Part, opening: Opening, system: System) -> _Work:
    sizes = " by ".join(format_length(size, system) for size in opening.sizes_mm)
    if opening.name == "cutout":
        return _plain_work("jigsaw", 0.0, 0.0, part, f"cut-out {sizes}")
    return _plain_work("bore", opening.sizes_mm[-1], 0.0, part, f"{opening.name} {sizes}")


def _sawn_out(part: Part, system: System) -> list[str]:
    cuts = [recess_words(recess, system) for recess in part.recesses if recess.kind != "outline"]
    arcs = [
        f"{edge.name}, radius {format_length(edge.radius_mm, system)}"
        for edge in part.edges
        if edge.kind == "arc"
    ]
    inner = [
        f"{edge.name}, straight"
        for index, edge in enumerate(part.edges)
        if edge.kind == "line" and not _is_open(part, index)
    ]
    return [*cuts, *arcs, *inner]


def _is_open(part: Part, index: int) -> bool:
    """Whether a saw can run along a free line from end to end without cutting into the part."""
    start, end, _ = part.slab.face_a.edges()[index]
    along = (end[0] - start[0], end[1] - start[1])
    length = math.hypot(*along)
    across = [
        ((p[0] - start[0]) * along[1] - (p[1] - start[1]) * along[0]) / length
        for p in part.slab.face_a.flattened()
    ]
    return max(across) < SAME_PLANE_MM


def _plain_work(
    kind: SettingKind, value_mm: float, mitre_deg: float, part: Part, where: str
) -> _Work:
    return _Work(kind, value_mm, 0.0, mitre_deg, part.label, part.count, where)


def _rank(work: _Work) -> tuple[int, float, float, float]:
    """Sort by kind, then steep before upright, then wide before narrow."""
    return (
        KINDS.index(work.kind),
        -round(work.tilt_deg, 1),
        -round(work.mitre_deg, 1),
        -round(work.value_mm, 1),
    )


def _is_same_setting(one: _Work, other: _Work) -> bool:
    return (
        one.kind == other.kind
        and math.isclose(one.tilt_deg, other.tilt_deg, abs_tol=SAME_ANGLE_DEG)
        and math.isclose(one.mitre_deg, other.mitre_deg, abs_tol=SAME_ANGLE_DEG)
        and math.isclose(one.value_mm, other.value_mm, abs_tol=SAME_PLANE_MM)
    )


def _make_setting(order: int, group: Sequence[_Work]) -> Setting:
    labels = tuple(dict.fromkeys(work.label for work in group))
    if len(labels) == 1:
        words = list(dict.fromkeys(work.where for work in group))
    else:
        words = list(dict.fromkeys(f"{work.label}: {work.where}" for work in group))
    first = group[0]
    if first.kind == "angle" and any(work.count > 1 for work in group):
        words.append(STACK_WORDS)
    return Setting(
        order=order,
        kind=first.kind,
        value_mm=first.value_mm,
        tilt_deg=first.tilt_deg,
        mitre_deg=first.mitre_deg,
        pieces=labels,
        where="; ".join(words),
        cuts=sum(work.count for work in group),
    )
