"""The drawing of a part: the right face, the right sizes, nothing that cannot be read."""

import math
from dataclasses import replace

import pytest

from generator.geometry.outlines import Outline
from generator.geometry.slabs import Slab
from generator.model.parts import FACE_A, FACE_B, Part
from generator.model.plan import Plan
from generator.model.work import find_work, format_names
from generator.outputs.edge_sections import edge_sentence, find_sections
from generator.outputs.face_paper import draw_breaks, find_paper
from generator.outputs.hole_table import AXES, find_hole_rows, format_bit, format_distances
from generator.outputs.part_sizes import distance_mm, find_datum
from generator.outputs.part_view import face_word, find_view
from generator.outputs.scene import Scene, Stroke, Words
from generator.outputs.scene_check import find_text_faults
from generator.units import SYSTEMS, System
from tests.demo_plans import demo_plan
from tests.part_drawings import draw_part_sheets
from tests.samples import sample_plan


@pytest.fixture
def plan() -> Plan:
    return sample_plan("metric")


def texts(scene: Scene) -> list[str]:
    return [item.text for item in scene.items if isinstance(item, Words)]


def with_slab(part: Part, slab: Slab) -> Part:
    _, _, length, width = slab.bounds
    return replace(part, slab=slab, length_mm=length, width_mm=width)


def long_rail(plan: Plan) -> Part:
    """Return the shelf made 2000 mm long and 60 mm wide, without its hole."""
    corners = Outline(((0.0, 0.0), (2000.0, 0.0), (2000.0, 60.0), (0.0, 60.0)))
    shelf = plan.parts.part("C")
    edges = tuple(replace(edge, tilt_deg=0.0, long_face="") for edge in shelf.edges)
    rail = with_slab(shelf, Slab(corners, corners, 18.0))
    return replace(rail, edges=edges, openings=())


@pytest.mark.parametrize("system", SYSTEMS)
def test_no_text_of_a_part_is_cut_off_or_too_small_or_stands_on_another(system: System) -> None:
    plan = sample_plan(system)
    for part in plan.parts.parts:
        for scene in draw_part_sheets(plan, part):
            assert find_text_faults(scene) == []


@pytest.mark.parametrize("system", SYSTEMS)
def test_the_finished_size_stands_on_the_sheet_in_the_units_of_the_edition(system: System) -> None:
    expected = {"metric": ["564 mm", "250 mm"], "imperial": ["22 9/16 in", "10 in"]}[system]
    plan = sample_plan(system)
    shown = texts(draw_part_sheets(plan, plan.parts.part("B"))[0])

    for size in expected:
        assert size in shown


def test_both_legs_of_a_clipped_corner_are_given(plan: Plan) -> None:
    shown = texts(draw_part_sheets(plan, plan.parts.part("A"))[0])

    assert "75" in shown
    assert "50" in shown


def test_copies_that_are_worked_differently_get_a_sheet_each_that_names_them(plan: Plan) -> None:
    left, right = draw_part_sheets(plan, plan.parts.part("A"))

    assert "Mark and bore as drawn: side left (1 of 2)" in texts(left)
    assert "Mark and bore as drawn: side right (1 of 2)" in texts(right)
    assert "Mirror image of side left" in texts(right)


def test_copies_that_are_worked_alike_share_a_sheet(plan: Plan) -> None:
    side = plan.parts.part("A")
    plain = replace(plan, joinery=replace(plan.joinery, holes=()))
    bare = replace(plain, assembly=replace(plan.assembly, steps=()))

    assert len(draw_part_sheets(bare, side)) == 1
    told = "make 2: 1 as drawn, 1 with the other face to show"
    assert told in texts(draw_part_sheets(bare, side)[0])


def test_a_part_is_seen_from_outside_its_face_not_through_it(plan: Plan) -> None:
    # The bottom lies level: seen from below with its back above, its right end is at the left.
    view = find_view(plan.parts.part("B"), "A")

    right_end = view.point((564.0, 0.0))
    assert right_end[0] == 0
    assert view.point((0.0, 250.0)) == (564.0, 250.0)


