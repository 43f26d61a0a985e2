"""Channels on the drawing of a part: on their face, and cut across with depth and width.

       C
     _____
    |     |  1/4      The channel is toned on the face it is cut into and dashed on the other one;
 ___|     |______     the section says how deep and how wide it is and what is left below it.
|                |
|________________|
"""

from dataclasses import dataclass
from typing import Final

from generator.geometry.vectors import Vec2
from generator.model.housing_words import (
    housing_ends,
    housing_face,
    housing_labels,
    housing_name,
    housing_place,
)
from generator.model.parts import Housing, Part
from generator.model.plan import Plan
from generator.model.work import Work
from generator.outputs.dimensions import draw_dimension
from generator.outputs.face_paper import FacePaper
from generator.outputs.panels import bounds_of
from generator.outputs.part_view import face_number
from generator.outputs.scene import (
    SMALLEST_TEXT_MM,
    TEXT_MM,
    Area,
    Item,
    Layer,
    Stroke,
    Words,
)
from generator.outputs.text_width import text_width_mm
from generator.units import System, format_length

NOTE_MM: Final = 150.0
"""A longer note is set in two lines."""

TIGHT_MM: Final = 12.0
"""From a channel to its depth where the arrows of its width stand outside."""

STRIP_MM: Final = 62.0
"""Width of the drawing of one section."""


def draw_channels(paper: FacePaper) -> tuple[Item, ...]:
    """Return the channels of a part as seen on one face: toned on their own, dashed on the other.

    What is nearer to the eye stands above what lies behind it.
    """
    number = face_number(paper.view.face)
    items: list[Item] = []
    for housing in paper.part.housings:
        outline = paper.outline(housing.outline)
        if housing.side == number:
            items.append(Area(rings=(outline.flattened(),), tone="side"))
    for housing in paper.part.housings:
        layer: Layer = "outline" if housing.side == number else "hidden"
        points = paper.outline(housing.outline).points
        items.append(Stroke(points=points, layer=layer, closed=True))
    return tuple(items)


def channel_notes(plan: Plan, part: Part, work: Work) -> list[str]:
    """Return one line for each channel: what it is for, where it runs and where it ends."""
    labels = plan.parts.labels()
    system, piece = plan.edition.system, work.pieces[0]
    notes = []
    for one in part.housings:
        name = f"{housing_name(one).capitalize()} for {', '.join(housing_labels(one, labels))}"
        place = housing_place(part, one, system, piece)
        ends = housing_ends(part, one, system, piece)
        whole = f"{name}: {place}, {ends}."
        is_short = text_width_mm(whole, SMALLEST_TEXT_MM) < NOTE_MM
        notes += [whole] if is_short else [f"{name}: {place},", f"{ends}."]
    return notes


def find_landings(paper: FacePaper, plan: Plan) -> tuple[tuple[tuple[Vec2, ...], str], ...]:
    """Return the channels of the face looked at, on paper, each with the label of what goes in."""
    labels = plan.parts.labels()
    return tuple(
        (paper.outline(housing.outline).points, label)
        for housing in find_channels(paper)
        for label in housing_labels(housing, labels)
    )


def find_channels(paper: FacePaper) -> tuple[Housing, ...]:
    """Return the channels cut into the face looked at."""
    number = face_number(paper.view.face)
    return tuple(housing for housing in paper.part.housings if housing.side == number)


@dataclass(frozen=True, slots=True)
class ChannelSection:
    """A cut across channels of one kind, depth and width in one face."""

    housings: tuple[Housing, ...]

    @property
    def first(self) -> Housing:
        """The one that is drawn."""
        return self.housings[0]


def find_channel_sections(part: Part, system: System) -> tuple[ChannelSection, ...]:
    """Return a section for all channels that look alike when cut across."""
    groups: dict[tuple[str, int, str, str], list[Housing]] = {}
    for one in part.housings:
        sizes = (format_length(one.depth_mm, system), format_length(one.width_mm, system))
        groups.setdefault((one.kind, one.side, *sizes), []).append(one)
    return tuple(ChannelSection(tuple(group)) for group in groups.values())


