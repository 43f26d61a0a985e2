"""Bolts: through the face of the first piece into inserts in the second, never glued.

Inserts and their bits, one diameter of thread at least, and bolts of about a third of the
thickness are common practice, no source.
"""

import pytest

from generator.model.fixings import Bolt
from generator.model.joinery import BoredHole
from generator.units import System
from tests.little_designs import (
    codes,
    joinery_of,
    joinery_problems,
    plan_of,
    read_text,
    say,
    shared_catalogue,
)

CASE = """
parts:
  side:
    from: panel
    length: 600 mm
    width: 300 mm
    runs: {length: up, width: back}
  shelf:
    from: panel
    length: 400 mm
    width: 300 mm
    corner: [panel, 0 mm, 200 mm]
    runs: {length: right, width: back}
joints:
  - {join: %s, with: bolts%s}
"""
STEPS = "steps:\n  - {title: Bolt it, fit: 'side, shelf'}\n"
BOLTS = list(shared_catalogue().bolts.values())


def case(join: str = "side to shelf", how: str = "") -> str:
    return CASE % (join, how)


def holes_of(
    text: str, system: System = "metric", thickness: float = 18.0
) -> list[tuple[BoredHole, BoredHole]]:
    joinery = joinery_of(text, system, thickness)
    pairs = [[h for h in joinery.holes if h.fastener == one.id] for one in joinery.fasteners]
    return [(first, second) for first, second in pairs]


@pytest.mark.parametrize(
    ("system", "thickness", "key"),
    [
        ("metric", 18.0, "bolt-m6x30"),
        ("metric", 38.0, "bolt-m8x50"),
        ("imperial", 18.25625, "bolt-1/4x1-1/4"),
        ("imperial", 38.1, "bolt-5/16x2"),
    ],
)
def test_a_bolt_is_about_a_third_as_thick_as_the_piece_and_the_shortest_that_holds(
    system: System, thickness: float, key: str
) -> None:
    assert {one.goods.key for one in joinery_of(case(), system, thickness).fasteners} == {key}


def test_the_head_stands_on_its_washer_and_the_bolt_in_its_insert() -> None:
    """30 mm of bolt less 1.6 mm of washer and 18 mm of side: 10.4 mm in a 13 mm insert."""
    joinery = joinery_of(case())

    assert joinery.fasteners
    for one in joinery.fasteners:
        assert isinstance(one.goods, Bolt)
        assert one.head[0] == pytest.approx(-1.6)
        assert one.tip[0] - 18.0 == pytest.approx(10.4)
        assert one.goods.diameter_mm <= 10.4 <= one.goods.insert.length_mm


def test_the_first_hole_lets_the_bolt_pass_and_the_second_takes_the_insert() -> None:
    for first, second in holes_of(case()):
        assert (first.kind, first.diameter_mm, first.depth_mm) == ("clearance", 7.0, None)
        assert first.countersink_mm == 0.0
        assert (second.kind, second.diameter_mm) == ("insert", 8.5)
        assert second.depth_mm == pytest.approx(15.0)
        assert float(second.at[2]) == pytest.approx(9.0)


def test_a_hard_panel_gets_the_wider_bit_for_the_insert() -> None:
    stock = "stock:\n  panel: {imperial: mdf-3/4, metric: mdf-18}\n"
    hard = f"title: Hard\ndate: 2026-11-25\nstands: hung\n{stock}"
    found = plan_of(case() + STEPS, head=hard).joinery.holes

    assert {hole.diameter_mm for hole in found if hole.kind == "insert"} == {9.0}


def test_bolts_start_in_a_face() -> None:
    assert codes(joinery_problems(case("shelf to side"))) == ["J109"]


def test_a_bolt_that_does_not_reach_its_insert_is_reported() -> None:
    found = joinery_problems(case(how=", bolt: bolt-m6x20"))

    assert codes(found) == ["J107"]
    assert "bolt 1 of joint `side to shelf` holds `shelf` by only 0.4 mm; 6 mm" in say(found)


