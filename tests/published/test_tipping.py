"""What tips a piece, against worked examples of equilibrium: moments about the front edge.

The examples are arithmetic; the height of 56 in and the block of 10.9 mm are those of ASTM F2057-23
as test laboratories tell of them (the height from memory).
"""

import math

import pytest

from generator.strength.tipping import (
    critical_tilt_deg,
    load_beyond_mm,
    push_to_tip_n,
)

MASS_KG, BEHIND_MM, CENTER_MM, PUSH_AT_MM = 40.0, 150.0, 900.0, 56 * 25.4
BLOCK_DEG = math.degrees(math.atan(10.9 / 300))


def lever_on_slope_mm(slope_deg: float) -> float:
    """Return how far behind the edge the centre of mass still is on a slope down to that edge."""
    slope = math.radians(slope_deg)
    return BEHIND_MM * math.cos(slope) - CENTER_MM * math.sin(slope)


def test_forty_kilograms_300_mm_deep_tip_by_41_4_newtons() -> None:
    push = push_to_tip_n(MASS_KG, BEHIND_MM, PUSH_AT_MM)

    assert push == pytest.approx(41.4, abs=0.05)
    assert push / 4.448221615 == pytest.approx(9.30, abs=0.005)


def test_on_a_block_under_the_rear_edge_by_32_3_newtons() -> None:
    lever = lever_on_slope_mm(BLOCK_DEG)

    assert pytest.approx(2.08, abs=0.005) == BLOCK_DEG
    assert lever == pytest.approx(117.2, abs=0.05)
    assert push_to_tip_n(MASS_KG, lever, PUSH_AT_MM) == pytest.approx(32.3, abs=0.05)


def test_it_falls_on_a_slope_of_9_46_degrees() -> None:
    tilt = critical_tilt_deg(BEHIND_MM, CENTER_MM)

    assert tilt == pytest.approx(9.46, abs=0.005)
    assert lever_on_slope_mm(tilt) == pytest.approx(0, abs=1e-9)


def test_a_child_that_hangs_150_mm_in_front_does_not_tip_it_alone() -> None:
    """27.2 kg, 150 mm in front: 40.0 Nm against 58.8 Nm."""
    assert 27.2 * 9.80665 * 0.150 == pytest.approx(40.0, abs=0.05)
    assert MASS_KG * 9.80665 * 0.150 == pytest.approx(58.8, abs=0.05)
    assert load_beyond_mm(MASS_KG, BEHIND_MM, 27.2) > 150


@pytest.mark.parametrize(
    ("depth_in", "degrees"), [(16.42, 1.50), (12, 2.05), (14, 1.76), (18, 1.37), (24, 1.03)]
)
def test_a_block_of_0_43_in_tilts_a_piece_by_its_depth(depth_in: float, degrees: float) -> None:
    # The block: a laboratory's description of ASTM F2057-23; the tilts are arithmetic.
    assert math.degrees(math.atan(0.43 / depth_in)) == pytest.approx(degrees, abs=0.005)
