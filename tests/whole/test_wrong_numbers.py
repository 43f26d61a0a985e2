"""One wrong number in a demo design: a check catches it, or the plan changes just as it should.

Twenty slips for each design, typed as a hand would make them: figures swapped, a point lost, a
figure too many, the wrong half. All in the metric edition. The sizes a changed plan must have are
worked out on paper from the design, with 18 and 12 mm plywood; the less plain ones say how.
"""

from dataclasses import dataclass
from functools import cache
from pathlib import Path

import pytest

from generator.build import build_plan
from generator.design.read import parse_design
from generator.model.plan import Plan
from generator.problems import Problem, ProblemLog
from tests.little_designs import codes, piece_named, say, shared_catalogue

ROOT = Path(__file__).parents[2]
SLIPS = 20


@dataclass(frozen=True, slots=True)
class Slip:
    """A wrong number and what must come of it.

    Attributes:
        right: As it stands in the design, once.
        wrong: What is written instead.
        caught: Codes of the problems, each once; none where the plan is as sound as before.
        sizes: Parts whose sizes or counts change, by name: how many, length and width.
        moved: For slips that only move something: a piece, and by how much its corner moves.
    """

    right: str
    wrong: str
    caught: tuple[str, ...] = ()
    sizes: tuple[tuple[str, int, float, float], ...] = ()
    moved: tuple[str, tuple[float, float, float]] | None = None


STAND = (
    Slip("metric: 1015 mm", "metric: 10150 mm", ("E101",)),
    Slip("metric: 610 mm", "metric: 601 mm", sizes=(
        ("tray_bottom", 3, 565, 348.35), ("lip", 4, 565, 75), ("rail", 3, 565, 83.63))),
    Slip("metric: 355 mm", "metric: 335 mm", sizes=(
        # bottom: 317 / cos 12° + 18 tan 12°; rail: 317 tan 12° + 12
        ("side", 2, 1015, 335), ("tray_bottom", 3, 574, 327.91), ("rail", 3, 574, 79.38))),
    Slip("lean: {value: 12 deg", "lean: {value: 21 deg", ("E101",)),
    Slip("lean: {value: 12 deg", "lean: {value: 11 deg", sizes=(
        # bottom: 337 / cos 11° + 18 tan 11°; rail: 337 tan 11° + 12
        ("tray_bottom", 3, 574, 346.81), ("rail", 3, 574, 77.51))),
    Slip("trays: {value: 3", "trays: {value: 4", ("J101", "J108")),
    Slip("trays: {value: 3", "trays: {value: 2", sizes=(
        ("tray_bottom", 2, 574, 348.35), ("lip", 3, 574, 75), ("rail", 2, 574, 83.63))),
    Slip("trays: {value: 3", "trays: {value: 3.5", ("E114",)),
    Slip("lowest: {imperial: 3 in, metric: 75 mm", "lowest: {imperial: 3 in, metric: 57 mm",
         moved=("lip[1]", (0, 0, -18))),
    Slip("metric: 305 mm", "metric: 35 mm", ("J108",)),
    Slip("lip: {imperial: 3 in, metric: 75 mm", "lip: {imperial: 3 in, metric: 57 mm",
         sizes=(("lip", 4, 574, 57),)),
    Slip("metric: 12 mm", "metric: 21 mm", sizes=(("rail", 3, 574, 92.63),)),
    Slip("metric: 250 mm", "metric: 2500 mm", ("P103",)),
    Slip("metric: 230 mm", "metric: 320 mm", ("P104",)),
    Slip("grip: {imperial: 3 1/2 in, metric: 90 mm", "grip: {imperial: 3 1/2 in, metric: 9 mm",
         ("E101",)),
    Slip("metric: 20 mm", "metric: 200 mm", ("E101",)),
    Slip("from_end: {imperial: 4 in, metric: 100 mm", "from_end: {imperial: 4 in, metric: 10 mm",
         ("P104",)),
    Slip("across: {right: width / 2}", "across: {right: width / 3}", ("P105",)),
    Slip("corner: [0 in, depth - panel, -below]", "corner: [0 in, depth, -below]", ("J101",)),
    Slip("at: [0 in, panel, lowest", "at: [0 in, 0 in, lowest", sizes=(
        ("rail", 3, 574, 87.46),)),  # 355 tan 12° + 12
)  # fmt: skip

