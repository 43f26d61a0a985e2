"""Sections through bevelled edges: how the blade tilts and on which face the long point is.

          top
     __________/ /____
    /         / /     |     front edge: blade 12° from square,
   /_________/ /______|     long point on the bottom
         bottom

The board lies with its upper face up; the break says that its width is not to scale.
"""

import math
from dataclasses import dataclass
from typing import Final

from generator.geometry.vectors import Vec2
from generator.model.parts import Edge, FaceName, Part
from generator.model.work import Work
from generator.outputs.dimensions import draw_angle, draw_dimension
from generator.outputs.panels import bounds_of
from generator.outputs.part_view import View, edge_word, face_word
from generator.outputs.scene import SMALLEST_TEXT_MM, TEXT_MM, Anchor, Area, Item, Stroke, Words
from generator.units import System, format_angle, format_length

STRIP_MM: Final = 66.0
"""Width of the drawing of one section."""
GAP_MM: Final = 3.0
"""Width of the break in the middle."""
FACE_NAME_MM: Final = 0.3 * STRIP_MM
"""Middle of the names of the faces, clear of the break and of the angles at both ends."""
UP_WORDS: Final = ("top", "up")


@dataclass(frozen=True, slots=True)
class Section:
    """A cut across the board between two opposite edges, or at a corner alone.

    Attributes:
        left: Index of the edge drawn at the left; None where only the right one is cut.
        right: Index of the edge drawn at the right.
        size_mm: Finished size from the one to the other, 0 for a corner.
    """

    left: int | None
    right: int | None
    size_mm: float


def find_sections(part: Part, view: View) -> tuple[Section, ...]:
    """Return the sections a builder needs: of every pair of edges of which one is bevelled."""
    found = []
    for kind, axis, size in (("edge", 1, part.width_mm), ("end", 0, part.length_mm)):
        low: int | None = None
        high: int | None = None
        for index, edge in enumerate(part.edges):
            if edge.kind == kind:
                normal = edge.plane.normal
                ahead = view.direction((normal[0], normal[1]))[axis] > 0
                low, high = (low, index) if ahead else (index, high)
        if any(i is not None and part.edges[i].tilt_deg for i in (low, high)):
            found.append(Section(low, high, size))
    corners = [i for i, edge in enumerate(part.edges) if edge.kind == "corner" and edge.tilt_deg]
    return (*found, *(Section(index, None, 0.0) for index in corners))


def draw_section(
    part: Part, work: Work, section: Section, system: System, name: str
) -> tuple[Item, ...]:
    """Return one section with its angles, its size and what they mean in words.

    Args:
        part: What is cut through.
        work: Its first piece says what faces and edges are called.
        section: Which edges.
        system: How the size is printed.
        name: Of the shape, such as ``parallelogram``, for the heading; "" for none.
    """
    upper = upper_face(part, work)
    scale = 1.0 if part.thickness_mm <= 40 else 0.5
    thick = part.thickness_mm * scale
    items: list[Item] = []
    half = (STRIP_MM - GAP_MM) / 2
    for index, sign, outer in ((section.left, 1, 0.0), (section.right, -1, STRIP_MM)):
        edge = None if index is None else part.edges[index]
        profile = _profile(edge, upper, thick)
        items += _half_board(profile, outer, sign, half, thick)
        if edge is not None and edge.tilt_deg:
            items += _angle(profile, outer, sign, edge.tilt_deg, thick)
    if section.size_mm:
        items += _size(part, section, upper, thick, system)
    items += _faces(part, work, upper, thick)
    items += _ends(part, work, section, thick)
    top = bounds_of(items)[3] + 3.4
    heading = _heading(part, work, section) + (f": {name}" if name else "")
    return (
        Words(at=(0.0, top), text=heading, size_mm=TEXT_MM, bold=True),
        *items,
        *_captions(part, work, section),
    )


def _heading(part: Part, work: Work, section: Section) -> str:
    words = [
        edge_word(part, work.pieces[0], index)
        for index in (section.left, section.right)
        if index is not None
    ]
    return f"Section {' to '.join(words)}" if len(words) == 2 else f"Section at {words[0]}"


def upper_face(part: Part, work: Work) -> FaceName:
    """Return the face drawn at the top: the one called top, else face A."""
    return "B" if face_word(part, work.pieces[0], "B") in UP_WORDS else "A"


def _profile(edge: Edge | None, upper: FaceName, thick: float) -> tuple[float, float]:
    """Return how far the edge stands back at the bottom and at the top, in mm on paper."""
    if edge is None or not edge.tilt_deg:
        return (0.0, 0.0)
    back = thick * math.tan(math.radians(edge.tilt_deg))
    return (back, 0.0) if edge.long_face == upper else (0.0, back)


def _half_board(
    profile: tuple[float, float], outer: float, sign: int, half: float, thick: float
) -> list[Item]:
    low, high = (outer + sign * back for back in profile)
    inner = outer + sign * half
    slant = 2.0
    ring = ((low, 0.0), (inner - slant / 2, 0.0), (inner + slant / 2, thick), (high, thick))
    visible = (ring[1], ring[0], ring[3], ring[2])
    return [
        Area(rings=(ring,), tone="section"),
        Stroke(points=visible, layer="outline"),
        Stroke(
            points=(_out(ring[1], ring[2], -1.5), _out(ring[2], ring[1], -1.5)), layer="dimension"
        ),
    ]


