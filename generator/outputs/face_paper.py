"""One face of a part on paper: at a scale, and shortened where a long part is plain.

 _________  _________  _________        Every size is written out, so what lies between two
|  o     / /    o    / /     o  |       breaks may be left out (interrupted view, ISO 128-3,
|_______/ /_________/ /_________|       from memory).
"""

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Final

from generator.geometry.outlines import Outline
from generator.geometry.tolerance import SAME_PLANE_MM
from generator.geometry.vectors import Vec2
from generator.model.parts import Part
from generator.model.work import Work
from generator.outputs.panels import Box
from generator.outputs.part_view import View
from generator.outputs.scene import Area, Item, Stroke

SCALES: Final = (1, 2, 5, 10, 20, 50)
"""Reductions of ISO 5455:1979."""
LONGEST_MM: Final = 116.0
"""A part drawn longer than this leaves too little room for its sizes."""
HIGHEST_MM: Final = 120.0
NARROW_MM: Final = 14.0
"""A part drawn narrower than this has no room for what stands on it."""
BROKEN_HIGHEST_MM: Final = 40.0
KEPT_MM: Final = 3.0
"""What is drawn at both sides of everything that is marked, bored or cut."""
SHOWN_MM: Final = 5.0
"""Least length on paper of a plain stretch that is shortened."""
WANTED_MM: Final = 100.0
"""Length on paper that a shortened part fills, for its sizes to have room."""


@dataclass(frozen=True, slots=True)
class Break:
    """A plain stretch of a view, from and to in mm of the part, and its length on paper."""

    start_mm: float
    end_mm: float
    shown_mm: float


@dataclass(frozen=True, slots=True)
class FacePaper:
    """A view of one face at a scale 1:ratio: from mm of the part to mm on paper.

    Attributes:
        shape: The outline of the face looked at, on paper.
        box: The box around it.
        seen_box: The same in the view, in mm of the part.
    """

    part: Part
    view: View
    ratio: int
    breaks: tuple[Break, ...] = ()
    shape: Outline = field(init=False, repr=False)
    box: Box = field(init=False, repr=False)
    seen_box: Box = field(init=False, repr=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "shape", self.outline(self.near))
        object.__setattr__(self, "box", self.shape.bounds)
        object.__setattr__(self, "seen_box", self.view.outline(self.near).bounds)

    @property
    def scale(self) -> float:
        """Millimetres on paper for one of the part, but along a break."""
        return 1 / self.ratio

    @property
    def near(self) -> Outline:
        """The outline of the face looked at, in the part's frame."""
        return self.part.slab.face_a if self.view.face == "A" else self.part.slab.face_b

    @property
    def far(self) -> Outline:
        """The outline of the other face, in the part's frame."""
        return self.part.slab.face_b if self.view.face == "A" else self.part.slab.face_a

    @property
    def size(self) -> Vec2:
        """Length and width of both faces together on paper."""
        return self.shown((self.part.length_mm, self.part.width_mm))

    def point(self, point: Vec2) -> Vec2:
        """Return where a point of the part is on paper."""
        return self.shown(self.view.point(point))

    def outline(self, outline: Outline) -> Outline:
        """Return an outline of the part on paper."""
        seen = self.view.outline(outline)
        return Outline(tuple(self.shown(point) for point in seen.points), seen.bulges)

    def shown(self, seen: Vec2) -> Vec2:
        """Return where a point of the view, in mm of the part, is on paper."""
        scale = self.scale
        if not self.breaks:
            return (seen[0] * scale, seen[1] * scale)
        x = seen[0] * scale
        for one in self.breaks:
            length = one.end_mm - one.start_mm
            beyond = min(max(seen[0] - one.start_mm, 0.0), length)
            x -= beyond * (scale - one.shown_mm / length)
        return (x, seen[1] * scale)


def find_paper(part: Part, view: View, work: Work) -> FacePaper:
    """Return the largest scale that fits; a narrow part is shortened rather than drawn tiny."""
    plain = next(
        (r for r in SCALES if part.length_mm <= LONGEST_MM * r and part.width_mm <= HIGHEST_MM * r),
        SCALES[-1],
    )
    if part.width_mm / plain >= NARROW_MM:
        return FacePaper(part, view, plain)
    for ratio in (r for r in SCALES if r < plain):
        paper = FacePaper(part, view, ratio, _find_breaks(part, view, work, ratio))
        length, width = paper.size
        if paper.breaks and length <= LONGEST_MM and width <= BROKEN_HIGHEST_MM:
            return paper
    return FacePaper(part, view, plain)


def draw_breaks(paper: FacePaper) -> tuple[Item, ...]:
    """Return a slanting gap in the wood for every stretch that is shortened."""
    items: list[Item] = []
    top = paper.size[1]
    for one in paper.breaks:
        x = (paper.shown((one.start_mm, 0.0))[0] + paper.shown((one.end_mm, 0.0))[0]) / 2
        left, right = (
            ((x - 2.2, -1.0), (x - 0.2, top + 1.0)),
            ((x + 0.2, -1.0), (x + 2.2, top + 1.0)),
        )
        items.append(Area(rings=((*left, right[1], right[0]),), tone="bubble"))
        items += [Stroke(points=side, layer="dimension") for side in (left, right)]
    return tuple(items)


def _find_breaks(part: Part, view: View, work: Work, ratio: int) -> tuple[Break, ...]:
    kept = KEPT_MM * ratio
    spans = sorted((low - kept, high + kept) for low, high in _spans(part, view, work))
    gaps: list[tuple[float, float]] = []
    reached = spans[0][1]
    for low, high in spans[1:]:
        if low - reached > 2 * SHOWN_MM * ratio:
            gaps.append((reached, low))
        reached = max(reached, high)
    if not gaps:
        return ()
    kept_mm = (part.length_mm - sum(high - low for low, high in gaps)) / ratio
    shown = max(SHOWN_MM, (WANTED_MM - kept_mm) / len(gaps))
    return tuple(
        Break(low, high, shown) for low, high in gaps if (high - low) / ratio > 1.5 * shown
    )


def _spans(part: Part, view: View, work: Work) -> Iterable[tuple[float, float]]:
    """Return the stretches of the length where there is something to see."""
    outlines = [part.slab.face_a, part.slab.face_b]
    outlines += [Outline(mark.outline) for mark in work.marks]
    outlines += [housing.outline for housing in part.housings]
    for outline in outlines:
        for start, end, bulge in outline.edges():
            (x0, y0), (x1, y1) = view.point(start), view.point(end)
            yield (x0, x0)
            if bulge or abs(y1 - y0) > SAME_PLANE_MM:
                yield (min(x0, x1), max(x0, x1))
    for opening in part.openings:
        xs = [view.point(point)[0] for point in opening.outline.flattened()]
        yield (min(xs), max(xs))
    for one in work.hardware:
        x = view.point(one.at)[0]
        yield (x, x)
    for hole in work.holes:
        x = view.point((hole.at[0], hole.at[1]))[0]
        reach = hole.diameter_mm * (2.0 if hole.kind == "pocket" else 0.5)
        deep = hole.depth_mm if hole.side >= 0 and hole.depth_mm is not None else 0.0
        tip = x + view.direction((hole.direction[0], hole.direction[1]))[0] * deep
        yield (min(x, tip) - reach, max(x, tip) + reach)
