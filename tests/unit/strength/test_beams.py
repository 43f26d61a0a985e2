"""Strips along a board: what they add to its stiffness, and when they add nothing."""

import pytest

from generator.strength.beams import stiffen

BOARD = 100.0
BACK = 1e9


def test_a_board_without_strips_is_as_stiff_as_it_is() -> None:
    assert stiffen(BOARD, []) == BOARD


def test_equal_strips_along_both_sides_add_their_own_stiffness() -> None:
    assert stiffen(BOARD, [(-1.0, 50.0), (1.0, 50.0)]) == pytest.approx(200.0)


def test_a_strip_under_the_middle_adds_its_own_stiffness() -> None:
    assert stiffen(BOARD, [(0.0, 50.0)]) == pytest.approx(150.0)


@pytest.mark.parametrize("strip", [10.0, 100.0, BACK])
def test_one_strip_at_one_side_adds_nothing(strip: float) -> None:
    """It holds its own side; the other one sags as before."""
    assert stiffen(BOARD, [(1.0, strip)]) == BOARD


def test_a_strip_in_front_and_a_back_that_does_not_bend_share_the_load() -> None:
    """Turning about the back: the board resists by a third, the strip in full, each carries half.

    Moments about the back: load Q b / 2 = (P / 3 + F) b x sag, so Q / sag = 2 (P / 3 + F).
    """
    assert stiffen(BOARD, [(-1.0, 200.0), (1.0, BACK)]) == pytest.approx(
        2 * (BOARD / 3 + 200.0), rel=1e-5
    )


def test_a_stiffer_strip_never_makes_a_board_with_a_back_weaker() -> None:
    found = [stiffen(BOARD, [(-1.0, strip), (1.0, BACK)]) for strip in (0.0, 10.0, 50.0, 400.0)]

    assert found == sorted(found)