def draw_channel_section(
    plan: Plan, part: Part, work: Work, section: ChannelSection
) -> tuple[Item, ...]:
    """Return a section across a channel, the face it is cut into above, with what it is in words.

    Args:
        plan: Says what stands in it.
        part: What is cut through.
        work: Its first piece says what faces and edges are called.
        section: The channels it stands for.
    """
    system, first = plan.edition.system, section.first
    scale = 1.0 if part.thickness_mm <= 40 else 0.5
    thick, deep = part.thickness_mm * scale, first.depth_mm * scale
    wide = min(first.width_mm * scale, STRIP_MM / 2)
    is_rabbet = first.kind == "rabbet"
    width = format_length(first.width_mm, system)
    is_tight = wide < text_width_mm(width, SMALLEST_TEXT_MM) + 5.0
    left = 0.0 if is_rabbet else (STRIP_MM - wide) / 2 + (6.0 if is_tight else 0.0)
    items = [*_profile(left, wide, thick, deep, is_rabbet=is_rabbet)]
    face = housing_face(part, first, work.pieces[0])
    top = ((left, thick), (left + wide, thick))
    items += draw_dimension(
        *top, 5.0, width, beside="end" if is_rabbet else "start", to_scale=False
    )
    # The depth is read above the wood, so it keeps off the arrow, or the text, of a tight width.
    beside = TIGHT_MM if is_tight else 6.0
    beside += text_width_mm(width, SMALLEST_TEXT_MM) if is_tight and is_rabbet else 0.0
    items += _heights(left + wide, beside, thick, deep, first, part, system)
    labels = plan.parts.labels()
    found = {name: None for one in section.housings for name in housing_labels(one, labels)}
    heading = f"Section of {first.kind} for {', '.join(found)}, {face} face up"
    high = bounds_of(items)[3] + 3.4
    return (Words(at=(0.0, high), text=heading, size_mm=TEXT_MM, bold=True), *items)


def _profile(
    left: float, wide: float, thick: float, deep: float, *, is_rabbet: bool
) -> tuple[Item, ...]:
    """Return the wood around a channel, broken off where it goes on."""
    floor = thick - deep
    right = left + wide
    cut: list[Vec2] = [(right, thick), (right, floor), (left, floor)]
    ring = [(0.0, 0.0), (STRIP_MM - 1.0, 0.0), (STRIP_MM + 1.0, thick), *cut]
    visible: list[Vec2] = [(STRIP_MM + 1.0, thick), *cut]
    if is_rabbet:
        visible += [(0.0, 0.0), (STRIP_MM - 1.0, 0.0)]
    else:
        ring += [(left, thick), (2.0, thick)]
        visible += [(left, thick), (2.0, thick)]
    items: list[Item] = [Area(rings=(tuple(ring),), tone="section")]
    items.append(Stroke(points=tuple(visible), layer="outline"))
    if not is_rabbet:
        items.append(Stroke(points=((0.0, 0.0), (STRIP_MM - 1.0, 0.0)), layer="outline"))
        items.append(Stroke(points=((-0.3, -1.5), (2.3, thick + 1.5)), layer="dimension"))
    end = STRIP_MM - 1.0
    items.append(Stroke(points=((end - 0.3, -1.5), (end + 2.3, thick + 1.5)), layer="dimension"))
    return tuple(items)


def _heights(
    right: float,
    beside: float,
    thick: float,
    deep: float,
    housing: Housing,
    part: Part,
    system: System,
) -> tuple[Item, ...]:
    """Return how deep the channel is and how much wood is left below it, on one line."""
    depth = format_length(housing.depth_mm, system)
    rest = format_length(part.thickness_mm - housing.depth_mm, system)
    floor = (right, thick - deep)
    return (
        *draw_dimension(floor, (right, thick), -beside, depth, to_scale=False),
        *draw_dimension((right, 0.0), floor, -beside, rest, beside="start", to_scale=False),
    )
