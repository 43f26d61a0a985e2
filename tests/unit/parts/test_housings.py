"""Housed edges: how far the mate reaches, which channel the host gets, and what it is called."""

import math
from collections import Counter

import pytest

from generator.model.parts import FACE_A, FACE_B, Housing, Part, Parts
from tests.little_designs import codes, part_named, parts_of, parts_problems, piece_named

CASE = """
parts:
  side:
    from: panel
    length: 600 mm
    width: 300 mm
    runs: {{length: up, width: back}}
    at:
      left: {{}}
      right: {{mirrors: left, across: {{right: 400 mm}}}}
  shelf:
    from: panel
    corner: [0 mm, {front}, {height}]
    width: {width}
    runs: {{length: right, width: back}}
    {more}
    edges:
      left: into side.left by {depth}{stop}
      right: into side.right by {depth}{stop}
"""


def case(
    front: str = "0 mm",
    height: str = "200 mm",
    width: str = "300 mm",
    depth: str = "6 mm",
    stop: str = "",
    more: str = "",
) -> str:
    return CASE.format(front=front, height=height, width=width, depth=depth, stop=stop, more=more)


def housing_of(parts: Parts, name: str) -> Housing:
    (housing,) = part_named(parts, name).housings
    return housing


def test_the_mate_grows_by_the_depth_at_every_housed_edge() -> None:
    """Between sides 18 mm thick, 800 mm over all: 764 mm, and 6 mm at either end."""
    assert 776.0 == pytest.approx(part_named(parts_of(case()), "shelf").length_mm)


def test_a_through_dado_is_as_wide_as_the_mate_is_thick_and_as_deep_as_told() -> None:
    housing = housing_of(parts_of(case()), "side.left")

    assert ("dado", 6.0, 18.0, 300.0) == (
        housing.kind, housing.depth_mm, housing.width_mm, housing.length_mm
    )  # fmt: skip
    assert {"front", "back"} == set(housing.opens)
    assert () == housing.stops
    assert ("bottom", 200.0, 218.0) == (housing.edge, housing.from_mm, housing.to_mm)


def test_the_face_that_looks_at_the_mate_gets_the_channel() -> None:
    parts = parts_of(case())
    for name, inner in (("side.left", "right"), ("side.right", "left")):
        part, piece = piece_named(parts, name)

        assert {inner} == {dict(piece.words)[housing.side] for housing in part.housings}


def test_a_channel_takes_its_wood_off_the_host() -> None:
    side = part_named(parts_of(case()), "side.left")

    assert 600 * 300 * 18 - 300 * 18 * 6 == pytest.approx(side.slab.volume_mm3)


def test_a_mate_flush_with_the_end_of_its_host_makes_a_rabbet() -> None:
    housing = housing_of(parts_of(case(height="0 mm")), "side.left")

    assert ("rabbet", "bottom") == (housing.kind, housing.edge)
    assert (0.0, 18.0) == (housing.from_mm, housing.to_mm)


def test_a_channel_along_the_grain_is_a_groove() -> None:
    text = """
parts:
  rail: {from: panel, length: 600 mm, width: 100 mm, runs: {length: right, width: up}}
  bottom:
    from: panel
    corner: [0 mm, 0 mm, 30 mm]
    length: 600 mm
    width: 200 mm
    runs: {length: right, width: back}
    edges: {front: into rail by 6 mm}
"""
    housing = housing_of(parts_of(text), "rail")

    assert ("groove", 30.0, 48.0) == (housing.kind, housing.from_mm, housing.to_mm)
    assert "bottom" == housing.edge
    assert 200.0 - 12.0 == pytest.approx(part_named(parts_of(text), "bottom").width_mm)


def test_a_mate_that_does_not_reach_an_edge_leaves_the_channel_stopped_there() -> None:
    housing = housing_of(parts_of(case(front="20 mm", width="280 mm")), "side.left")

    assert (("front", 20.0),) == housing.stops
    assert ("back",) == housing.opens
    assert 280.0 == pytest.approx(housing.length_mm)


