"""Hardware: where it goes on a piece, how many of it, and in which step."""

import pytest

from generator.geometry.vectors import Vec3
from generator.model.hardware_words import hardware_sentences
from generator.model.parts import FACE_A
from generator.model.plan import Plan
from generator.units import SYSTEMS, System
from tests.little_designs import HEAD, codes, edition_of, edition_problems, plan_of, plan_problems

TEXT = """
parts:
  low: {from: panel, length: 600 mm, width: 300 mm, runs: {length: right, width: back}}
  high:
    from: panel
    each: n in 1..2
    length: 400 mm
    width: 300 mm
    corner: [n * 200 mm, 0 mm, panel]
    runs: {length: up, width: back}
joints:
  - {join: low to high, with: face screws}
steps:
  - {title: First, fit: "low, high[1]"}
  - {title: Second, fit: "high[2]MORE"}
hardware:
"""
HOOK = "  hook: {item: hooks, on: ON, face: FACE, places: [PLACES]KEYS}\n"


def hooked(places: str, on: str = "low", face: str = "top", more: str = "", keys: str = "") -> str:
    hook = HOOK.replace("ON", on).replace("FACE", face).replace("PLACES", places)
    return TEXT.replace("MORE", more) + hook.replace("KEYS", keys)


def counted(keys: str, more: str = "") -> str:
    return f"{TEXT.replace('MORE', more)}  hook: {{item: hooks, {keys}}}\n"


def room_places(plan: Plan) -> list[Vec3]:
    """Return where each mounted piece is in the room."""
    owners = {piece.name: (part, piece) for part in plan.parts.parts for piece in part.pieces}
    found = []
    for one in plan.fitting.mounted:
        part, piece = owners[one.piece]
        z = 0.0 if one.side == FACE_A else part.thickness_mm
        found.append(piece.frame.to_world((*one.at, z)))
    return found


@pytest.mark.parametrize(
    ("face", "place", "expected"),
    [
        ("top", "{from left: 50 mm, from front: 40 mm}", (50, 40, 18)),
        ("bottom", "{from right: 50 mm, from back: 40 mm}", (550, 260, 0)),
        ("top", "{from back: 40 mm, from left: 50 mm}", (50, 260, 18)),
    ],
)
def test_a_place_is_measured_from_two_edges_on_the_face_it_is_on(
    face: str, place: str, expected: tuple[float, ...]
) -> None:
    (found,) = room_places(plan_of(hooked(place, face=face)))

    assert expected == pytest.approx(found)


@pytest.mark.parametrize(("face", "inset"), [("top", 18.0), ("bottom", 0.0)])
def test_from_a_bevelled_edge_it_is_measured_on_that_face(face: str, inset: float) -> None:
    """The front edge leans 45 degrees, long below: on top it begins 18 mm further back."""
    text = hooked("{from left: 50 mm, from front: 40 mm}", face=face).replace(
        "runs: {length: right, width: back}}",
        "runs: {length: right, width: back}, edges: {front: bevel 45 deg long on bottom}}",
    )
    (found,) = room_places(plan_of(text))

    assert (50.0, inset + 40.0) == pytest.approx(found[:2])


def test_every_piece_gets_its_own_at_the_same_place() -> None:
    plan = plan_of(hooked("{from top: 30 mm, from front: 40 mm}", on="high", face="left"))

    assert [(200, 40, 388), (400, 40, 388)] == [pytest.approx(one) for one in room_places(plan)]
    assert 2 == plan.edition.hardware[0].count


def test_a_row_is_counted_by_each() -> None:
    plan = plan_of(hooked("{from left: n * 100 mm, from front: 40 mm}", keys=", each: n in 1..3"))

    assert [100, 200, 300] == pytest.approx([one[0] for one in room_places(plan)])


@pytest.mark.parametrize(
    ("places", "each", "said"),
    [
        ("{from left: n * 100 mm, from front: 40 mm}", "1..3",
         ["3 × hook, on the top face: 40 mm from the front edge and 100 mm, then every 100 mm, "
          "from the left end"]),
        ("{from left: n * n * 50 mm, from front: 40 mm}", "1..3",
         ["3 × hook, on the top face: 40 mm from the front edge and 50, 200, 450 mm from the "
          "left end"]),
        ("{from left: n * 100 mm, from front: n * 50 mm}", "1..2",
         ["hook, on the top face: 100 mm from the left end and 50 mm from the front edge",
          "hook, on the top face: 200 mm from the left end and 100 mm from the front edge"]),
    ],
)  # fmt: skip
def test_a_builder_is_told_where_it_goes_row_by_row(
    places: str, each: str, said: list[str]
) -> None:
    plan = plan_of(hooked(places, keys=f", each: n in {each}"))
    part = plan.parts.part("A")

    assert said == list(
        hardware_sentences(plan.fitting.mounted, part, part.pieces[0], plan.edition.system)
    )


