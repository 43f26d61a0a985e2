"""How wide a line of text is, from the metrics of DejaVu Sans.

The typeface comes with matplotlib; it is also the first choice of every drawing's style, so what
is measured here is what a reader sees, or nearly so where a browser takes Verdana instead.
"""

import functools
import importlib.util
from collections.abc import Mapping
from pathlib import Path

from fontTools.ttLib import TTFont

TEXTS_KEPT = 4096
"""So many widths are remembered: the same names and sizes stand on many drawings."""

UNKNOWN_EM = 0.7
"""Width given to a sign the typeface lacks."""

ASCENT_EM = 0.76
"""How far figures and capitals with an accent rise over the base line."""

DESCENT_EM = 0.24
"""How far letters such as g hang below it."""


def text_width_mm(text: str, size_mm: float, bold: bool = False) -> float:
    """Return the width of one line of text; ``size_mm`` is the height of the type."""
    return size_mm * _width_em(text, bold)


def find_font(bold: bool = False) -> Path:
    """Return the path of the typeface file.

    Raises:
        FileNotFoundError: matplotlib is not installed.
    """
    spec = importlib.util.find_spec("matplotlib")
    if spec is None or not spec.submodule_search_locations:
        raise FileNotFoundError("the typeface of the drawings comes with matplotlib")
    name = "DejaVuSans-Bold.ttf" if bold else "DejaVuSans.ttf"
    return Path(spec.submodule_search_locations[0]) / "mpl-data" / "fonts" / "ttf" / name


@functools.lru_cache(maxsize=TEXTS_KEPT)
def _width_em(text: str, bold: bool) -> float:
    widths = _widths_em(bold)
    return sum([widths.get(sign, UNKNOWN_EM) for sign in text])


@functools.cache
def _widths_em(bold: bool) -> Mapping[str, float]:
    with TTFont(find_font(bold), lazy=True) as font:
        advance = font["hmtx"].metrics
        units = font["head"].unitsPerEm
        return {chr(code): advance[glyph][0] / units for code, glyph in font.getBestCmap().items()}