@pytest.mark.parametrize("sign", [", ", "; ", " "])
def test_a_stop_notches_the_corner_of_the_mate(sign: str) -> None:
    """The shelf reaches the front; 25 mm of it stay on the face of the side, 6 mm short."""
    parts = parts_of(case(stop=f"{sign}stopped 25 mm from front"))
    shelf = part_named(parts, "shelf")

    assert (("front", 25.0),) == housing_of(parts, "side.left").stops
    assert [(25.0, 6.0)] * 2 == [
        pytest.approx(tuple(sorted(recess.sizes_mm, reverse=True))) for recess in shelf.recesses
    ]
    assert {"left front", "right front"} == {
        " ".join(sorted(recess.name.split(), key=lambda word: word == "front"))
        for recess in shelf.recesses
    }
    assert 300.0 == shelf.width_mm


def test_a_channel_can_stop_at_both_ends() -> None:
    stop = "; stopped 25 mm from front and 40 mm from back"
    housing = housing_of(parts_of(case(stop=stop)), "side.left")

    assert {("front", 25.0), ("back", 40.0)} == set(housing.stops)
    assert 300.0 - 65.0 == pytest.approx(housing.length_mm)


def test_a_stop_that_leaves_nothing_or_stops_nothing_is_refused() -> None:
    assert ["P134", "P134"] == codes(parts_problems(case(stop="; stopped 320 mm from front")))
    short = case(front="50 mm", width="200 mm", stop="; stopped 20 mm from front")

    assert ["P134", "P134"] == codes(parts_problems(short))


@pytest.mark.parametrize(("depth", "found"), [("9 mm", []), ("9.1 mm", ["P133", "P133"])])
def test_a_channel_is_at_most_half_as_deep_as_its_host_is_thick(
    depth: str, found: list[str]
) -> None:
    assert found == codes(parts_problems(case(depth=depth)))


LEANING = "turn: 10 deg about {way}"


def test_a_mate_that_leans_back_makes_a_dado_at_an_angle() -> None:
    more = LEANING.format(way="right")
    parts = parts_of(case(height="250 mm", width="200 mm", more=more))
    housing = housing_of(parts, "side.left")

    assert "dado" == housing.kind
    assert 10.0 == pytest.approx(housing.angle_deg)
    assert 200.0 == pytest.approx(housing.length_mm)
    assert 18.0 == pytest.approx(housing.width_mm)


def test_a_mate_that_leans_over_its_channel_is_refused_with_its_angle() -> None:
    problems = parts_problems(case(height="250 mm", more=LEANING.format(way="back")))

    assert ["P132", "P132"] == codes(problems)
    assert "10°" in problems[0].what


def test_a_slanting_channel_that_runs_out_leaves_no_wood_before_its_end() -> None:
    """The square end of a shelf that leans 10° would leave a corner of 18 mm by tan 10°."""
    more = LEANING.format(way="right")
    side = part_named(parts_of(case(front="0 mm", height="250 mm", more=more)), "side.left")
    (channel,) = side.slab.channels
    (housing,) = side.housings
    reach = [y for _, y in channel.outline.points]

    assert {"front"} == set(housing.opens) & {"front"}
    assert 0.0 > min(sorted(reach)[:2])
    assert 0.0 > max(sorted(reach)[:2])


MIRRORED = """
parts:
  back: {from: panel, length: 800 mm, width: 500 mm, runs: {length: right, width: up}}
  bracket:
    from: panel
    length: 200 mm
    width: 300 mm
    runs: {length: front, width: up}
    edges: {back: into back by 5 mm}
    at:
      left: {corner: [100 mm, 0 mm, 100 mm]}
      right: {mirrors: left, across: {right: 400 mm}}
"""