BENCH = (
    Slip("metric: 1830 mm", "metric: 1380 mm", sizes=(
        ("bottom", 1, 1344, 406), ("toe_board", 1, 1344, 90), ("seat_board", 1, 1380, 418),
        ("back", 1, 1380, 1065), ("hook_rail", 1, 1332, 125))),
    Slip("metric: 1830 mm", "metric: 18.3 mm", ("E101",)),
    Slip("metric: 1065 mm", "metric: 1650 mm", ("E101",)),
    Slip("metric: 430 mm", "metric: 340 mm", ("E101",)),
    Slip("metric: 430 mm", "metric: 403 mm", sizes=(
        ("side", 2, 437, 379), ("bottom", 1, 1794, 379), ("partition", 3, 329, 379),
        ("seat_board", 1, 1830, 391))),
    Slip("metric: 455 mm", "metric: 545 mm", ("E101",)),
    Slip("metric: 455 mm", "metric: 445 mm", sizes=(
        ("side", 2, 427, 406), ("partition", 3, 319, 406))),
    Slip("bays: {value: 4", "bays: {value: 3", sizes=(("partition", 2, 329, 406),)),
    Slip("bays: {value: 4", "bays: {value: 40", ("J108",)),
    Slip("bays: {value: 4", "bays: {value: 0", ("E105", "E108")),
    Slip("metric: 12 mm", "metric: 21 mm", sizes=(
        ("side", 2, 437, 397), ("bottom", 1, 1794, 397), ("partition", 3, 329, 397),
        ("hook_rail", 1, 1746, 125))),
    Slip("metric: 90 mm", "metric: 900 mm", ("P102",)),
    Slip("metric: 90 mm", "metric: 9 mm", ("J104", "J106")),
    Slip("metric: 90 mm", "metric: 100 mm", sizes=(
        ("toe_board", 1, 1794, 100), ("partition", 3, 319, 406))),
    Slip("metric: 50 mm", "metric: 500 mm", ("J101",)),
    Slip("metric: 125 mm", "metric: 152 mm", sizes=(("hook_rail", 1, 1782, 152),)),
    Slip("(bays + 1) * panel) / bays", "(bays - 1) * panel) / bays",
         moved=("partition[1]", (9, 0, 0))),  # two panels more over four bays
    Slip("across: {right: width / 2}", "across: {right: width / 4}", ("J108",)),
    Slip("length: seat - panel", "length: seat", ("J101",)),
    Slip("corner: [0 in, 0 in, seat - panel]", "corner: [0 in, 0 in, seat]", ("J101",)),
)  # fmt: skip

WALL = (
    Slip("rails: {value: 6", "rails: {value: 60", ("N101",)),
    Slip("rails: {value: 6", "rails: {value: 5", sizes=(
        ("rail", 5, 890, 75), ("upright", 3, 875, 90))),
    Slip("rails: {value: 6", "rails: {value: 2", ("J101",)),
    Slip("metric: 200 mm", "metric: 20 mm", ("E101",)),
    Slip("metric: 200 mm", "metric: 220 mm", sizes=(("upright", 3, 1175, 90),)),
    Slip("metric: 75 mm", "metric: 57 mm", ("E101",)),
    Slip("metric: 75 mm", "metric: 85 mm", sizes=(
        ("rail", 6, 890, 85), ("upright", 3, 1085, 90), ("cleat", 2, 350, 85))),
    Slip("metric: 400 mm", "metric: 40 mm", ("E101",)),
    Slip("metric: 400 mm", "metric: 600 mm", sizes=(("rail", 6, 1290, 75),)),
    Slip("bevel 45 deg long on front", "bevel 54 deg long on front", ("J101",)),
    Slip("bevel 45 deg long on back", "bevel 40 deg long on back", ("J101",)),
    Slip("bevel 45 deg long on back", "bevel 45 deg long on front", ("J101",)),
    Slip("metric: 350 mm", "metric: 530 mm", ("C101",)),
    Slip("metric: 350 mm", "metric: 300 mm", sizes=(
        ("cleat", 2, 300, 75), ("holder_back", 2, 300, 300), ("shelf", 1, 300, 150),
        ("tool_rack", 1, 300, 90))),
    Slip("metric: 150 mm, says", "metric: 15 mm, says", ("J103", "J106")),
    Slip("metric: 300 mm, says", "metric: 30 mm, says", ("J101",)),
    Slip("metric: 155 mm", "metric: 55 mm", ("J104",)),  # the clip leaves 18 mm in front
    Slip("metric: 28 mm", "metric: 82 mm", ("P104",)),
    Slip("each: number in 1..3", "each: number in 1..4", ("J101",)),
    Slip("* stud, panel, 0 in]", "* stud, 2 * panel, 0 in]", ("J101",)),
)  # fmt: skip

