"""Tones of faces as greys: CIE 1976 lightness of their luminance, as a black-and-white print has.

L* = 116 Y^(1/3) - 16 for Y > (6/29)^3, CIE 15:2004 (from memory). Anchors worked out by hand: Y = 1
is L* 100, Y = 0.1842 is L* 50. A difference of 8 is our own limit: about three times the one at
which neighbours are said to be just told apart (2.3, common practice, no source).
"""

from itertools import pairwise

import pytest

from generator.outputs.palette import DARK, LIGHT, Scheme
from generator.outputs.scene import Tone
from tests.published.test_contrast import relative_luminance

APART = 8.0
SCHEMES = pytest.mark.parametrize("scheme", [LIGHT, DARK], ids=["light", "dark"])


def lightness(luminance: float) -> float:
    """Return L* of a luminance from 0 to 1."""
    if luminance > (6 / 29) ** 3:
        return float(116 * luminance ** (1 / 3) - 16)
    return luminance * (29 / 3) ** 3


def greys(scheme: Scheme, *tones: Tone) -> list[float]:
    """Return the lightness of tones."""
    return [lightness(relative_luminance(scheme.tones[tone])) for tone in tones]


@pytest.mark.parametrize(("luminance", "wanted"), [(1.0, 100.0), (0.1842, 50.0), (0.0, 0.0)])
def test_the_formula_gives_the_known_lightness(luminance: float, wanted: float) -> None:
    assert lightness(luminance) == pytest.approx(wanted, abs=0.01)


@SCHEMES
def test_top_front_and_side_of_a_piece_are_three_greys(scheme: Scheme) -> None:
    for tones in (("top", "front", "side"), ("new_top", "new_front", "new_side")):
        steps = [a - b for a, b in pairwise(greys(scheme, *tones))]

        assert min(steps) >= APART


@SCHEMES
def test_new_pieces_differ_in_grey_from_quiet_ones_from_every_side(scheme: Scheme) -> None:
    quiet, *new = greys(scheme, "quiet", "new_top", "new_front", "new_side")

    assert min(abs(quiet - one) for one in new) >= APART