def test_the_host_of_a_mirrored_mate_gets_its_channel_where_the_mirror_image_stands() -> None:
    back = part_named(parts_of(MIRRORED), "back")
    low, high = sorted((h.from_mm, h.to_mm) for h in back.housings)

    assert (100.0, 118.0) == pytest.approx(low)
    assert (682.0, 700.0) == pytest.approx(high)
    assert ["bracket.left", "bracket.right"] == sorted(m for h in back.housings for m in h.mates)


TWO_SIDES = """
parts:
  side:
    from: panel
    length: 600 mm
    width: 300 mm
    runs: {length: up, width: back}
    at:
      left: {}
      right: {mirrors: left, across: {right: 400 mm}}
  ledge:
    from: panel
    length: 200 mm
    width: 300 mm
    runs: {length: right, width: back}
    at:
      left: {corner: [0 mm, 0 mm, 300 mm]}
      right: {mirrors: left, across: {right: 400 mm}}
    edges: {left: into side.left by 6 mm}
"""


def test_a_mirrored_mate_goes_into_the_mirror_image_of_its_host() -> None:
    parts = parts_of(TWO_SIDES)
    mates = {mate for part in parts.parts for h in part.housings for mate in h.mates}

    assert {"ledge.left", "ledge.right"} == mates
    assert 1 == part_named(parts, "side.left").count - 1


def test_one_host_takes_mates_on_both_faces_and_several_in_one() -> None:
    text = """
parts:
  divider: {from: panel, length: 600 mm, width: 300 mm, corner: [400 mm, 0 mm, 0 mm],
            runs: {length: up, width: back}}
  left:
    from: panel
    each: number in 1..2
    corner: [0 mm, 0 mm, number * 200 mm]
    length: 400 mm
    width: 300 mm
    runs: {length: right, width: back}
    edges: {right: into divider by 5 mm}
  right:
    from: panel
    corner: [418 mm, 0 mm, 200 mm]
    length: 300 mm
    width: 300 mm
    runs: {length: right, width: back}
    edges: {left: into divider by 5 mm}
"""
    divider = part_named(parts_of(text), "divider")

    faces = Counter(h.side for h in divider.housings)

    assert {FACE_A, FACE_B} == set(faces)
    assert [1, 2] == sorted(faces.values())
    assert 600 * 300 * 18 - 3 * 300 * 18 * 5 == pytest.approx(divider.slab.volume_mm3)


def test_two_mates_in_one_line_share_a_channel() -> None:
    text = """
parts:
  wall: {from: panel, length: 800 mm, width: 300 mm, runs: {length: right, width: up}}
  shelf:
    from: panel
    each: number in 1..2
    corner: [(number - 1) * 400 mm, -200 mm, 100 mm]
    length: 400 mm
    width: 200 mm
    runs: {length: right, width: back}
    edges: {back: into wall by 6 mm}
"""
    housing = housing_of(parts_of(text), "wall")

    assert ("shelf[1]", "shelf[2]") == housing.mates
    assert 800.0 == pytest.approx(housing.length_mm)


def test_a_mate_with_a_notch_in_its_housed_edge_leaves_wood_there() -> None:
    text = """
parts:
  wall: {from: panel, length: 800 mm, width: 300 mm, runs: {length: right, width: up}}
  shelf:
    from: panel
    corner: [0 mm, -200 mm, 100 mm]
    length: 800 mm
    width: 200 mm
    runs: {length: right, width: back}
    edges: {back: into wall by 6 mm}
    cuts:
      - {notch: [100 mm, 30 mm], in: back}
"""
    wall = part_named(parts_of(text), "wall")

    assert [350.0, 350.0] == [pytest.approx(h.length_mm) for h in wall.housings]


BOX = """
parts:
  side:
    from: panel
    length: 400 mm
    width: 100 mm
    runs: {length: back, width: up}
    at:
      left: {}
      right: {mirrors: left, across: {right: 300 mm}}
  end:
    from: panel
    width: 100 mm
    runs: {length: right, width: up}
    edges: {left: against side.left, right: against side.right}
    at:
      front: {}
      back: {mirrors: front, across: {back: 200 mm}}
  bottom:
    from: panel
    corner: [0 mm, 0 mm, 12 mm]
    runs: {length: right, width: back}
    edges:
      left: into side.left by 6 mm
      right: into side.right by 6 mm
      front: into end.front by 6 mm
      back: into end.back by 6 mm
"""