def test_a_mirrored_copy_has_its_hardware_mirrored() -> None:
    text = """
parts:
  low: {from: panel, length: 600 mm, width: 300 mm, runs: {length: right, width: back}}
  side:
    from: panel
    length: 400 mm
    width: 300 mm
    runs: {length: up, width: back}
    at: {left: {corner: [0 mm, 0 mm, panel]}, right: {mirrors: left, across: {right: 300 mm}}}
joints: [{join: low to side, with: face screws}]
steps: [{title: All, fit: "low, side"}]
hardware:
  hinge:
    {item: hinges, on: side, face: right, places: [{from bottom: 100 mm, from front: 40 mm}]}
"""
    places = room_places(plan_of(text))

    assert [(18, 40, 118), (582, 40, 118)] == [pytest.approx(one) for one in places]


@pytest.mark.parametrize(
    ("place", "found"),
    [
        ("{from left: 601 mm, from front: 40 mm}", ["P121"]),
        ("{from left: -1 mm, from front: 40 mm}", ["P121"]),
        ("{from left: 599 mm, from front: 40 mm}", []),
        ("{from left: 100 mm, from front: 100 mm}", ["P121"]),
    ],
)
def test_a_place_beside_the_wood_or_in_an_opening_is_refused(place: str, found: list[str]) -> None:
    opening = "openings: [{hole: 30 mm, from left: 100 mm, from front: 100 mm}]"
    text = hooked(place).replace("width: back}}", f"width: back}}, {opening}}}", 1)

    assert found == codes(plan_problems(text))


@pytest.mark.parametrize(
    ("keys", "count"),
    [("on: low", 1), ("on: high", 2), ("on: high, count: 2 + 1", 6), ("on: 'low, high'", 3),
     ("on: 'high[2]', count: 4", 4)],
)  # fmt: skip
def test_it_is_counted_by_pieces(keys: str, count: int) -> None:
    assert count == plan_of(counted(keys)).edition.hardware[0].count


def test_hardware_goes_on_with_the_last_of_its_pieces_if_no_step_names_it() -> None:
    steps = plan_of(counted("on: 'low, high'")).assembly.steps
    first = plan_of(counted("on: low")).assembly.steps

    assert [(), ("hook",)] == [step.hardware for step in steps]
    assert [("hook",), ()] == [step.hardware for step in first]


def test_a_step_fits_hardware_by_its_name() -> None:
    steps = plan_of(counted("on: low", more=", hook")).assembly.steps

    assert [(), ("hook",)] == [step.hardware for step in steps]


def test_what_holds_the_whole_to_a_wall_has_a_step_of_its_own_with_a_caution() -> None:
    plan = plan_of(counted("on: low, wall: yes"))
    last = plan.assembly.steps[-1]

    assert ("Fix it to the wall", ("hook",)) == (last.title, last.hardware)
    assert "pipes and cables" in last.cautions[0]
    assert 3 == len(plan.assembly.steps)


def test_a_step_that_names_the_anchor_takes_the_place_of_that_step() -> None:
    assert 2 == len(plan_of(counted("on: low, wall: yes", more=", hook")).assembly.steps)


def test_hardware_with_a_condition_that_is_not_true_is_not_there_nor_its_step() -> None:
    text = counted("on: low, when: 1 > 2").replace(
        "hardware:", "  - {title: Hooks, fit: hook}\nhardware:"
    )
    edition = edition_of(text)

    assert () == edition.hardware
    assert ["First", "Second"] == [step.title for step in edition.steps]


@pytest.mark.parametrize("system", SYSTEMS)
def test_hardware_and_its_screws_are_bought(system: System) -> None:
    keys = "on: high, count: 2, screw: {imperial: wood-6x3/4, metric: wood-3.5x20}, screws: 4"
    rows = [(one.item, one.quantity) for one in plan_of(counted(keys), system).shopping]
    screw = {"imperial": '#6 flat-head wood screw, 3/4 in',
             "metric": "3.5 mm countersunk wood screw, 20 mm"}[system]  # fmt: skip

    assert ("hooks", 4.0) in rows
    assert (screw, 16.0) in rows


