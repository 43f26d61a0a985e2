"""How far pieces sag: what holds them, what stiffens them, and the sag worked out by hand.

The boards are of softwood plywood, 18 mm thick: 6550 N/mm2 along the grain, 545 kg/m3.
"""

import pytest

from generator.joinery.stage import make_joints
from generator.model.strength import Sag, Strength
from generator.strength.stage import work_out_strength
from tests.little_designs import (
    HEAD,
    SHELF_BETWEEN_SIDES,
    edition_of,
    parts_of,
    say,
    shared_catalogue,
)

SHELF = (
    SHELF_BETWEEN_SIDES
    + """\
    carries: LOAD
MORE
joints:
  - {join: shelf to side, with: glue}
JOINTS
steps: [{title: All, fit: "side, shelfFIT"}]
"""
)
BACK = """  back:
    from: panel
    corner: [0 mm, 300 mm, 0 mm]
    length: 936 mm
    width: 600 mm
    runs: {length: right, width: up}
"""
LIP = """  NAME:
    from: panel
    corner: [18 mm, AT mm, 240 mm]
    length: 900 mm
    width: 60 mm
    runs: {length: right, width: up}
"""


def strength_of(text: str, head: str = HEAD) -> Strength:
    edition, parts = edition_of(text, head=head), parts_of(text, head=head)
    joinery, problems = make_joints(edition, parts)

    assert joinery is not None, say(problems)
    return work_out_strength(edition, parts, joinery)


def shelf(load: str, **more: tuple[str, str]) -> Sag:
    """Return the sag of a shelf 900 mm long between two sides; more parts by name, with joints."""
    text = SHELF.replace("LOAD", load).replace("MORE", "".join(part for part, _ in more.values()))
    joints = "\n".join(f"  - {{join: {join}, with: glue}}" for _, join in more.values() if join)
    fit = "".join(f", {name}" for name in more)
    found = strength_of(text.replace("JOINTS", joints).replace("FIT", fit))

    assert found.unjudged == ()
    (sag,) = found.sags
    return sag


def lip(name: str, at: int) -> tuple[str, str]:
    return LIP.replace("NAME", name).replace("AT", str(at)), f"{name} to shelf"


def by_hand(newtons: float, span: float, stiffness: float) -> float:
    """Return the sag of an evenly loaded beam on two supports, after years."""
    return 1.5 * 5 / 384 * newtons * span**3 / stiffness


OWN_KG = 545e-9 * 900 * 300 * 18
PLAIN = 6550 * 300 * 18**3 / 12


def test_a_shelf_sags_between_its_sides_as_worked_out_by_hand() -> None:
    sag = shelf("30 kg")

    assert (sag.piece, sag.ends, sag.strips) == ("shelf", "both ends", ())
    assert sag.span_mm == pytest.approx(900)
    assert sag.load_kg == pytest.approx(30 + OWN_KG)
    assert sag.sag_mm == pytest.approx(by_hand(9.80665 * (30 + OWN_KG), 900, PLAIN))
    assert sag.allowed_mm == pytest.approx(900 / 144)


@pytest.mark.parametrize("load", ["27 kg", "30 kg per m", "100 kg per sq m"])
def test_a_load_may_be_told_in_all_by_the_length_or_by_the_area(load: str) -> None:
    assert shelf(load).load_kg == pytest.approx(27 + OWN_KG)


def test_pounds_a_foot_are_the_same_load_in_other_units() -> None:
    assert shelf("25 lb per ft").load.mass_kg == pytest.approx(25 * 0.45359237 / 0.3048)
    assert shelf("40 lb per sq ft").load.mass_kg == pytest.approx(40 * 0.45359237 / 0.3048**2)


def test_a_load_on_one_spot_bends_at_once_and_does_not_stay() -> None:
    sag = shelf("60 kg on one spot")
    spot = 9.80665 * 60 * 900**3 / (48 * PLAIN)

    assert sag.sag_mm == pytest.approx(spot + by_hand(9.80665 * OWN_KG, 900, PLAIN))


def test_a_partition_under_the_middle_halves_the_span() -> None:
    partition = """  partition:
    from: panel
    corner: [459 mm, 0 mm, 0 mm]
    length: 300 mm
    width: 300 mm
    runs: {length: up, width: back}
"""
    sag = shelf("30 kg per m", partition=(partition, ""))

    assert sag.span_mm == pytest.approx(441)


def test_a_partition_that_stands_on_a_shelf_does_not_carry_it() -> None:
    partition = """  partition:
    from: panel
    corner: [459 mm, 0 mm, 318 mm]
    length: 200 mm
    width: 300 mm
    runs: {length: up, width: back}
"""
    sag = shelf("30 kg per m", partition=(partition, "partition to shelf"))

    assert sag.span_mm == pytest.approx(900)