def test_a_bottom_housed_all_round_grooves_all_four_and_stops_where_it_ends() -> None:
    parts = parts_of(BOX)
    bottom = part_named(parts, "bottom")

    assert (600 - 36 + 12, 400 - 36 + 12) == pytest.approx((bottom.length_mm, bottom.width_mm))
    assert ["groove", "groove"] == [h.kind for p in parts.parts for h in p.housings]
    assert ((12.0, 12.0),) == tuple(
        tuple(mm for _, mm in h.stops) for h in part_named(parts, "side.left").housings
    )
    assert (2, 2) == (part_named(parts, "side.left").count, part_named(parts, "end.front").count)


def test_hosts_are_the_same_wood_only_where_their_channels_fall_on_each_other() -> None:
    through, stopped = parts_of(case()), parts_of(case(stop="; stopped 25 mm from front"))

    assert 2 == part_named(through, "side.left").count
    assert 1 == part_named(stopped, "side.left").count


def test_mates_of_all_copies_are_listed() -> None:
    housing = housing_of(parts_of(TWO_SIDES), "side.left")

    assert {"ledge.left", "ledge.right"} == set(housing.mates)


def test_a_channel_over_a_bevelled_edge_runs_out_at_every_height() -> None:
    text = """
parts:
  side:
    from: panel
    length: 600 mm
    width: 300 mm
    runs: {length: up, width: back}
    edges: {front: "bevel 30 deg, long on left"}
  shelf:
    from: panel
    corner: [0 mm, 0 mm, 200 mm]
    length: 500 mm
    width: 300 mm
    runs: {length: right, width: back}
    edges: {left: into side by 6 mm}
"""
    side = part_named(parts_of(text), "side")
    whole = 18 * (300 * 18 - 18 * 18 * math.tan(math.radians(30)) / 2) * 600 / 18
    inner = 300 - 18 * math.tan(math.radians(30)) + 6 * math.tan(math.radians(30)) / 2

    assert whole - 18 * 6 * inner == pytest.approx(side.slab.volume_mm3)


def test_an_edge_says_what_it_is_housed_in() -> None:
    shelf: Part = part_named(parts_of(case()), "shelf")

    assert {"side left, housed 6 mm deep", "side right, housed 6 mm deep"} == {
        edge.meets for edge in shelf.edges if edge.meets
    }


def test_a_housed_edge_that_finds_no_wood_is_refused() -> None:
    assert ["P131", "P131"] == codes(parts_problems(case(height="700 mm")))


LEDGES = """
parts:
  back: {from: panel, length: 800 mm, width: 500 mm, runs: {length: right, width: up}}
  ledge:
    from: panel
    length: 300 mm
    width: 200 mm
    runs: {length: right, width: front}
    edges: {back: "into back by 5 mm; stopped 30 mm from left"}
    at:
      left: {corner: [0 mm, 0 mm, 250 mm]}
      right: {mirrors: left, across: {right: 400 mm}}
"""


def test_the_stop_of_a_mirrored_mate_is_the_mirror_image_of_the_stop() -> None:
    """The left ledge stops 30 mm from the left, so the right one stops 30 mm from the right."""
    parts = parts_of(LEDGES)
    left, right = sorted(part_named(parts, "back").housings, key=lambda h: h.mates)

    assert ("left", 30.0) in left.stops
    assert ("right", 30.0) in right.stops
    assert [270.0, 270.0] == [pytest.approx(h.length_mm) for h in (left, right)]
    for name, word in (("ledge.left", "left"), ("ledge.right", "right")):
        _, piece = piece_named(parts, name)
        notched = {dict(piece.words)[i] for i in part_named(parts, name).recesses[0].edges}

        assert all(word in one for one in notched)