STOOL = (
    Slip("metric: 430 mm", "metric: 403 mm", sizes=(
        ("riser", 1, 327, 200), ("toe_board", 1, 327, 176), ("back_rail", 1, 327, 75),
        ("lower_tread", 1, 403, 190), ("upper_tread", 1, 403, 230))),
    Slip("metric: 430 mm", "metric: 4300 mm", ("E101",)),
    Slip("16 in, metric: 400 mm, min: 340 mm", "16 in, metric: 40 mm, min: 340 mm", ("E101",)),
    Slip("16 in, metric: 400 mm, min: 340 mm", "16 in, metric: 420 mm, min: 340 mm", sizes=(
        ("side", 2, 402, 380), ("riser", 1, 354, 210), ("toe_board", 1, 354, 186))),
    Slip("16 in, metric: 400 mm, min: 380 mm", "16 in, metric: 440 mm, min: 380 mm", sizes=(
        ("side", 2, 382, 420), ("upper_tread", 1, 430, 270))),
    Slip("16 in, metric: 400 mm, min: 380 mm", "16 in, metric: 4000 mm, min: 380 mm", ("E101",)),
    Slip("metric: 20 mm", "metric: 2 mm", sizes=(
        ("side", 2, 382, 398), ("riser", 1, 390, 200), ("toe_board", 1, 390, 176),
        ("back_rail", 1, 390, 75), ("upper_tread", 1, 430, 212))),
    Slip("metric: 20 mm", "metric: 200 mm", ("E109",)),
    Slip("metric: 190 mm", "metric: 19 mm", ("E109",)),
    Slip("metric: 190 mm", "metric: 199 mm", sizes=(
        ("lower_tread", 1, 430, 199), ("upper_tread", 1, 430, 221))),
    Slip("metric: 65 mm", "metric: 650 mm", ("E109",)),
    Slip("metric: 40 mm", "metric: 400 mm", ("P106",)),
    Slip("metric: 40 mm", "metric: 140 mm", ("P106",)),  # more than half of 250 and of 224
    Slip("metric: 6 mm", "metric: 60 mm", sizes=(("toe_board", 1, 354, 122),)),
    Slip("metric: 75 mm, says", "metric: 95 mm, says", sizes=(("back_rail", 1, 354, 95),)),
    Slip("metric: 115 mm", "metric: 11.5 mm", ("E101",)),
    Slip("metric: 32 mm", "metric: 320 mm", ("E101",)),
    Slip("rise: height / 2", "rise: height / 3", sizes=(
        ("riser", 1, 354, 266.67), ("toe_board", 1, 354, 109.33))),
    Slip("across: {right: width / 2}", "across: {right: width / 3}", ("P106",)),
    Slip("corner: [0 in, tread, rise - panel]", "corner: [0 in, tread, rise]", ("J101",)),
)  # fmt: skip

SAWHORSE = (
    Slip("metric: 900 mm", "metric: 90 mm", ("E101",)),
    Slip("metric: 900 mm", "metric: 990 mm", sizes=(("beam", 1, 990, 140),)),
    Slip("metric: 900 mm", "metric: 9000 mm", ("E101",)),
    Slip("metric: 710 mm", "metric: 71 mm", ("E101",)),
    # A leg: height / (cos lean cos spread) + 89 tan spread + 38 tan lean / cos spread.
    Slip("metric: 710 mm", "metric: 701 mm", sizes=(("leg", 4, 751.64, 89),)),
    Slip("lean: {value: 14 deg", "lean: {value: 41 deg", ("E101",)),
    # A brace: 140 + 2 x 140 tan lean. A tie: 140 + 2 tan lean (380 cos spread + 57 sin spread).
    Slip("lean: {value: 14 deg", "lean: {value: 12 deg", sizes=(
        ("leg", 4, 753.66, 89), ("brace", 2, 199.52, 140), ("tie", 2, 303.34, 89))),
    Slip("spread: {value: 8 deg", "spread: {value: 80 deg", ("E101",)),
    Slip("spread: {value: 8 deg", "spread: {value: 10 deg", sizes=(
        ("leg", 4, 768.34, 89), ("tie", 2, 331.55, 89))),
    Slip("metric: 125 mm", "metric: 152 mm", moved=("brace.left", (27, 0, 0))),
    Slip("metric: 125 mm", "metric: 1250 mm", ("J101",)),
    Slip("metric: 380 mm", "metric: 38 mm", ("C101",)),
    Slip("metric: 380 mm", "metric: 830 mm", ("J101",)),
    Slip("metric: 380 mm", "metric: 308 mm", sizes=(("tie", 2, 296.05, 89),)),
    Slip("front: bevel lean, long on bottom", "front: bevel lean, long on top", ("J101",)),
    Slip("turn: [180 deg about up,", "turn: [18 deg about up,", ("J101",)),
    Slip("across: {back: plank_width / 2}", "across: {back: plank_width / 3}", ("J101",)),
    Slip("metric: 38x140", "metric: 38x184", sizes=(
        ("beam", 1, 900, 184), ("brace", 2, 275.75, 184), ("tie", 2, 375.6, 89))),
    Slip("inset + plank / 3", "inset + plank * 3", ("J101",)),
    Slip("length - inset, plank_width", "length - inset, plank", ("J101",)),
)  # fmt: skip

