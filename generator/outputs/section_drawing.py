"""Section A-A on paper: wood cut through with labels, a chain of heights, and its cutting line.

         A                         | 18 |    the heights of a chain stand left of their line,
         |<--   line, seen from    |----|    lying, where they are longer than their link
_________|_________ the right      | 400
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Final

from shapely.geometry import Polygon

from generator.geometry.hidden_line import find_visible
from generator.geometry.projection import Mesh, View
from generator.geometry.tolerance import SAME_POINT_MM
from generator.geometry.vectors import Vec2
from generator.outputs.bodies import Sheet, draw_edges
from generator.outputs.dimensions import ARROW_MM, BEYOND_MM, GAP_MM, TEXT_GAP_MM
from generator.outputs.labels import Target
from generator.outputs.scene import SMALLEST_TEXT_MM, Area, Arrowhead, Item, Stroke, Words
from generator.outputs.section_cut import Cut, Section
from generator.outputs.section_labels import draw_section_labels
from generator.outputs.text_width import text_width_mm
from generator.units import System, format_length

CHAIN_MM: Final = 4.5
"""From the section to the line of its chain."""
ASIDE_MM: Final = 1.0
"""From the line of the chain to a lying text, and from the text to what is beside it."""
ROW_MM: Final = 3.6
"""Least height from one lying text to the next."""
ASTRAY_MM: Final = 1.5
"""As far as a lying text may stand off the middle of its link, to leave room for the next."""
INK_MIDDLE_EM: Final = 0.36
"""From the base line to the middle of figures and capitals."""

LETTER: Final = "A"
NAME: Final = f"Section {LETTER}–{LETTER}"
BEYOND_VIEW_MM: Final = 5.0
"""How far the cutting line runs beyond the view."""
WIDE_END_MM: Final = 4.0
"""Length of its wide ends."""
SHAFT_MM: Final = 5.0
"""Length of an arrow that shows the line of sight."""


@dataclass(frozen=True, slots=True)
class Link:
    """One size of a chain: from a height to the next, on paper, and its text.

    Attributes:
        at: Height of the middle of the text.
    """

    low: float
    high: float
    text: str
    at: float

    @property
    def is_upright(self) -> bool:
        """Whether the text stands along the line, between the arrowheads."""
        return self.high - self.low >= text_width_mm(self.text, SMALLEST_TEXT_MM) + 2 * ARROW_MM


def make_chain(levels_mm: Sequence[float], scale: int, system: System) -> tuple[Link, ...]:
    """Return the links of a chain, heights from its foot; none where they have no room."""
    links = [
        Link(
            (low - levels_mm[0]) / scale,
            (high - levels_mm[0]) / scale,
            format_length(high - low, system),
            ((low + high) / 2 - levels_mm[0]) / scale,
        )
        for low, high in pairwise(levels_mm)
    ]
    lying = [index for index, link in enumerate(links) if not link.is_upright]
    for first, second in pairwise(lying):
        lack = ROW_MM - (links[second].at - links[first].at)
        if lack > 0:
            links[first] = replace(links[first], at=links[first].at - lack / 2)
            links[second] = replace(links[second], at=links[second].at + lack / 2)
    is_crowded = any(links[b].at - links[a].at < ROW_MM - SAME_POINT_MM for a, b in pairwise(lying))
    is_astray = any(abs(one.at - (one.low + one.high) / 2) > ASTRAY_MM for one in links)
    return () if is_crowded or is_astray else tuple(links)


def chain_width(links: Sequence[Link]) -> float:
    """Return the room a chain takes up to the left of its section."""
    if not links:
        return 0.0
    widths = [text_width_mm(one.text, SMALLEST_TEXT_MM) for one in links if not one.is_upright]
    upright = TEXT_GAP_MM + SMALLEST_TEXT_MM
    return CHAIN_MM + max([upright, *(BEYOND_MM + ASIDE_MM + width for width in widths)]) + ASIDE_MM


def draw_chain(links: Sequence[Link], at: Vec2) -> list[Item]:
    """Return a chain to the left of a section whose lower left corner is given.

    A link too short for arrowheads is told by those of its neighbours (ISO 129-1, from memory).
    """
    x, low = at[0] - CHAIN_MM, at[1]
    lines: list[Item] = []
    words: list[Item] = []
    for y in [low + links[0].low, *(low + link.high for link in links)] if links else []:
        lines.append(_line((at[0] - GAP_MM, y), (x - BEYOND_MM, y)))
    for link in links:
        foot, head = (x, low + link.low), (x, low + link.high)
        lines.append(_line(foot, head))
        if link.high - link.low >= 2 * ARROW_MM:
            lines.append(Arrowhead(at=foot, direction=(0.0, -1.0)))
            lines.append(Arrowhead(at=head, direction=(0.0, 1.0)))
        words.append(_link_words(link, foot, head, low + link.at))
    return [*lines, *words]


def draw_section(
    section: Section, behind: Mesh, view: View, sheet: Sheet, taken: Sequence[Polygon]
) -> list[Item]:
    """Return what is cut, in the tone of cut wood, its labels, and quietly what lies behind.

    Args:
        section: What is cut.
        behind: What lies behind it.
        view: From the side it is seen from.
        sheet: Where it comes on paper.
        taken: Where no label may stand.
    """
    edges = find_visible(behind, view)
    on_paper = [_on_paper(cut, sheet) for cut in section.cuts]
    quiet = draw_edges(edges, sheet, "quiet")
    wood = [Area(rings=_rings(polygon), tone="section") for cut in on_paper for polygon in cut]
    outlines = [
        Stroke(points=ring, layer="outline", closed=True)
        for cut in on_paper
        for polygon in cut
        for ring in _rings(polygon)
    ]
    targets = [
        Target(cut.piece.label, tuple(polygons))
        for cut, polygons in zip(section.cuts, on_paper, strict=True)
    ]
    return [*quiet, *wood, *outlines, *draw_section_labels(targets, taken)]


def draw_cutting_line(x: float, low: float, high: float, toward: float) -> list[Item]:
    """Return the line of the section over a view: long dashes and dots, wide ends, arrows, letters.

    Arrowheads touch the wide ends and point the way one looks (ISO 128-3:2020, ISO 128-2:2020,
    from memory).

    Args:
        x: Where the line stands on paper.
        low: Lower end of the view.
        high: Upper end of the view.
        toward: 1 where the eye is on the right, -1 on the left.
    """
    top, foot = high + BEYOND_VIEW_MM, low - BEYOND_VIEW_MM
    items: list[Item] = [Stroke(points=((x, foot), (x, top)), layer="center")]
    for end, inward in ((top, -1.0), (foot, 1.0)):
        y = end + inward * WIDE_END_MM / 2
        tail = (x + toward * SHAFT_MM, y)
        wide = ((x, end), (x, end + inward * WIDE_END_MM))
        items += [
            Stroke(points=wide, layer="outline"),
            Stroke(points=((x, y), tail), layer="dimension"),
            Arrowhead(at=(x, y), direction=(-toward, 0.0)),
            Words(
                at=(tail[0] + toward * 0.8, y - SMALLEST_TEXT_MM * INK_MIDDLE_EM),
                text=LETTER,
                size_mm=SMALLEST_TEXT_MM,
                anchor="start" if toward > 0 else "end",
                bold=True,
            ),
        ]
    return items


def _line(start: Vec2, end: Vec2) -> Stroke:
    return Stroke(points=(start, end), layer="dimension")


def _link_words(link: Link, foot: Vec2, head: Vec2, middle: float) -> Words:
    """Return the text of a link, along the line or lying to its left."""
    if link.is_upright:
        return Words(
            at=(foot[0] - TEXT_GAP_MM, middle),
            text=link.text,
            size_mm=SMALLEST_TEXT_MM,
            anchor="middle",
            angle_deg=90.0,
            span=(foot, head),
        )
    return Words(
        at=(foot[0] - BEYOND_MM - ASIDE_MM, middle - SMALLEST_TEXT_MM * INK_MIDDLE_EM),
        text=link.text,
        size_mm=SMALLEST_TEXT_MM,
        anchor="end",
        span=(foot, head),
    )


def _on_paper(cut: Cut, sheet: Sheet) -> list[Polygon]:
    return [
        Polygon(
            [sheet.place(point) for point in polygon.exterior.coords],
            [[sheet.place(point) for point in hole.coords] for hole in polygon.interiors],
        )
        for polygon in cut.polygons
    ]


def _rings(polygon: Polygon) -> tuple[tuple[Vec2, ...], ...]:
    return tuple(
        tuple((float(x), float(y)) for x, y in ring.coords[:-1])
        for ring in (polygon.exterior, *polygon.interiors)
    )