def test_a_lip_alone_does_not_count() -> None:
    assert shelf("30 kg", lip=lip("lip", 0)).sag_mm == pytest.approx(shelf("30 kg").sag_mm)


def test_a_back_alone_does_not_count() -> None:
    back = (BACK, "back to shelf")

    assert shelf("30 kg", back=back).sag_mm == pytest.approx(shelf("30 kg").sag_mm)


def test_lips_along_both_sides_count_by_their_own_stiffness() -> None:
    sag = shelf("30 kg", one=lip("one", 0), two=lip("two", 282))
    strip = 6550 * 18 * 60**3 / 12
    at = (150 - 9) / 150

    assert sag.strips == ("one", "two")
    assert sag.sag_mm == pytest.approx(by_hand(9.80665 * (30 + OWN_KG), 900, PLAIN + 2 * strip))
    assert 0.9 < at < 1


def test_a_strip_that_a_shelf_is_housed_in_counts_once() -> None:
    """Its floor and both walls touch the shelf, which is 300 - 2 x 18 + 2 x 6 mm wide."""
    text = SHELF.replace("    width: 300 mm\n    runs: {length: right", "    runs: {length: right")
    text = text.replace(
        "side.right}", "side.right, front: into one by 6 mm, back: into two by 6 mm}"
    )
    lips = [lip(name, at)[0].replace("60 mm", "120 mm") for name, at in (("one", 0), ("two", 282))]
    text = text.replace("LOAD", "30 kg").replace("MORE", "".join(lips)).replace("FIT", ", one, two")
    (sag,) = strength_of(
        text.replace("JOINTS", "  - {join: 'shelf to one, two', with: glue}\n")
    ).sags
    plain, strip = 6550 * 276 * 18**3 / 12, 6550 * 18 * 120**3 / 12
    load = 9.80665 * (30 + OWN_KG * 276 / 300)

    assert sag.strips == ("one", "two")
    assert sag.sag_mm == pytest.approx(by_hand(load, 900, plain + 2 * strip))


def test_a_lip_in_front_and_a_back_count_together() -> None:
    sag = shelf("30 kg", lip=lip("lip", 0), back=(BACK, "back to shelf"))

    assert sag.strips == ("lip", "back")
    assert sag.sag_mm < shelf("30 kg").sag_mm / 3


def test_a_strip_that_only_lies_against_a_shelf_does_not_count() -> None:
    one, two = lip("one", 0)[0], lip("two", 282)[0]

    assert shelf("30 kg", one=(one, ""), two=(two, "")).strips == ()


def test_a_hole_makes_a_shelf_as_weak_as_its_narrowest_place() -> None:
    hole = "    openings: [{hole: 100 mm, from left: 450 mm, from front: 150 mm}]\n"
    sag = shelf("30 kg", shelf=(hole, ""))
    load = 9.80665 * (30 + OWN_KG - 545e-9 * 18 * 3.14159265 * 50**2)

    assert sag.sag_mm == pytest.approx(by_hand(load, 900, PLAIN * 200 / 300), rel=1e-3)


BATTENS = """
parts:
  side:
    from: panel
    length: 600 mm
    width: 300 mm
    runs: {length: up, width: back}
    at:
      left: {}
      right: {corner: [918 mm, 0 mm, 0 mm]}
  batten:
    from: panel
    length: 300 mm
    width: 30 mm
    runs: {length: back, width: up}
    at:
      left: {corner: [18 mm, 0 mm, 270 mm]}
      right: {corner: [900 mm, 0 mm, 270 mm]}
  shelf:
    from: panel
    corner: [20 mm, 0 mm, 300 mm]
    length: 896 mm
    width: 300 mm
    runs: {length: right, width: back}
    carries: 30 kg
joints:
  - {join: batten.left to side.left, with: HOW}
  - {join: batten.right to side.right, with: HOW}
  - {join: shelf to batten, with: nothing}
steps: [{title: All, fit: "side, batten, shelf"}]
"""


def test_a_shelf_that_lies_on_battens_fixed_to_the_sides_spans_from_one_to_the_other() -> None:
    (sag,) = strength_of(BATTENS.replace("HOW", "glue")).sags

    assert sag.span_mm == pytest.approx(864)


def test_battens_that_nothing_holds_along_their_length_hold_nothing() -> None:
    found = strength_of(BATTENS.replace("HOW", "nothing"))

    assert found.sags == ()
    assert [one.piece for one in found.unjudged] == ["shelf"]
    assert "holds it up" in found.unjudged[0].why