# On paper, s for the slope, 12°, and h for what stands above the feet, 312 mm: front and back are
# length + 2 h tan s long, h / cos s + 18 tan s wide as the ends; these are depth - 36 / cos s +
# 2 h tan s long. The bottom reaches from inner face to inner face on its upper side, 18 mm up:
# length - 36 / cos s + 36 tan s by depth - 36 / cos s + 36 tan s.
PLANTER = (
    Slip("metric: 660 mm", "metric: 606 mm", sizes=(
        ("wall", 2, 738.64, 322.8), ("bottom", 1, 576.85, 250.85))),
    Slip("metric: 660 mm", "metric: 6600 mm", ("E101",)),
    Slip("metric: 280 mm", "metric: 208 mm", ("E101",)),
    Slip("metric: 280 mm", "metric: 300 mm", sizes=(
        ("end", 2, 395.83, 322.8), ("bottom", 1, 630.85, 270.85), ("foot", 2, 228, 75))),
    Slip("metric: 330 mm", "metric: 33 mm", ("E101",)),
    Slip("metric: 330 mm", "metric: 303 mm", sizes=(  # h = 285
        ("wall", 2, 781.16, 295.19), ("end", 2, 364.35, 295.19))),
    Slip("slope: {value: 12 deg", "slope: {value: 21 deg", ("E101",)),
    Slip("slope: {value: 12 deg", "slope: {value: 11 deg", sizes=(
        ("wall", 2, 781.29, 321.34), ("end", 2, 364.62, 321.34), ("bottom", 1, 630.32, 250.32))),
    Slip("metric: 75 mm, says", "metric: 57 mm, says", sizes=(("foot", 2, 208, 57),)),
    Slip("metric: 75 mm, says", "metric: 750 mm, says", ("P104",)),  # holes stand beyond the feet
    Slip("metric: 100 mm", "metric: 10 mm", ("P104",)),
    Slip("metric: 100 mm", "metric: 120 mm", moved=("foot.left", (20, 0, 0))),
    Slip("metric: 20 mm", "metric: 200 mm", ("P104",)),
    Slip("turn: -slope about back", "turn: slope about back", sizes=(
        # the ends lean in: all is longest on the floor, where length is measured
        ("wall", 2, 660, 322.8), ("bottom", 1, 623.2, 250.85))),
    Slip("across: {back: depth / 2}", "across: {back: depth / 3}",
         ("J105", "J110")),  # of the bottom too little is left for its screws and its holes
    Slip("length: depth - 4 * panel", "length: depth - 2 * panel", sizes=(("foot", 2, 244, 75),)),
    Slip("footing: {at: [0 in, 0 in, panel]", "footing: {at: [0 in, 0 in, 2 * panel]", ("J101",)),
    Slip("rim: {at: [0 in, 0 in, height]", "rim: {at: [0 in, 0 in, height - panel]", sizes=(
        ("wall", 2, 784.98, 304.39), ("end", 2, 368.18, 304.39))),  # h = 294
    Slip("from left: inset / 2, from front", "from left: inset * 2, from front", ("P105",)),
    Slip("ends: {imperial: 3 in, metric: 75 mm}", "ends: {imperial: 3 in, metric: 7.5 mm}",
         ("J105",)),
)  # fmt: skip

