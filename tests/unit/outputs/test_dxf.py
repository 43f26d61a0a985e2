"""DXF files of parts and sheets: layers, arcs, copies that differ, plain text."""

import io

import ezdxf.filemanagement
import pytest
from ezdxf.document import Drawing
from ezdxf.entities.lwpolyline import LWPolyline

from generator.model.parts import Part
from generator.model.plan import Plan
from generator.outputs.dxf import layout_dxf, part_dxf
from generator.outputs.dxf_pen import plain_text
from generator.outputs.part_view import find_view
from tests.samples import sample_plan


def read(data: bytes) -> Drawing:
    return ezdxf.filemanagement.read(io.StringIO(data.decode("ascii")))


def layers_used(drawing: Drawing) -> list[str]:
    return sorted({entity.dxf.layer for entity in drawing.modelspace()})


def texts(drawing: Drawing) -> list[str]:
    return [entity.dxf.text for entity in drawing.modelspace().query("TEXT")]


def corners_on(drawing: Drawing, layer: str = "face A outline") -> list[list[tuple[float, ...]]]:
    return [
        [tuple(map(float, point)) for point in entity.get_points("xy")]
        for entity in drawing.modelspace()
        if isinstance(entity, LWPolyline) and entity.dxf.layer == layer
    ]


@pytest.fixture
def plan() -> Plan:
    return sample_plan("metric")


def drawn(plan: Plan, label: str) -> tuple[Part, Drawing]:
    part = plan.parts.part(label)
    return part, read(part_dxf(plan, part))


def test_a_square_part_has_no_outline_of_face_b_and_no_bevel_lines(plan: Plan) -> None:
    _, drawing = drawn(plan, "A")

    assert "face A outline" in layers_used(drawing)
    assert "face B outline" not in layers_used(drawing)
    assert "bevel lines" not in layers_used(drawing)


def test_a_bevelled_part_shows_both_faces_and_the_short_point_line(plan: Plan) -> None:
    part, drawing = drawn(plan, "B")

    line = drawing.modelspace().query('LINE[layer=="bevel lines"]')
    bevel = part.thickness_mm * 0.2125565617  # tan 12 degrees, from a table
    assert "face B outline" in layers_used(drawing)
    assert len(line) == 1
    front_is_below = find_view(part, "A").point((0, 0))[1] == 0
    height = bevel if front_is_below else part.width_mm - bevel
    assert line[0].dxf.start.y == pytest.approx(height, abs=1e-6)
    assert line[0].dxf.end.y == pytest.approx(height, abs=1e-6)


def test_a_round_hole_is_a_circle_of_its_diameter(plan: Plan) -> None:
    part, drawing = drawn(plan, "C")

    circles = drawing.modelspace().query('CIRCLE[layer=="holes"]')
    assert [circle.dxf.radius for circle in circles] == [part.openings[0].sizes_mm[0] / 2]


def test_pockets_lie_on_the_layer_of_their_face_and_point_at_the_end_they_join(plan: Plan) -> None:
    part, drawing = drawn(plan, "B")

    pockets = drawing.modelspace().query("ELLIPSE")
    assert {pocket.dxf.layer for pocket in pockets} == {"pockets face A"}
    assert len(pockets) == 4
    for pocket in pockets:
        near_left = pocket.dxf.center.x < part.length_mm / 2
        assert (pocket.dxf.major_axis.x < 0) == near_left
        assert pocket.dxf.major_axis.y == pytest.approx(0, abs=1e-6)


def test_copies_that_are_worked_differently_are_drawn_apart_with_their_names(plan: Plan) -> None:
    part, drawing = drawn(plan, "A")

    heights = sorted(min(y for _, y in corners) for corners in corners_on(drawing))
    assert heights[0] == 0
    assert heights[1] > part.width_mm
    assert any("side left" in text for text in texts(drawing))
    assert any("side right" in text for text in texts(drawing))


def test_a_part_is_drawn_as_an_eye_on_face_a_sees_it(plan: Plan) -> None:
    part, drawing = drawn(plan, "A")
    corners = corners_on(drawing)[0]

    # The left side seen from the right, its upper end to the right: the back is then below.
    assert len([x for x, _ in corners if x == part.length_mm]) == 2
    assert (part.length_mm - 75, part.width_mm) in corners
    assert (part.length_mm, part.width_mm - 50) in corners


def test_a_sheet_has_its_border_its_blanks_and_every_cut(plan: Plan) -> None:
    layout = plan.cutting.layouts[0]
    drawing = read(layout_dxf(plan, layout))

    space = drawing.modelspace()
    assert len(space.query('LWPOLYLINE[layer=="sheet"]')) == 1
    assert len(space.query('LWPOLYLINE[layer=="blanks"]')) == len(layout.placements)
    assert len(space.query('LINE[layer=="cuts"]')) == len(layout.cuts)
    for cut in layout.cuts:
        assert f"cut {cut.order}" in texts(drawing)


def test_every_blank_of_a_sheet_carries_its_label_inside_its_outline(plan: Plan) -> None:
    layout = plan.cutting.layouts[0]
    space = read(layout_dxf(plan, layout)).modelspace()

    labels = space.query('TEXT[layer=="labels"]')
    for placement in layout.placements:
        own = [
            text
            for text in labels
            if text.dxf.text.startswith(f"{placement.label}{placement.copy} ")
        ]
        assert len(own) == 1
        insert = own[0].dxf.insert
        assert placement.x_mm < insert.x < placement.x_mm + placement.along_x_mm
        assert placement.y_mm < insert.y < placement.y_mm + placement.along_y_mm


def test_signs_outside_ascii_are_spelt_plainly() -> None:
    assert plain_text("12° × 3 café") == "12 deg x 3 cafe"