def test_turning_a_part_over_leaves_its_ends_where_they_were(plan: Plan) -> None:
    part = plan.parts.part("B")
    face_a, face_b = find_view(part, "A"), find_view(part, "B")

    for corner in ((0.0, 0.0), (564.0, 250.0)):
        assert face_a.point(corner)[0] == face_b.point(corner)[0]
        assert face_a.point(corner)[1] == 250.0 - face_b.point(corner)[1]


def test_an_outline_stays_counter_clockwise_on_either_face(plan: Plan) -> None:
    slab = plan.parts.part("A").slab
    for face, outline in (("A", slab.face_a), ("B", slab.face_b)):
        view = find_view(plan.parts.part("A"), "A" if face == "A" else "B")

        assert view.outline(outline).area_mm2 == pytest.approx(outline.area_mm2)


def test_the_top_of_an_upright_part_is_at_the_right(plan: Plan) -> None:
    view = find_view(plan.parts.part("A"), "A")

    assert view.point((400.0, 100.0))[0] == 400.0


def test_the_longer_far_face_is_seen_and_the_shorter_one_is_hidden(plan: Plan) -> None:
    longer_far = draw_part_sheets(plan, plan.parts.part("B"))[0]
    shorter_far = draw_part_sheets(plan, plan.parts.part("C"))[0]

    def hidden(scene: Scene) -> int:
        strokes = [item for item in scene.items if isinstance(item, Stroke)]
        return len([stroke for stroke in strokes if stroke.layer == "hidden"])

    assert hidden(longer_far) == 0
    assert hidden(shorter_far) > 0


def test_a_bevel_is_told_with_its_tilt_and_the_face_of_its_long_point(plan: Plan) -> None:
    bottom, shelf = plan.parts.part("B"), plan.parts.part("C")
    work = find_work(plan, bottom)[0]

    assert edge_sentence(bottom, work, 0) == "Front edge: blade 12°, long point on top"
    shown = texts(draw_part_sheets(plan, shelf)[0])
    assert "Back edge: blade 12°, long point on bottom" in shown
    assert "Section front to back: trapezium" in shown


def test_only_bevelled_edges_get_a_section(plan: Plan) -> None:
    counts = [len(find_sections(part, find_view(part, "A"))) for part in plan.parts.parts]

    assert counts == [0, 1, 1]


def test_distances_of_a_hole_are_the_same_from_whichever_face_they_are_read(plan: Plan) -> None:
    part = plan.parts.part("A")
    work = find_work(plan, part)[0]
    paper_a = find_paper(part, find_view(part, "A"), work)
    paper_b = replace(paper_a, view=find_view(part, "B"))

    for hole in work.holes:
        at = (hole.at[0], hole.at[1])
        for axis in AXES:
            on_a, on_b = (find_datum(paper, work, axis) for paper in (paper_a, paper_b))
            real = distance_mm(paper_a, on_a, at)
            assert real == pytest.approx(distance_mm(paper_b, on_b, at))
    assert part.edges[find_datum(paper_a, work, 0).edge].name == "bottom"


def test_pockets_at_equal_places_share_a_row_and_say_where_they_aim(plan: Plan) -> None:
    part = plan.parts.part("B")
    work = find_work(plan, part)[0]
    paper = find_paper(part, find_view(part, "A"), work)
    rows = find_hole_rows(plan, (paper, replace(paper, view=find_view(part, "B"))), work)

    assert [len(row.holes) for row in rows] == [2, 2]
    assert {row.cells[1] for row in rows} == {"aim at left end", "aim at right end"}
    # 40 mm from the long point on top; the face bored is 18 tan 12 degrees shorter.
    near = f"{40 - 18 * math.tan(math.radians(12)):.1f}"
    far = f"{210 - 18 * math.tan(math.radians(12)):.1f}"
    assert {row.cells[2] for row in rows} == {f"{near} and {far}"}


def test_pilot_holes_are_drilled_in_place_and_have_no_sizes(plan: Plan) -> None:
    shown = texts(draw_part_sheets(plan, plan.parts.part("C"))[0])

    assert any(text.startswith("4 pilot holes, 2.5 mm bit") for text in shown)
    assert any("drill in place" in text for text in shown)


