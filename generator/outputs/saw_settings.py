"""Pictures of saw settings: one for every tilt and angle of a plan, with all edges it is for."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from generator.model.plan import Plan
from generator.model.words import join_words
from generator.outputs.panels import moved_items
from generator.outputs.saw_cuts import Lean, SawCut, SawnEdge, find_saw_cuts
from generator.outputs.saw_panels import (
    MARK_MM,
    PANEL_MM,
    Panel,
    draw_angled,
    draw_tilt,
    moved_words,
)
from generator.outputs.scene import SMALLEST_TEXT_MM, Item, Scene
from generator.outputs.text_width import text_width_mm
from generator.units import format_angle

MARGIN_MM: Final = 3.0
LINE_MM: Final = 4.4
"""From one line of text to the next."""
FULL_SIZE_MM: Final = 25.0
"""Wood up to this thickness is drawn full size, thicker wood half."""


@dataclass(frozen=True, slots=True)
class _Block:
    """A panel with its heading and lines, and how far it reaches below and above its zero."""

    items: tuple[Item, ...]
    low_mm: float
    high_mm: float


def draw_saw_settings(plan: Plan) -> tuple[tuple[SawCut, Scene], ...]:
    """Return the picture of every tilt and angle, in the order of the settings."""
    return tuple((cut, _draw(cut)) for cut in find_saw_cuts(plan))


def setting_words(cut: SawCut) -> str:
    """Return the settings a picture is for: ``Setting 8`` or ``Settings 8, 9 and 10``."""
    numbers = [str(number) for number in cut.settings]
    return f"Setting{'s' if len(numbers) > 1 else ''} {join_words(numbers)}"


def angle_words(cut: SawCut) -> str:
    """Return tilt and angle: ``blade 12°``, ``blade 14°, 8° off square``."""
    tilt = f"blade {format_angle(cut.tilt_deg)}" if cut.tilt_deg else "blade upright"
    return f"{tilt}, {_off_words(cut)}" if cut.angle_deg else tilt


def _off_words(cut: SawCut) -> str:
    return f"{format_angle(cut.angle_deg)} off {'parallel' if cut.is_rip else 'square'}"


def _draw(cut: SawCut) -> Scene:
    columns: list[list[_Block]] = []
    if cut.tilt_deg:
        columns.append([_tilt_block(cut)])
    if cut.angle_deg:
        columns.append(_angle_blocks(cut))
    height = 2 * MARGIN_MM + max(
        sum(block.high_mm - block.low_mm for block in column) for column in columns
    )
    items: list[Item] = []
    for number, column in enumerate(columns):
        x = MARGIN_MM + number * (PANEL_MM + 2 * MARGIN_MM)
        y = height - MARGIN_MM
        for block in column:
            items += moved_items(block.items, x, y - block.high_mm)
            y -= block.high_mm - block.low_mm
    return Scene(
        width_mm=len(columns) * (PANEL_MM + 2 * MARGIN_MM),
        height_mm=height,
        title=f"{setting_words(cut)}: {angle_words(cut)}",
        description=_describe(cut),
        items=tuple(items),
    )


def _tilt_block(cut: SawCut) -> _Block:
    """Return the section across the blade; what is sawn so stands with the angle if it has one."""
    thick = cut.edges[0].part.thickness_mm
    panel = draw_tilt(cut.tilt_deg, thick if thick <= FULL_SIZE_MM else thick / 2)
    heading = f"Across the cut: blade {format_angle(cut.tilt_deg)}"
    return _block(panel, heading, () if cut.angle_deg else cut.edges)


def _angle_blocks(cut: SawCut) -> list[_Block]:
    """Return a view from above for either way the cut leans, with the edges it is for."""
    leans: tuple[Lean, ...] = ("left", "right")
    heading = f"From above: {_off_words(cut)}"
    blocks = []
    for lean in leans:
        edges = tuple(edge for edge in cut.edges if edge.lean == lean)
        if edges:
            blocks.append(_block(draw_angled(cut.angle_deg, lean), heading, edges))
    return blocks


def _block(panel: Panel, heading: str, edges: Iterable[SawnEdge]) -> _Block:
    items: list[Item] = list(moved_items(panel.items, MARK_MM, 0.0))
    items.append(moved_words((0.0, panel.high_mm + 1.0), heading, bold=True))
    low = panel.low_mm
    for line in _edge_lines(edges):
        low -= LINE_MM
        items.append(moved_words((0.0, low), line))
    return _Block(tuple(items), low - 3.0, panel.high_mm + 5.0)


def _edge_lines(edges: Iterable[SawnEdge]) -> list[str]:
    """Return what is sawn so, a line for every part and upper face."""
    groups: dict[tuple[str, str], list[str]] = {}
    for sawn in edges:
        groups.setdefault((sawn.part.label, sawn.up), []).append(sawn.name)
    lines = []
    for (label, up), names in groups.items():
        face = f", {up} face up" if up else ""
        lines += _wrapped(f"{label}: {join_words(names)}{face}")
    return lines


def _wrapped(text: str) -> list[str]:
    """Return a text in lines no wider than a panel."""
    lines: list[str] = []
    for word in text.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and text_width_mm(longer, SMALLEST_TEXT_MM) <= PANEL_MM:
            lines[-1] = longer
        else:
            lines.append(word)
    return lines


def _describe(cut: SawCut) -> str:
    parts = []
    if cut.tilt_deg:
        parts.append(
            f"The blade leans {format_angle(cut.tilt_deg)} from square, in under the piece that is "
            "kept; the face with the long point is up, the saw base runs along a straightedge on "
            "the kept piece, and what lies beyond the blade is waste."
        )
    if cut.angle_deg:
        parts.append(f"Seen from above, the cut runs {_off_words(cut)}.")
    edges = "; ".join(sawn.words for sawn in cut.edges)
    return f"{' '.join(parts)} {edges}."