PLANK = """
parts:
  post:
    from: panel
    each: number in 1..POSTS
    corner: [100 mm + (number - 1) * 600 mm, 0 mm, 0 mm]
    length: 400 mm
    width: 200 mm
    runs: {length: up, width: back}
  plank:
    from: panel
    corner: [0 mm, 0 mm, 400 mm]
    length: 1000 mm
    width: 200 mm
    runs: {length: right, width: back}
    carries: 20 kg on one spot
joints: [{join: plank to post, with: glue}]
steps: [{title: All, fit: "post, plank"}]
"""


def test_an_end_that_stands_out_over_two_supports_turns_over_the_last_one() -> None:
    (sag,) = strength_of(PLANK.replace("POSTS", "2")).sags
    stiffness, own = 6550 * 200 * 18**3 / 12, 545e-9 * 282 * 200 * 18
    spot = 9.80665 * 20 * 282**2 * (582 + 282) / (3 * stiffness)
    rest = 1.5 * 9.80665 * own * 282**2 * (4 * 582 + 3 * 282) / (24 * stiffness)

    assert sag.ends == "one end"
    assert sag.span_mm == pytest.approx(282)
    assert sag.sag_mm == pytest.approx(spot + rest)
    assert sag.allowed_mm == pytest.approx(2 * 282 / 144)


@pytest.mark.parametrize("turn", ["37 deg about up", "90 deg about up", "180 deg about up"])
def test_a_board_sags_no_less_when_the_whole_is_turned_on_the_floor(turn: str) -> None:
    text = PLANK.replace("POSTS", "2")
    frames = f"\nframes: {{all: {{at: [70 mm, 30 mm, 0 mm], turn: {turn}}}}}"
    turned = frames + text.replace("from: panel\n", "from: panel\n    frame: all\n")
    (sag,), (other,) = strength_of(text).sags, strength_of(turned).sags

    assert other.sag_mm == pytest.approx(sag.sag_mm)
    assert other.span_mm == pytest.approx(sag.span_mm)


def test_a_plank_on_one_post_is_held_there_and_hangs_out() -> None:
    (sag,) = strength_of(PLANK.replace("POSTS", "1")).sags
    stiffness, own = 6550 * 200 * 18**3 / 12, 545e-9 * 882 * 200 * 18

    assert sag.ends == "one end"
    assert sag.span_mm == pytest.approx(882)
    assert sag.sag_mm == pytest.approx(9.80665 * 882**3 / stiffness * (20 / 3 + 1.5 * own / 8))


def test_a_board_on_edge_bends_the_stiff_way() -> None:
    text = PLANK.replace("POSTS", "2").replace(
        "    width: 200 mm\n    runs: {length: right, width: back}\n    carries",
        "    width: 200 mm\n    runs: {length: right, width: up}\n    carries",
    )
    (sag,) = strength_of(text).sags
    stiffness = 6550 * 18 * 200**3 / 12

    assert sag.thickness_mm == pytest.approx(200)
    assert sag.sag_mm < 9.80665 * 30 * 282**2 * (582 + 282) / (3 * stiffness)


def test_a_board_that_stands_on_end_is_not_judged() -> None:
    text = PLANK.replace("POSTS", "2").replace("    carries: 20 kg on one spot\n", "").replace(
        "    width: 200 mm\n    runs: {length: up, width: back}\n",
        "    width: 200 mm\n    runs: {length: up, width: back}\n    carries: 20 kg\n",
    )  # fmt: skip
    found = strength_of(text)

    assert [one.why for one in found.unjudged] == ["its length stands upright"]


def test_of_equal_shelves_only_the_one_that_sags_most_is_told() -> None:
    text = SHELF.replace("LOAD", "30 kg").replace("MORE\n", "").replace("JOINTS\n", "").replace(
        "corner: [0 mm, 0 mm, 300 mm]", "each: row in 1..2\n    corner: [0 mm, 0 mm, row * 200 mm]"
    )  # fmt: skip
    found = strength_of(text.replace("FIT", ""))

    assert [sag.piece for sag in found.sags] == ["shelf[1]"]


ROD = """
parts:
  side:
    from: panel
    length: 600 mm
    width: 300 mm
    runs: {length: up, width: back}
    openings:
      - {hole: rod, from bottom: 500 mm, from front: 150 mm}
    at:
      left: {}
      right: {corner: [818 mm, 0 mm, 0 mm]}
  rail:
    from: rod
    corner: [0 mm, 150 mm - rod / 2, 500 mm - rod / 2]
    length: 836 mm
    runs: {length: right, width: back}
    carries: 12 kg
joints:
  - {join: rail to side, with: glue}
steps: [{title: All, fit: "side, rail"}]
"""


