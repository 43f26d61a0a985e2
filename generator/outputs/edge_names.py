"""The names of the edges and ends of a part, each beside its edge where no line passes.

back edge                  A name stands along its edge outside the wood; where too many
______________               lines pass there it stands inside, and on a narrow part level.
|left          |
|end           | right end
|______________|
"""

import itertools
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final, Literal

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import STRtree

from generator.geometry.tolerance import SAME_AIM
from generator.model.parts import Edge
from generator.model.work import Work
from generator.outputs.face_paper import FacePaper
from generator.outputs.line_check import WIDE_LAYERS, line_points
from generator.outputs.panels import Box, Boxes, as_array, meets, words_box
from generator.outputs.part_view import edge_word
from generator.outputs.scene import SMALLEST_TEXT_MM, Area, Item, Stroke, Words
from generator.units import format_angle

OUTSIDE_MM: Final = 1.3
"""From the wood to the name of an edge."""
FARTHER_MM: Final = 1.4
"""Farther outside where something sticks out of an end, such as the way of a pocket screw."""
INSIDE_MM: Final = 1.6
"""From an edge to its name on the wood, past the end of the line."""
ASCENT_MM: Final = 0.76 * SMALLEST_TEXT_MM
DESCENT_MM: Final = 0.24 * SMALLEST_TEXT_MM
PLACES: Final = (0.5, 0.3, 0.7, 0.15, 0.85)
"""Where along an edge a level name may stand on the wood."""

FEW: Final = 3
"""So many places are tried first, then ever more: most names stand at one of the first."""

WIDE_WEIGHT: Final = 20
"""An outline, a text or a disc weighs as much as so many narrow lines, which may be interrupted."""

Side = Literal["above", "below", "left", "right"]


def draw_edge_names(
    paper: FacePaper,
    work: Work,
    crossings: dict[str, list[float]],
    drawn: Sequence[tuple[Item, Box]],
) -> tuple[Words, ...]:
    """Return the name of each edge and end.

    Args:
        paper: The view.
        work: Its first piece says what the edges are called.
        crossings: For above, below, left and right: places along the side that lines pass.
        drawn: Everything else on the paper with the box around it, for names to keep off.
    """
    lines = _Lines.of([item for item, _ in drawn if isinstance(item, Stroke)])
    taken = as_array(box for item, box in drawn if not isinstance(item, Stroke | Area))
    names: list[Words] = []
    for index, edge in enumerate(paper.part.edges):
        stretches = _stretches(paper, edge)
        is_side_of_rod = paper.part.stock.is_round and edge.kind == "edge"
        if not edge.is_plain or index != stretches[0] or is_side_of_rod:
            continue
        side = _side(paper, edge)
        name = f"{edge_word(paper.part, work.pieces[0], index)} {edge.kind}"
        axis = 0 if side in {"above", "below"} else 1
        outline = paper.near.edges()
        ends = sorted(paper.point(p)[axis] for i in stretches for p in outline[i][:2])
        middles = _gap_middles(ends[0], ends[-1], crossings.get(side, []))
        # The notes tell the angle too, so it is left out where there is no room for both.
        texts = [f"{name}, {format_angle(edge.mitre_deg)}", name] if edge.mitre_deg else [name]
        for text in texts:
            chosen, loss = _freest(_choices(paper, side, text, middles, ends), lines, taken)
            if not loss:
                break
        names.append(chosen)
        taken = np.concatenate((taken, as_array([words_box(chosen)])))
    return tuple(names)


@dataclass(frozen=True, slots=True)
class _Lines:
    """The lines on the paper, and how bad it is to write over each."""

    tree: STRtree
    weights: NDArray[np.float64]

    @staticmethod
    def of(strokes: Sequence[Stroke]) -> "_Lines":
        paths = [line_points(stroke) for stroke in strokes]
        flat = itertools.chain.from_iterable(itertools.chain.from_iterable(paths))
        points = np.fromiter(flat, np.float64).reshape(-1, 2)
        owners = np.repeat(np.arange(len(paths)), [len(path) for path in paths])
        weights = [WIDE_WEIGHT if stroke.layer in WIDE_LAYERS else 1 for stroke in strokes]
        shapes = np.asarray(shapely.linestrings(points, indices=owners))
        return _Lines(STRtree(shapes), np.array(weights, dtype=np.float64))

    def under(self, boxes: Boxes) -> NDArray[np.float64]:
        """Return how bad it is to write in each box."""
        owners, met = self.tree.query(shapely.box(*boxes.T), predicate="intersects")
        return np.bincount(owners, self.weights[met], len(boxes)).astype(np.float64)