def test_layout_lines_are_dashed_and_named_by_what_lands_there(plan: Plan) -> None:
    left = draw_part_sheets(plan, plan.parts.part("A"))[0]

    marks = [item for item in left.items if isinstance(item, Stroke) and item.layer == "mark"]
    assert len(marks) == 2
    for text in ("50", "68", "Dashed outlines are layout lines: B = Bottom, C = Shelf."):
        assert text in texts(left)


def test_work_on_the_other_face_is_drawn_on_that_face(plan: Plan) -> None:
    left = draw_part_sheets(plan, plan.parts.part("A"))[0]
    work = find_work(plan, plan.parts.part("A"))[0]

    assert {mark.side for mark in work.marks} == {FACE_A}
    assert {hole.side for hole in work.holes} == {FACE_B}
    assert "Turned over: seen on the left face" in texts(left)


def test_a_long_narrow_part_is_shortened_but_keeps_its_true_sizes(plan: Plan) -> None:
    rail = long_rail(plan)
    bare = replace(plan, assembly=replace(plan.assembly, steps=()))
    work = find_work(bare, rail)[0]
    paper = find_paper(rail, find_view(rail, "A"), work)
    shown = texts(draw_part_sheets(bare, rail)[0])

    assert paper.breaks
    assert draw_breaks(paper)
    assert paper.size[0] < 2000 / paper.ratio
    assert paper.size[1] == pytest.approx(60 / paper.ratio)
    assert "2000 mm" in shown
    assert f"scale 1:{paper.ratio}, shortened" in shown


def test_a_shortened_view_keeps_the_order_of_its_points(plan: Plan) -> None:
    rail = long_rail(plan)
    paper = find_paper(rail, find_view(rail, "A"), find_work(plan, rail)[0])
    places = [paper.shown((float(x), 0.0))[0] for x in range(0, 2001, 50)]

    assert places == sorted(places)
    assert len(set(places)) == len(places)


def test_equal_spacing_is_told_once() -> None:
    assert format_distances([40, 125, 210], "metric") == "40, then every 85"
    assert format_distances([40, 125, 211], "metric") == "40, 125, 211"
    assert format_distances([210, 40], "metric") == "40 and 210"
    assert format_distances([63.0], "metric") == "63"


def test_bits_are_named_in_sixty_fourths_of_an_inch() -> None:
    assert format_bit(11 / 64 * 25.4, "imperial") == "11/64 in"
    assert format_bit(4.5, "metric") == "4.5 mm"


def test_many_copies_of_one_name_are_told_in_short() -> None:
    assert format_names(("tray[1]", "tray[2]", "tray[3]")) == "tray 1 to 3"
    assert format_names(("tray[1]", "tray[2]", "tray[4]")) == "tray 1, tray 2, tray 4"
    assert format_names(("side.left",)) == "side left"


def test_the_description_gives_sizes_bevels_and_holes_in_words(plan: Plan) -> None:
    description = draw_part_sheets(plan, plan.parts.part("B"))[0].description

    assert "564 mm long with the grain, 250 mm wide, 18 mm thick" in description
    assert "blade 12°, long point on top" in description
    assert "Pockets in the bottom face: 9.5 mm bit" in description


def test_the_show_face_is_named_and_no_other(plan: Plan) -> None:
    part = plan.parts.part("A")
    shown = replace(part, pieces=tuple(replace(p, show=(FACE_B,)) for p in part.pieces))
    hidden = replace(part, pieces=tuple(replace(p, show=()) for p in part.pieces))
    told = [
        [text for text in texts(draw_part_sheets(with_part(plan, one), one)[0]) if "Show" in text]
        for one in (shown, hidden)
    ]
    word = face_word(shown, shown.pieces[0], "B")

    assert [[f"Show face: {word}. The better side of the wood goes there."], []] == told


def with_part(plan: Plan, part: Part) -> Plan:
    parts = tuple(part if one.label == part.label else one for one in plan.parts.parts)
    return replace(plan, parts=replace(plan.parts, parts=parts))


def test_a_copy_that_stands_turned_is_told_whose_names_the_sheet_uses() -> None:
    plan = demo_plan("splayed-planter", "metric")
    sheets = [draw_part_sheets(plan, plan.parts.part(label))[0] for label in ("A", "C")]
    told = [[text for text in texts(sheet) if "Named" in text] for sheet in sheets]

    assert told == [["Named as on wall front; made alike, but turned: wall back."], []]
