"""A drawing before it has a file format: lines, filled shapes and text in mm on paper.

x runs right, y runs up, the origin is the lower left corner of the paper. Layers say what a line
or text means; how it looks (width, dashes, colour in light and dark) is the writer's business.
"""

from dataclasses import dataclass
from typing import Literal

from generator.geometry.vectors import Vec2

Layer = Literal[
    "outline",  # visible edges, wide
    "hidden",  # edges behind something, narrow dashed
    "quiet",  # edges of pieces that are only context, narrow and pale
    "dimension",  # dimension and extension lines, narrow
    "mark",  # layout lines to pencil on a part, long dashes
    "center",  # centre lines, long dash dot
    "leader",  # from a label to what it names
    "cut",  # saw cuts on a sheet
    "screw",  # fasteners and holes
    "glue",  # where glue is spread, a row of drops
    "edging",  # edges that are covered, very wide
    "grain",  # grain arrow
    "frame",  # border lines of panels inside a drawing
]
Tone = Literal[
    "",  # no fill
    "top",  # a face that looks up
    "front",  # a face that looks to the front
    "side",  # a face that looks to the side
    "new_top",  # the same three where a part is emphasised
    "new_front",
    "new_side",
    "quiet",  # a face of a piece that is only context
    "wood",  # a part seen square on
    "section",  # wood cut through
    "waste",  # what the saw throws away
    "offcut",  # what is worth keeping
    "bubble",  # the disc behind a label
    "screw",  # a filled screw head or hole
]
Anchor = Literal["start", "middle", "end"]

SMALLEST_TEXT_MM = 2.9
"""8 pt is 2.82 mm: no text on any drawing is smaller."""
TEXT_MM = 3.4
"""Size of ordinary text."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stroke:
    """A line through points; ``bulges`` as in `geometry.outlines`, one for each side."""

    points: tuple[Vec2, ...]
    layer: Layer
    closed: bool = False
    bulges: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Area:
    """A filled shape without a border: an outer ring and holes, even-odd."""

    rings: tuple[tuple[Vec2, ...], ...]
    tone: Tone


@dataclass(frozen=True, slots=True, kw_only=True)
class Disc:
    """A circle, with or without fill and border."""

    center: Vec2
    radius_mm: float
    tone: Tone = ""
    layer: Layer | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Words:
    """One line of text.

    Attributes:
        at: On the base line: its start, middle or end.
        size_mm: Height of the type (1 pt is 0.3528 mm).
        angle_deg: Turned left about ``at``.
        halo: Whether it stands on its own background, for text over lines.
        span: The two points on paper whose distance a size tells; None for other words, and for
            sizes of what is not drawn to scale.
    """

    at: Vec2
    text: str
    size_mm: float = TEXT_MM
    anchor: Anchor = "start"
    angle_deg: float = 0.0
    bold: bool = False
    halo: bool = False
    span: tuple[Vec2, Vec2] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Arrowhead:
    """A slim filled arrowhead with its point at ``at``, looking along ``direction``."""

    at: Vec2
    direction: Vec2
    layer: Layer = "dimension"


Item = Stroke | Area | Disc | Words | Arrowhead


@dataclass(frozen=True, slots=True, kw_only=True)
class Scene:
    """A finished drawing.

    Attributes:
        title: Short, for screen readers and file lists.
        description: What the picture shows, in a sentence, with the numbers that matter.
        items: In drawing order, later ones on top.
    """

    width_mm: float
    height_mm: float
    title: str
    description: str
    items: tuple[Item, ...]
