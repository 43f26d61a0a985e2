"""Colours against WCAG 2.2, W3C Recommendation of 5 October 2023.

Criteria 1.4.3 (text 4.5:1) and 1.4.11 (graphics 3:1), and the definitions of contrast ratio and
relative luminance. The formula below is written from the text of the definition; the vectors
are worked out from it by hand.
"""

import re
from pathlib import Path

import pytest

from generator.outputs.palette import DARK, LIGHT, Scheme, contrast
from generator.outputs.scene import Tone
from generator.pages.templates import TEMPLATES

TEXT_RATIO = 4.5
GRAPHICS_RATIO = 3.0
CSS = TEMPLATES / "assets" / "plan.css"
SOLID_TONES: tuple[Tone, ...] = ("top", "front", "side", "new_top", "new_front", "new_side")
TEXT_PAIRS = [
    ("ink", "page"),
    ("ink", "paper"),
    ("ink", "head"),
    ("ink", "green-wash"),
    ("ink", "caution-wash"),
    ("soft", "page"),
    ("soft", "paper"),
    ("soft", "head"),
    ("soft", "green-wash"),
    ("green", "page"),
    ("green", "paper"),
    ("green", "head"),
    ("green", "green-wash"),
    ("on-green", "green"),
    ("caution", "caution-wash"),
]


def relative_luminance(colour: str) -> float:
    """Return it as the standard defines it, with the threshold 0.04045."""
    linear = []
    for start in (1, 3, 5):
        value = int(colour[start : start + 2], 16) / 255
        linear.append(value / 12.92 if value <= 0.04045 else ((value + 0.055) / 1.055) ** 2.4)
    return float(0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2])


def ratio(one: str, other: str) -> float:
    """Return (L1 + 0.05) / (L2 + 0.05) with L1 the lighter."""
    lighter, darker = sorted((relative_luminance(one), relative_luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def css_colours(scheme: str) -> dict[str, str]:
    """Return the colours of the style sheet in one scheme, by name."""
    text = Path(CSS).read_text(encoding="utf-8")
    block = text.split(":root {")[1] if scheme == "light" else text.split('"dark"] {')[1]
    return dict(re.findall(r"--plan-([a-z-]+): (#[0-9a-f]{6});", block.split("}")[0]))


@pytest.mark.parametrize(
    ("colour", "wanted"),
    [
        ("#000000", 21.00),
        ("#595959", 7.00),
        ("#767676", 4.54),
        ("#777777", 4.48),
        ("#949494", 3.03),
        ("#959595", 2.995),
    ],
)
def test_the_formula_gives_the_known_ratios_on_white(colour: str, wanted: float) -> None:
    assert ratio(colour, "#ffffff") == pytest.approx(wanted, abs=0.005)
    assert contrast(colour, "#ffffff") == pytest.approx(ratio(colour, "#ffffff"), abs=1e-9)


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize(("text", "ground"), TEXT_PAIRS)
def test_text_on_pages_reaches_the_ratio_for_text(scheme: str, text: str, ground: str) -> None:
    colours = css_colours(scheme)

    assert ratio(colours[text], colours[ground]) >= TEXT_RATIO


@pytest.mark.parametrize("scheme", [LIGHT, DARK], ids=["light", "dark"])
def test_text_and_lines_of_drawings_reach_their_ratios_on_paper(scheme: Scheme) -> None:
    assert ratio(scheme.text, scheme.paper) >= TEXT_RATIO
    for colour in scheme.lines.values():
        assert ratio(colour, scheme.paper) >= GRAPHICS_RATIO


@pytest.mark.parametrize(("name", "scheme"), [("light", LIGHT), ("dark", DARK)])
def test_drawings_stand_on_the_paper_of_the_pages(name: str, scheme: Scheme) -> None:
    assert css_colours(name)["paper"] == scheme.paper


@pytest.mark.parametrize(("name", "scheme"), [("light", LIGHT), ("dark", DARK)])
def test_solids_have_the_tones_and_lines_of_the_drawings(name: str, scheme: Scheme) -> None:
    text = (TEMPLATES / "assets" / "plan3d.css").read_text(encoding="utf-8")
    block = text.split(".plan3d {")[1 if name == "light" else 2].split("}")[0]
    tones = {tone: scheme.tones[tone] for tone in SOLID_TONES}
    wanted = {tone.replace("_", "-"): colour for tone, colour in tones.items()}
    wanted |= {"paper": scheme.paper, "line": scheme.lines["outline"]}
    wanted |= {"pointed": scheme.lines["mark"]}

    assert wanted == dict(re.findall(r"--solid-([a-z-]+): (#[0-9a-f]{6});", block))