@pytest.mark.parametrize(
    ("keys", "code"),
    [("on: low, count: 0", "E101"), ("on: low, count: 1/2", "E114"),
     ("on: low, screw: wood-6x3/4", "D207"), ("on: low, screw: nothing", "D205"),
     ("on: 'low[1]'", "D202")],
)  # fmt: skip
def test_what_cannot_be_is_refused(keys: str, code: str) -> None:
    assert [code] == codes(edition_problems(counted(keys)))


SCREWED = ", screw: {imperial: wood-6x3/4, metric: wood-3.5xLONG}, screws: 2"


@pytest.mark.parametrize(
    ("face", "long", "more", "found"),
    [
        ("bottom", "20", "", ["C304"]),
        ("top", "20", "", ["C304"]),
        ("bottom", "20", ", wall: yes", []),
    ],
)
def test_screws_of_hardware_that_come_out_are_warned_of(
    face: str, long: str, more: str, found: list[str]
) -> None:
    """The panel is 18 mm thick; an anchor goes through it into the wall."""
    keys = SCREWED.replace("LONG", long) + more
    text = hooked("{from left: 50 mm, from front: 40 mm}", face=face, keys=keys)
    backed = hooked("{from top: 50 mm, from front: 40 mm}", on="high", face="left", keys=keys)
    lid = "  lid: {from: panel, length: 400 mm, width: 300 mm, corner: [218 mm, 0 mm, panel], "
    lid += "runs: {length: up, width: back}}\njoints:\n  - {join: lid to high, with: glue}\n"
    lid += "  - {join: lid to low, with: glue}\n"
    doubled = backed.replace("joints:\n", lid, 1).replace("on: high", "on: 'high[1]'")
    doubled = doubled.replace('"low, high[1]"', '"low, high[1], lid"')

    assert found == codes(plan_problems(text))
    assert [] == codes(plan_problems(doubled))


def test_hardware_that_is_in_no_size_is_warned_of() -> None:
    text = counted("on: low, when: 1 > 2")

    assert ["D307"] == codes(plan_problems(text))


FREE = HEAD.replace("stands: hung", "stands: freely")
FIXED = HEAD.replace("stands: hung", "stands: fixed")
TALL = """
parts:
  post:
    from: panel
    each: n in 1..COUNT
    length: HIGH mm
    width: 600 mm
    corner: [0 mm, n * panel, 0 mm]
    runs: {length: up, width: right}
  foot:
    from: panel
    length: 600 mm
    width: DEEP mm
    corner: [0 mm, 2.5 * panel - DEEP mm / 2, -panel]
    runs: {length: right, width: back}
joints:
  - {join: "foot to post[1]", with: glue}
  - {join: "post[1] to post[2]", with: glue}
  - {join: "post[2] to post[3]", with: glue}
steps:
  - {title: All, fit: "post, foot"}
"""


def tall(high: int, deep: int, more: str = "", head: str = FREE) -> list[str]:
    text = TALL.replace("HIGH", str(high)).replace("DEEP", str(deep)).replace("COUNT", "3")
    return codes(plan_problems(text + more, head=head))


@pytest.mark.parametrize(
    ("high", "deep", "found"),
    [(1182, 470, ["C611"]), (1182, 490, []), (1000, 350, ["C611"]), (660, 200, [])],
)
def test_a_piece_that_is_tall_heavy_and_narrow_and_not_anchored_is_warned_of(
    high: int, deep: int, found: list[str]
) -> None:
    """ASTM F2057-23, 1.1: 27 in (685.8 mm) and 30 lb; 1200 mm, foot and all, by 2.5 are 480 mm."""
    assert found == tall(high, deep)


def test_an_anchor_or_a_wall_it_hangs_on_takes_the_warning_away() -> None:
    anchor = "hardware: {anchor: {item: wall anchors, on: 'post[1]', wall: yes}}\n"

    assert ["C611"] == tall(1182, 430)
    assert [] == tall(1182, 430, anchor)
    assert [] == tall(1182, 430, head=HEAD)


def test_what_is_said_to_be_fixed_needs_an_anchor_however_low_it_is() -> None:
    anchor = "hardware: {anchor: {item: wall anchors, on: foot, wall: yes}}\n"

    assert ["C611"] == tall(300, 430, head=FIXED)
    assert [] == tall(300, 430, anchor, head=FIXED)