def _freest(options: Iterable[Words], lines: _Lines, taken: Boxes) -> tuple[Words, float]:
    """Return the first of the texts that covers least, and how much that is."""
    left = iter(options)
    choices: list[Words] = []
    losses: list[float] = []
    while 0.0 not in losses and (some := list(itertools.islice(left, FEW + len(losses)))):
        boxes = as_array(map(words_box, some))
        met = meets(boxes[:, np.newaxis], taken).sum(axis=1)
        choices += some
        losses += (lines.under(boxes) + WIDE_WEIGHT * met).tolist()
    best = losses.index(min(losses))
    return choices[best], losses[best]


def _choices(
    paper: FacePaper, side: Side, text: str, middles: Sequence[float], ends: Sequence[float]
) -> Iterator[Words]:
    """Return the places a name may have, the best first."""
    whole: Box = (0.0, 0.0, *paper.size)
    inside = paper.box
    for place in middles:
        yield _along(whole, side, place, text)
    away = (-FARTHER_MM, -FARTHER_MM, whole[2] + FARTHER_MM, whole[3] + FARTHER_MM)
    for place in middles if side in {"left", "right"} else ():
        yield _along(away, side, place, text)
    for place in middles:
        yield _along(_folded(inside), _opposite(side), place, text)
    low, high = ends[0], ends[-1]
    for part in PLACES if side in {"left", "right"} else ():
        yield _level(inside, side, low + (high - low) * part, text)


def _along(around: Box, side: Side, place: float, text: str) -> Words:
    """Return a name that runs along a side of a box, outside of it."""
    match side:
        case "above":
            at = (place, around[3] + OUTSIDE_MM)
        case "below":
            at = (place, around[1] - OUTSIDE_MM - ASCENT_MM)
        case "left":
            at = (around[0] - OUTSIDE_MM - DESCENT_MM, place)
        case "right":
            at = (around[2] + OUTSIDE_MM + ASCENT_MM, place)
    angle = 0.0 if side in {"above", "below"} else 90.0
    return Words(
        at=at, text=text, size_mm=SMALLEST_TEXT_MM, anchor="middle", angle_deg=angle, halo=True
    )


def _level(inside: Box, side: Side, place: float, text: str) -> Words:
    """Return the name of an end that stands level on the wood beside it."""
    x = inside[0] + INSIDE_MM if side == "left" else inside[2] - INSIDE_MM
    return Words(
        at=(x, place - 0.36 * SMALLEST_TEXT_MM),
        text=text,
        size_mm=SMALLEST_TEXT_MM,
        anchor="start" if side == "left" else "end",
        halo=True,
    )


def _folded(inside: Box) -> Box:
    """Return the box with its sides changed over: what stands left of it stands in the wood."""
    past = INSIDE_MM - OUTSIDE_MM
    return (inside[2] - past, inside[3] - past, inside[0] + past, inside[1] + past)


def _opposite(side: Side) -> Side:
    opposites: dict[Side, Side] = {
        "above": "below",
        "below": "above",
        "left": "right",
        "right": "left",
    }
    return opposites[side]


def _side(paper: FacePaper, edge: Edge) -> Side:
    x, y = paper.view.direction((edge.plane.normal[0], edge.plane.normal[1]))
    if abs(y) - abs(x) > SAME_AIM:
        return "above" if y > 0 else "below"
    return "right" if x > 0 else "left"


def _stretches(paper: FacePaper, edge: Edge) -> list[int]:
    """Return the parts of an edge that notches and arches have left."""
    edges = enumerate(paper.part.edges)
    return [i for i, one in edges if (one.name, one.kind) == (edge.name, edge.kind)]


def _gap_middles(low: float, high: float, crossings: Sequence[float]) -> list[float]:
    """Return the middles of the gaps between crossings, the widest gap first."""
    stops = [low, *sorted(place for place in crossings if low < place < high), high]
    pairs = itertools.pairwise(stops)
    gaps = sorted((round(a - b, 3), i, (a + b) / 2) for i, (a, b) in enumerate(pairs))
    return [middle for _, _, middle in gaps]