# On paper: (1830 - 75 - 3 x 18) / 2 = 850.5 mm are clear below the fixed shelf and above it, which
# holds floor(750.5 / 32) + 1 = 24 pins; shelves lie on the 8th and 16th, 256 mm apart.
PANTRY = (
    Slip("metric: 760 mm", "metric: 670 mm", sizes=(
        ("bottom", 3, 634, 288), ("plinth", 1, 634, 75), ("shelf", 4, 630, 286),
        ("wall_rail", 1, 634, 100), ("back", 1, 1830, 670))),
    Slip("metric: 760 mm", "metric: 7600 mm", ("E101",)),
    Slip("metric: 1830 mm", "metric: 1380 mm", ("E121",)),  # 17 pins: 192 - 18 mm for a jar
    Slip("metric: 1830 mm", "metric: 1803 mm", sizes=(
        ("side", 2, 1803, 288), ("back", 1, 1803, 760))),
    Slip("metric: 300 mm, min", "metric: 30 mm, min", ("E101",)),
    Slip("metric: 300 mm, min", "metric: 330 mm, min", sizes=(
        ("side", 2, 1830, 318), ("bottom", 3, 724, 318), ("shelf", 4, 720, 316))),
    Slip("between: {value: 2", "between: {value: 3", ("E121",)),  # 6 pins apart
    Slip("between: {value: 2", "between: {value: 1", sizes=(("shelf", 2, 720, 286),)),
    Slip("metric: 75 mm, says", "metric: 57 mm, says", sizes=(("plinth", 1, 724, 57),)),
    Slip("metric: 40 mm", "metric: 400 mm", ("J101",)),
    Slip("metric: 100 mm, says", "metric: 10 mm, says", ("J104", "J105")),
    Slip("metric: 100 mm, says", "metric: 120 mm, says", sizes=(("wall_rail", 1, 724, 120),)),
    Slip("metric: 215 mm", "metric: 251 mm", ("E121",)),  # 256 - 18 mm are there
    Slip("metric: 5 mm, says", "metric: 50 mm, says", ("P111",)),
    Slip("metric: 10 mm", "metric: 100 mm", ("P111",)),
    Slip("metric: 32 mm", "metric: 3.2 mm", ("E101",)),
    Slip("metric: 32 mm", "metric: 23 mm",  # 33 pins, the 11th: 10 x 23 - 7 x 32
         moved=("shelf[0,1]", (0, 0, 6))),
    Slip("metric: 50 mm, says: From the front", "metric: 500 mm, says: From the front", ("P111",)),
    Slip("metric: 2 mm", "metric: 20 mm", ("J121",)),  # no pin reaches that far
    Slip("(height - raised - 3 * panel) / 2", "(height - raised - 2 * panel) / 2",
         moved=("middle", (0, 0, 9))),
)  # fmt: skip

