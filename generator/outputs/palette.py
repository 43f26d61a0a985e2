"""The colours of all drawings: graphite on paper, one green for what is new; light and dark.

Every colour is checked by the tests against WCAG 2.2: text 4.5:1 (1.4.3), lines 3:1 (1.4.11).
The tones also stand apart as greys, so that a black-and-white print keeps its meaning.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from generator.outputs.scene import Layer, Tone


@dataclass(frozen=True, slots=True)
class Scheme:
    """One set of colours.

    Attributes:
        paper: What the drawing stands on.
        text: Of all words.
        lines: By layer.
        tones: By tone; the empty tone has none.
    """

    paper: str
    text: str
    lines: Mapping[Layer, str]
    tones: Mapping[Tone, str]


LIGHT = Scheme(
    paper="#ffffff",
    text="#202428",
    lines={
        "outline": "#2a2d31",
        "hidden": "#54595e",
        "quiet": "#84898e",
        "dimension": "#4a4f54",
        "mark": "#17603f",
        "center": "#54595e",
        "leader": "#4a4f54",
        "cut": "#17603f",
        "screw": "#202428",
        "glue": "#17603f",
        "edging": "#17603f",
        "grain": "#4a4f54",
        "frame": "#84898e",
    },
    tones={
        "top": "#f8f6f1",
        "front": "#dedbd2",
        "side": "#c2bfb4",
        "new_top": "#cce4d6",
        "new_front": "#a4cdb6",
        "new_side": "#7fb697",
        "quiet": "#fafaf7",
        "wood": "#f2ede1",
        "section": "#d8cdb4",
        "waste": "#d9d9d7",
        "offcut": "#e4f0e9",
        "bubble": "#ffffff",
        "screw": "#202428",
    },
)

DARK = Scheme(
    paper="#1f2328",
    text="#f0f1ee",
    lines={
        "outline": "#e2e4e3",
        "hidden": "#bcc1c4",
        "quiet": "#868d93",
        "dimension": "#c2c7ca",
        "mark": "#7fd1a4",
        "center": "#bcc1c4",
        "leader": "#c2c7ca",
        "cut": "#7fd1a4",
        "screw": "#f4f5f2",
        "glue": "#7fd1a4",
        "edging": "#7fd1a4",
        "grain": "#c2c7ca",
        "frame": "#868d93",
    },
    tones={
        "top": "#545a5f",
        "front": "#3e4349",
        "side": "#2a2d32",
        "new_top": "#327257",
        "new_front": "#265943",
        "new_side": "#1b4132",
        "quiet": "#24282d",
        "wood": "#45413a",
        "section": "#5e5644",
        "waste": "#33363a",
        "offcut": "#22392f",
        "bubble": "#1f2328",
        "screw": "#f4f5f2",
    },
)


def contrast(one: str, other: str) -> float:
    """Return the contrast ratio of two colours, WCAG 2.2, 1 to 21."""
    bright, dim = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (bright + 0.05) / (dim + 0.05)


def _luminance(colour: str) -> float:
    red, green, blue = (_linear(int(colour[i : i + 2], 16) / 255) for i in (1, 3, 5))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _linear(value: float) -> float:
    return value / 12.92 if value <= 0.04045 else float(((value + 0.055) / 1.055) ** 2.4)