def test_an_insert_too_thick_for_an_edge_is_reported() -> None:
    found = joinery_problems(case(how=", bolt: bolt-m8x40"), thickness_mm=15.0)

    assert codes(found) == ["J103"]


def test_a_thin_panel_takes_no_bolt() -> None:
    assert codes(joinery_problems(case(), thickness_mm=12.0)) == ["J102"]


def test_a_bolted_joint_is_not_glued() -> None:
    assert not joinery_of(case()).joints[0].glue
    with pytest.raises(AssertionError, match="D119"):
        read_text(case(how=", glue: yes"))


FLAT = """
parts:
  plank:
    from: panel
    length: 500 mm
    width: 150 mm
    runs: {length: right, width: back}
    at:
      low: {}
      high: {corner: [0 mm, 0 mm, panel]}
joints:
  - {join: plank.high to plank.low, with: bolts, count: 2, nuts: yes%s}
"""


@pytest.mark.parametrize(
    ("system", "thickness", "key"),
    [("metric", 18.0, "bolt-m6x50"), ("imperial", 18.25625, "bolt-1/4x2")],
)
def test_a_bolt_with_a_nut_reaches_through_both_parts_two_washers_and_the_nut(
    system: System, thickness: float, key: str
) -> None:
    """18 + 18 mm of wood, two washers of 1.6 mm, a nut of 5.2 mm and a turn: more than 45 mm."""
    joinery = joinery_of(FLAT % "", system, thickness)

    assert {one.goods.key for one in joinery.fasteners} == {key}
    assert [(True, False)] * 2 == [
        (one.has_nut, joint.glue) for one in joinery.fasteners for joint in joinery.joints
    ]
    for first, second in holes_of(FLAT % "", system, thickness):
        assert (first.kind, second.kind) == ("clearance", "bolt")
        assert first.depth_mm is None
        assert second.depth_mm is None
        assert first.diameter_mm == second.diameter_mm


def test_a_bolt_too_short_for_its_nut_is_reported() -> None:
    found = joinery_problems(FLAT % ", bolt: bolt-m6x40")

    assert codes(found) == ["J107"]
    assert "holds `plank.low` by only 0.8 mm; 6.2 mm is needed" in say(found)


def test_a_nut_needs_a_face_to_stand_on() -> None:
    assert codes(joinery_problems(case(how=", nuts: yes"))) == ["J109"]


def test_a_bolt_with_a_nut_is_bought_with_two_washers_and_no_insert() -> None:
    steps = "steps:\n  - {title: All, fit: plank}\n"
    bought = {item.item: item.quantity for item in plan_of(FLAT % "" + steps).shopping}

    assert (bought["M6 washer"], bought["M6 hex nut"]) == (4.0, 2.0)
    assert not any("insert" in name for name in bought)


def test_a_bolt_is_bought_with_its_washer_and_its_insert() -> None:
    bought = {item.item: item for item in plan_of(case(how=", count: 4") + STEPS).shopping}

    for name in ("M6 machine bolt, 30 mm long", "M6 washer", "M6 threaded insert, 13 mm long"):
        assert (bought[name].quantity, bought[name].unit) == (4.0, "pieces")
        assert bought[name].note.startswith("4 needed")


@pytest.mark.parametrize("bolt", BOLTS, ids=lambda bolt: bolt.key)
def test_a_bolt_passes_its_hole_and_its_washer_covers_it(bolt: Bolt) -> None:
    assert bolt.diameter_mm < bolt.clearance_mm <= bolt.diameter_mm + 1.1
    assert bolt.washer_mm >= 2 * bolt.clearance_mm
    assert bolt.diameter_mm < bolt.insert.bit_soft_mm < bolt.insert.bit_hard_mm
    assert bolt.insert.length_mm >= bolt.diameter_mm