def test_a_rod_sags_between_its_holes_with_the_stiffness_of_a_circle() -> None:
    head = HEAD + "  rod: {imperial: rod-1, metric: rod-25}\n"
    (sag,) = strength_of(ROD, head).sags
    stock = shared_catalogue().boards["rod-25"]
    stiffness = stock.material.stiffness_n_mm2 * 3.14159265 * 25**4 / 64
    own = stock.material.density_kg_m3 * 1e-9 * 3.14159265 * 25**2 / 4 * 836

    assert sag.span_mm == pytest.approx(818)
    assert sag.sag_mm == pytest.approx(
        by_hand(9.80665 * (12 + own) * 818 / 836, 818, stiffness), rel=1e-6
    )


def test_across_the_grain_plywood_counts_half() -> None:
    text = SHELF.replace("LOAD", "30 kg").replace("MORE\n", "").replace("JOINTS\n", "").replace(
        "    width: 300 mm\n    runs: {length: right, width: back}\n    edges",
        "    length: 300 mm\n    runs: {length: back, width: right}\n    edges",
    )  # fmt: skip
    (sag,) = strength_of(text.replace("FIT", "")).sags

    assert sag.span_mm == pytest.approx(900)
    assert sag.sag_mm == pytest.approx(by_hand(9.80665 * (30 + OWN_KG), 900, PLAIN / 2))


def test_a_board_that_lies_on_another_all_over_is_carried_by_that() -> None:
    text = """
parts:
  low: {from: panel, length: 600 mm, width: 300 mm, runs: {length: right, width: back}}
  high: {from: panel, length: 600 mm, width: 300 mm, runs: {length: right, width: back},
         corner: [0 mm, 0 mm, panel], carries: 50 kg}
joints: [{join: high to low, with: glue}]
steps: [{title: All, fit: "low, high"}]
"""
    found = strength_of(text)

    assert (found.sags, found.unjudged) == ((), ())


PINNED = """
parts:
  side:
    from: panel
    length: 600 mm
    width: 300 mm
    runs: {length: up, width: back}
    pins:
      - {hole: 5 mm, deep: 10 mm, pitch: 32 mm, in: inside, along: up, from bottom: 100 mm,
         from front: 40 mm}
      - {hole: 5 mm, deep: 10 mm, pitch: 32 mm, in: inside, along: up, from bottom: 100 mm,
         from back: 40 mm}
    at:
      left: {}
      right: {mirrors: left, across: {right: 468 mm}}
  shelf:
    from: panel
    corner: [20 mm, 0 mm, 198.5 mm]
    length: 896 mm
    width: 300 mm
    runs: {length: right, width: back}
    carries: 30 kg
joints:
  - {join: shelf to side, with: pins}
steps: [{title: All, fit: "side, shelf"}]
"""


def test_a_shelf_on_pins_spans_from_end_to_end_and_a_little_from_front_to_back() -> None:
    """Across, from pin to pin, plywood has half its stiffness."""
    (sag,) = strength_of(PINNED).sags
    load = 9.80665 * (30 + OWN_KG * 896 / 900)
    across = by_hand(load * 220 / 300, 220, 6550 / 2 * 896 * 18**3 / 12)

    assert (sag.piece, sag.ends) == ("shelf", "both ends")
    assert sag.span_mm == pytest.approx(896)
    assert sag.sag_mm == pytest.approx(by_hand(load, 896, PLAIN) + across, rel=1e-9)


def test_a_square_top_on_four_corners_sags_as_plates_do() -> None:
    """0.0249 q a4 / D for isotropic plates, D = E t3 / 12 (1 - 0.3 x 0.3); from memory.

    The same stiffness both ways: MDF. Two beams, one across the other, come within a tenth.
    """
    head = HEAD.replace("metric: board-metric", "metric: mdf-18")
    (sag,) = strength_of(LEGS, head).sags
    load = 9.80665 * (40 + 769e-9 * 620 * 620 * 18)
    plate = 1.5 * 0.0249 * load / 620**2 * 600**4 * 12 * (1 - 0.09) / (3590 * 18**3)

    assert sag.sag_mm == pytest.approx(plate, rel=0.1)


LEGS = """
parts:
  leg:
    from: panel
    each: [row in 0..1, column in 0..1]
    corner: [column * 602 mm, row * 600 mm, 0 mm]
    length: 400 mm
    width: 20 mm
    runs: {length: up, width: back}
  top:
    from: panel
    corner: [0 mm, 0 mm, 400 mm]
    length: 620 mm
    width: 620 mm
    runs: {length: right, width: back}
    carries: 40 kg
joints:
  - {join: top to leg, with: glue}
steps: [{title: All, fit: "leg, top"}]
"""
