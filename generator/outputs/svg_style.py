"""The style sheet of a drawing: widths and dashes of lines, colours in light and dark.

Lines are wide or narrow in the ratio 2:1, dashes 12 and gaps 3 widths long, chain lines 24 and
0.5 widths with gaps of 3: ISO 128-2:2020, from memory.
"""

from collections.abc import Iterable
from functools import lru_cache
from typing import Final

from generator.outputs.palette import DARK, LIGHT, Scheme
from generator.outputs.scene import SMALLEST_TEXT_MM, TEXT_MM, Layer, Tone

NARROW_MM: Final = 0.25
WIDE_MM: Final = 0.5
HALO_MM: Final = 1.1
"""Width of the line of paper around text that stands on other things."""

HEAD_MM: Final = 2.5
"""Length of an arrowhead: ten widths of a narrow line."""
HEAD_HALF_MM: Final = 0.4
"""Half its width at the back."""
STYLES_KEPT: Final = 256
"""So many style sheets are remembered: drawings of a kind mostly use the same classes."""
SMALL_CLASS: Final = "s"
"""The class of the smallest type."""

LINES: dict[Layer, tuple[float, str]] = {
    "outline": (WIDE_MM, ""),
    "hidden": (NARROW_MM, "3 .75"),
    "quiet": (NARROW_MM, ""),
    "dimension": (NARROW_MM, ""),
    "mark": (NARROW_MM, "6 .75"),
    "center": (NARROW_MM, "6 .75 .12 .75"),
    "leader": (NARROW_MM, ""),
    "cut": (WIDE_MM, ""),
    "screw": (WIDE_MM, ""),
    "glue": (0.9, "0 1.5"),
    "edging": (2 * WIDE_MM, ""),
    "grain": (NARROW_MM, ""),
    "frame": (NARROW_MM, ""),
}
"""Width in mm and dashes of every layer."""

LINE_CLASS: dict[Layer, str] = {layer: f"l{index}" for index, layer in enumerate(LINES)}
FILL_CLASS: dict[Tone, str] = {tone: f"f{index}" for index, tone in enumerate(LIGHT.tones)}
HEAD_CLASS: dict[Layer, str] = {layer: f"h{index}" for index, layer in enumerate(LINES)}
"""Arrowheads are filled with the colour of their line."""


def format_style(used: Iterable[str]) -> str:
    """Return the rules for the classes that a drawing uses."""
    return _format_rules(frozenset(used))


@lru_cache(maxsize=STYLES_KEPT)
def _format_rules(wanted: frozenset[str]) -> str:
    shapes = "".join(
        f".{LINE_CLASS[layer]}{{stroke-width:{_short(width)}"
        + (f";stroke-dasharray:{dashes}" if dashes else "")
        + "}"
        for layer, (width, dashes) in LINES.items()
        if LINE_CLASS[layer] in wanted and (width != NARROW_MM or dashes)
    )
    return (
        "path,circle{fill:none;stroke-width:.25;stroke-linecap:round;stroke-linejoin:round}"
        f'svg{{font:{_short(TEXT_MM)}px "DejaVu Sans",Verdana,sans-serif}}'
        f".{SMALL_CLASS}{{font-size:{_short(SMALLEST_TEXT_MM)}px}}"
        ".b{font-weight:700}.m{text-anchor:middle}.e{text-anchor:end}"
        f".o{{stroke-width:{_short(HALO_MM)};stroke-linejoin:round;paint-order:stroke}}"
        f"{shapes}{_colours(LIGHT, wanted)}"
        f"@media(prefers-color-scheme:dark){{{_colours(DARK, wanted)}}}"
    )


def _colours(scheme: Scheme, wanted: frozenset[str]) -> str:
    """Return the rules that colour a drawing; classes of one colour share a rule."""
    rules: dict[str, list[str]] = {}
    for layer, colour in scheme.lines.items():
        if LINE_CLASS[layer] in wanted:
            rules.setdefault(f"stroke:{colour}", []).append(f".{LINE_CLASS[layer]}")
        if HEAD_CLASS[layer] in wanted:
            rules.setdefault(f"fill:{colour}", []).append(f".{HEAD_CLASS[layer]}")
    for tone, colour in scheme.tones.items():
        if FILL_CLASS[tone] in wanted:
            rules.setdefault(f"fill:{colour}", []).append(f".{FILL_CLASS[tone]}")
    rules.setdefault(f"fill:{scheme.paper}", []).append(".p")
    rules.setdefault(f"fill:{scheme.text}", []).append("text")
    rules.setdefault(f"stroke:{scheme.paper}", []).append(".o")
    return "".join(f"{','.join(names)}{{{rule}}}" for rule, names in rules.items())


def _short(value: float) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".").removeprefix("0")
