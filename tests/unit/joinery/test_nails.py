"""Nails: which one a joint gets, where it stands, and the one hole it needs through both boards.

Lengths are common practice, no source. Bits of 75 % (soft) and 90 % (hard) of the shank at most:
NDS 2018, 12.1.6.3, from memory.
"""

import pytest

from generator.model.fixings import Screw
from generator.model.joinery import BoredHole
from generator.units import SYSTEMS, System
from tests.little_designs import (
    codes,
    joinery_of,
    joinery_problems,
    plan_of,
    say,
    shared_catalogue,
)

TEE = """
parts:
  base:
    from: panel
    length: 900 mm
    width: 400 mm
    runs: {{length: right, width: back}}
  post:
    from: panel
    length: 300 mm
    width: 400 mm
    corner: [300 mm, 0 mm, panel]
    runs: {{length: up, width: back}}
joints:
  - {{join: {join}, with: nails{how}}}
"""
STEPS = "steps:\n  - {title: Nail it, fit: 'base, post'}\n"
NAILS = [screw for screw in shared_catalogue().screws.values() if screw.kind == "nail"]


def tee(how: str = "", join: str = "base to post") -> str:
    return TEE.format(join=join, how=how)


def holes(text: str) -> list[list[BoredHole]]:
    joinery = joinery_of(text)
    return [
        [hole for hole in joinery.holes if hole.fastener == one.id] for one in joinery.fasteners
    ]


@pytest.mark.parametrize(
    ("system", "thickness", "length"),
    [("metric", 18.0, 55.0), ("metric", 12.0, 40.0), ("imperial", 18.25625, 63.5)],
)
def test_a_nail_is_the_shortest_of_three_times_the_first_board(
    system: System, thickness: float, length: float
) -> None:
    found = {one.goods.length_mm for one in joinery_of(tee(), system, thickness).fasteners}

    assert found == {length}


def test_nails_stand_where_face_screws_would() -> None:
    nails = joinery_of(tee()).fasteners
    screws = joinery_of(tee().replace("with: nails", "with: face screws")).fasteners

    assert [one.head for one in screws] == [one.head for one in nails]
    assert [one.direction for one in screws] == [one.direction for one in nails]


def test_one_bit_bores_through_the_first_board_and_into_the_second_as_deep_as_the_nail() -> None:
    for first, second in holes(tee()):
        assert (first.kind, first.piece, first.depth_mm) == ("nail", "base", None)
        assert (second.kind, second.piece) == ("pilot", "post")
        assert first.diameter_mm == second.diameter_mm == pytest.approx(1.8)
        assert first.countersink_mm == 0.0
        assert second.depth_mm == pytest.approx(55.0 - 18.0)


@pytest.mark.parametrize("nail", NAILS, ids=lambda nail: nail.key)
def test_no_bit_takes_more_of_a_nail_than_lets_it_hold(nail: Screw) -> None:
    assert 0.5 * nail.diameter_mm < nail.pilot_soft_mm <= 0.76 * nail.diameter_mm
    assert nail.pilot_soft_mm < nail.pilot_hard_mm <= 0.9 * nail.diameter_mm + 1e-9
    assert nail.pilot_hard_mm < nail.clearance_mm == nail.diameter_mm


def test_nails_start_in_a_face() -> None:
    found = joinery_problems(tee(join="post to base"))

    assert codes(found) == ["J109"]
    assert "nails start in a face" in say(found)


def test_a_nail_that_comes_out_is_called_a_nail() -> None:
    found = joinery_problems(
        """
parts:
  low:
    from: panel
    length: 300 mm
    width: 200 mm
    runs: {length: right, width: back}
  high:
    from: panel
    length: 300 mm
    width: 200 mm
    corner: [0 mm, 0 mm, panel]
    runs: {length: right, width: back}
joints:
  - {join: low to high, with: nails, screw: nail-2x40}
"""
    )

    assert codes(found) == ["J103"]
    assert "nail 1 of joint `low to high` comes within" in say(found)
    assert "the next shorter nail in shared/screws.yml is `nail-2x30`" in say(found)


def test_a_screw_cannot_be_driven_as_a_nail() -> None:
    with pytest.raises(AssertionError, match="no entry `wood-4x40` in shared/screws"):
        joinery_of(tee(", screw: wood-4x40"))


@pytest.mark.parametrize("system", SYSTEMS)
def test_nails_are_bought_with_spares(system: System) -> None:
    plan = plan_of(tee(", count: 4") + STEPS, system)
    bought = [item for item in plan.shopping if "nail" in item.item]

    assert [(1.0, "box of 50", "4 needed, 46 to spare")] == [
        (item.quantity, item.unit, item.note) for item in bought
    ]