# On paper: sides, bottom and divider are length - 24 + 10 long; the bottom is depth - 2 inset - 24
# + 10 wide; the cross piece reaches from 5 mm inside the divider to 5 mm inside the back: depth -
# 2 inset - slim - 26; it and the divider are wall - foot - 12 high. Sides and ends come in pairs
# that mirror each other, each of the pair a part of its own.
TOTE = (
    Slip("metric: 650 mm", "metric: 560 mm", ("E121",)),  # the level is longer
    Slip("metric: 650 mm", "metric: 6500 mm", ("E101",)),
    Slip("metric: 650 mm", "metric: 705 mm", sizes=(
        ("side", 1, 691, 125), ("bottom", 1, 691, 192), ("divider", 1, 691, 101),
        ("handle", 1, 705, 25))),
    Slip("metric: 230 mm", "metric: 203 mm", sizes=(
        ("end", 1, 280, 203), ("bottom", 1, 636, 165), ("cross_piece", 1, 103, 101))),
    Slip("metric: 280 mm", "metric: 208 mm", ("E101",)),
    Slip("metric: 125 mm", "metric: 150 mm", ("E121",)),  # no room for a hand under the rod
    Slip("metric: 125 mm", "metric: 115 mm", sizes=(
        ("side", 1, 636, 115), ("divider", 1, 636, 91), ("cross_piece", 1, 130, 91))),
    Slip("inset: {imperial: 1/2 in, metric: 12 mm", "inset: {imperial: 1/2 in, metric: 21 mm",
         sizes=(("bottom", 1, 636, 174), ("cross_piece", 1, 112, 101))),
    Slip("foot: {imperial: 1/2 in, metric: 12 mm", "foot: {imperial: 1/2 in, metric: 21 mm",
         sizes=(("divider", 1, 636, 92), ("cross_piece", 1, 130, 92))),
    Slip("metric: 5 mm", "metric: 50 mm", ("E101",)),
    Slip("metric: 5 mm", "metric: 6 mm", sizes=(
        ("side", 1, 638, 125), ("bottom", 1, 638, 194), ("divider", 1, 638, 101),
        ("cross_piece", 1, 132, 101))),
    Slip("metric: 45 mm", "metric: 54 mm", moved=("handle", (0, 0, -9))),
    Slip("metric: 100 mm", "metric: 120 mm", ("E121",)),  # two of them are wider than the end
    Slip("metric: 50 mm", "metric: 60 mm", sizes=(("cross_piece", 1, 120, 101),)),
    Slip("metric: 200 mm", "metric: 220 mm", moved=("cross_piece", (20, 0, 0))),
    Slip("height - crown - rod / 2]", "height - crown]", ("J101",)),  # its box stands on the line
    Slip("from top: crown", "from bottom: crown", ("J101",)),  # the rod misses its holes
    Slip("panel + slim, foot + panel]", "panel + slim, foot]", ("J101",)),  # in the bottom
    Slip("corner: [0 in, inset, 0 in]", "corner: [0 in, 0 in, 0 in]", sizes=(
        # sides flush with the ends, in rabbets; the divider stands where it stood
        ("bottom", 1, 636, 216), ("cross_piece", 1, 142, 101))),
    Slip("metric: plywood-12", "metric: plywood-18", sizes=(
        # four panels 6 mm thicker between front and back, two between the ends
        ("side", 1, 624, 125), ("bottom", 1, 624, 180), ("divider", 1, 624, 95),
        ("cross_piece", 1, 112, 95))),
)  # fmt: skip

ALL = {
    "seed-tray-stand": STAND,
    "entry-bench": BENCH,
    "cleat-wall": WALL,
    "step-stool": STOOL,
    "sawhorse": SAWHORSE,
    "splayed-planter": PLANTER,
    "pantry-shelf": PANTRY,
    "tool-tote": TOTE,
}


@pytest.mark.parametrize(
    ("slug", "slip"),
    [(slug, slip) for slug, slips in ALL.items() for slip in slips],
    ids=lambda value: value if isinstance(value, str) else value.wrong,
)
def test_a_wrong_number_is_caught_or_changes_what_it_should(slug: str, slip: Slip) -> None:
    source = (ROOT / "designs" / slug / "design.yml").read_text("utf-8")
    before, _ = _build(source)
    after, problems = _build(source.replace(slip.right, slip.wrong))

    assert source.count(slip.right) == 1
    assert before is not None
    assert slip.caught == tuple(sorted(set(codes(problems)))), say(problems)
    assert (after is None) == bool(slip.caught)
    if after is not None:
        assert {name: row for name, *row in slip.sizes} == _changed(before, after)
        if slip.moved is not None:
            name, by = slip.moved
            assert by == pytest.approx(_moved(before, after, name), abs=0.01)
        assert slip.sizes or slip.moved is not None


def test_every_design_has_twenty_slips_that_differ() -> None:
    assert {path.parent.name for path in (ROOT / "designs").glob("*/design.yml")} == set(ALL)
    assert dict.fromkeys(ALL, SLIPS) == {slug: len(set(slips)) for slug, slips in ALL.items()}


@cache
def _build(text: str) -> tuple[Plan | None, tuple[Problem, ...]]:
    log = ProblemLog()
    design = parse_design(text, "design.yml", "slip", log)

    assert design is not None, say(log.problems)
    return build_plan(design, shared_catalogue(), "metric")


def _changed(before: Plan, after: Plan) -> dict[str, list[float]]:
    """Return the parts of the second plan that are not as they were in the first."""
    old, new = _sizes(before), _sizes(after)

    assert set(old) == set(new)
    return {name: size for name, size in new.items() if size != old[name]}


def _sizes(plan: Plan) -> dict[str, list[float]]:
    return {
        part.name: [part.count, round(part.length_mm, 2), round(part.width_mm, 2)]
        for part in plan.parts.parts
    }


def _moved(before: Plan, after: Plan, name: str) -> list[float]:
    places = [piece_named(plan.parts, name)[1].frame.origin for plan in (before, after)]
    return [new - old for old, new in zip(*places, strict=True)]