def _angle(
    profile: tuple[float, float], outer: float, sign: int, tilt_deg: float, thick: float
) -> list[Item]:
    """Return the square line from the long point and the tilt between it and the cut."""
    long_is_up = profile[1] == 0.0
    tip = (outer, thick if long_is_up else 0.0)
    down = -1.0 if long_is_up else 1.0
    reach = thick + 5.0
    radius = thick + 2.5
    square = 270.0 if long_is_up else 90.0
    toward = sign * (1 if long_is_up else -1) * tilt_deg
    turned = square + toward
    cut_end = (
        tip[0] + math.cos(math.radians(turned)) * reach,
        tip[1] + math.sin(math.radians(turned)) * reach,
    )
    text_y = tip[1] + down * (reach + (SMALLEST_TEXT_MM if down < 0 else 0.8))
    # Above the board the extension line of the size goes on along the square line.
    place: tuple[float, Anchor] = ((tip[0] + cut_end[0]) / 2, "middle")
    if not long_is_up:
        place = (tip[0] + sign * 1.0, "start" if sign > 0 else "end")
    return [
        Stroke(points=(tip, (tip[0], tip[1] + down * reach)), layer="center"),
        Stroke(points=(_out(tip, cut_end, thick + 0.6), cut_end), layer="dimension"),
        *draw_angle(tip, radius, min(square, turned), max(square, turned)),
        Words(
            at=(place[0], text_y),
            text=format_angle(tilt_deg),
            size_mm=SMALLEST_TEXT_MM,
            anchor=place[1],
            halo=True,
        ),
    ]


def _size(
    part: Part, section: Section, upper: FaceName, thick: float, system: System
) -> tuple[Item, ...]:
    """Return the finished size, long point to long point, above the section."""
    ends: list[Vec2] = []
    for index, x in ((section.left, 0.0), (section.right, STRIP_MM)):
        edge = None if index is None else part.edges[index]
        is_low = edge is not None and bool(edge.tilt_deg) and edge.long_face != upper
        ends.append((x, 0.0 if is_low else thick))
    is_free = all(y > 0 for _, y in ends)
    offset = thick + (7.0 if is_free else 13.0) - ends[0][1]
    text = format_length(section.size_mm, system)
    return draw_dimension(ends[0], ends[1], offset, text, along=(1.0, 0.0), to_scale=False)


def _faces(part: Part, work: Work, upper: FaceName, thick: float) -> list[Item]:
    lower: FaceName = "B" if upper == "A" else "A"
    piece = work.pieces[0]
    return [
        _small((FACE_NAME_MM, thick + 1.6), f"{face_word(part, piece, upper)} face", "middle"),
        _small(
            (FACE_NAME_MM, -1.6 - 0.76 * SMALLEST_TEXT_MM),
            f"{face_word(part, piece, lower)} face",
            "middle",
        ),
    ]


def _ends(part: Part, work: Work, section: Section, thick: float) -> list[Item]:
    """Return the names of the two edges, each inside the wood beside its edge."""
    items: list[Item] = []
    y = thick / 2 - 0.36 * SMALLEST_TEXT_MM
    back = 2.0 + thick * math.tan(math.radians(max(edge.tilt_deg for edge in part.edges)))
    left, right = section.left, section.right
    if left is not None:
        items.append(_plain((back, y), edge_word(part, work.pieces[0], left), "start"))
    if right is not None:
        items.append(_plain((STRIP_MM - back, y), edge_word(part, work.pieces[0], right), "end"))
    return items


def _plain(at: Vec2, text: str, anchor: Anchor) -> Words:
    return Words(at=at, text=text, size_mm=SMALLEST_TEXT_MM, anchor=anchor)


def _captions(part: Part, work: Work, section: Section) -> list[Item]:
    """Return what is sawn at each bevelled edge, below the section."""
    bevelled = [i for i in (section.left, section.right) if i is not None and _is_bevelled(part, i)]
    lines = [line for index in bevelled for line in _edge_lines(part, work, index)]
    if len(bevelled) == 1 and section.size_mm:
        other = section.left if _is_bevelled(part, section.right) else section.right
        if other is not None:
            word = edge_word(part, work.pieces[0], other)
            lines.append(f"Fence or stop along the {word} {part.edges[other].kind}.")
    return [_small((0.0, -14.5 - 4.4 * i), line, "start") for i, line in enumerate(lines)]


def _edge_lines(part: Part, work: Work, index: int) -> tuple[str, ...]:
    """Return the sentence of an edge; in two lines where two angles make it a long one."""
    angles, joint, long_point = edge_sentence(part, work, index).partition(", long point")
    if not part.edges[index].mitre_deg:
        return (angles + joint + long_point,)
    return (f"{angles},", f"both in one cut{joint}{long_point}")


def edge_sentence(part: Part, work: Work, index: int) -> str:
    """Return how an edge is bevelled: ``Front edge: blade 12°, long point on top``."""
    edge = part.edges[index]
    piece = work.pieces[0]
    name = edge_word(part, piece, index)
    long_face: FaceName = "A" if edge.long_face == "A" else "B"
    where = face_word(part, piece, long_face)
    kind = "" if edge.kind == "corner" else f" {edge.kind}"
    sentence = f"{name.capitalize()}{kind}: blade {format_angle(edge.tilt_deg)}"
    if edge.mitre_deg and edge.kind != "corner":
        sentence += f", mitre {format_angle(edge.mitre_deg)}"
    return f"{sentence}, long point on {where}"


def _is_bevelled(part: Part, index: int | None) -> bool:
    return index is not None and part.edges[index].tilt_deg > 0


def _small(at: Vec2, text: str, anchor: Anchor) -> Words:
    return Words(at=at, text=text, size_mm=SMALLEST_TEXT_MM, anchor=anchor, halo=True)


def _out(start: Vec2, end: Vec2, by_mm: float) -> Vec2:
    """Return the point ``by_mm`` from start toward end."""
    length = math.dist(start, end)
    part = by_mm / length
    return (start[0] + (end[0] - start[0]) * part, start[1] + (end[1] - start[1]) * part)
