"""Bevels, clipped and round corners, and openings, after the sheets are sawn."""

from collections.abc import Sequence
from dataclasses import replace

from generator.cutting.blanks import make_blank
from generator.cutting.shaping import find_shaping
from generator.geometry.frames import Plane
from generator.geometry.outlines import Outline, circle
from generator.geometry.slabs import Slab
from generator.model.cutting import Setting
from generator.model.parts import Edge, Opening, Part
from tests.plain_parts import Line, make_parts, make_stock

STOCK = make_stock([(2440.0, 1220.0)])


def _shape(parts: Sequence[Part]) -> tuple[Setting, ...]:
    blanks = {part.label: make_blank(part, "metric") for part in parts}
    return find_shaping(parts, blanks, 7, "metric")


def _bevelled(label: str, width: float, count: int, *bevels: tuple[str, float]) -> Part:
    line = Line(label=label, count=count, length_mm=700, width_mm=width, bevels=bevels)
    (part,) = make_parts([line], [STOCK]).parts
    return part


def _values(settings: Sequence[Setting]) -> list[tuple[float, float, tuple[str, ...], int]]:
    return [(s.tilt_deg, s.value_mm, s.pieces, s.cuts) for s in settings]


def test_plain_parts_need_no_shaping() -> None:
    assert _shape([_bevelled("A", 300, 2)]) == ()


def test_shaping_is_numbered_on_from_the_sheets() -> None:
    assert [s.order for s in _shape([_bevelled("A", 300, 1, ("back", 12), ("left", 5))])] == [8, 9]


def test_one_bevel_leaves_the_finished_size_with_the_long_point_named() -> None:
    (setting,) = _shape([_bevelled("A", 300, 3, ("back", 12.0))])

    assert _values([setting]) == [(12.0, 300.0, ("A",), 3)]
    assert setting.where == "back edge, long point on top"


def test_the_first_of_two_opposite_bevels_leaves_the_allowance_of_the_second() -> None:
    settings = _shape([_bevelled("A", 300, 3, ("front", 12.0), ("back", 12.0))])

    assert _values(settings) == [(12.0, 306.0, ("A",), 3), (12.0, 300.0, ("A",), 3)]


def test_the_first_of_two_opposite_bevels_is_the_steeper() -> None:
    settings = _shape([_bevelled("A", 300, 1, ("front", 5.0), ("back", 20.0))])

    assert _values(settings) == [(20.0, 306.0, ("A",), 1), (5.0, 300.0, ("A",), 1)]


def test_an_end_is_measured_along_the_length() -> None:
    (setting,) = _shape([_bevelled("A", 300, 1, ("right", 10.0))])

    assert setting.value_mm == 700
    assert setting.where == "right end, long point on top"


def test_bevels_of_one_tilt_and_size_on_several_parts_are_one_setting() -> None:
    parts = [_bevelled("A", 300, 2, ("back", 12.0)), _bevelled("B", 300, 1, ("front", 12.0))]
    (setting,) = _shape(parts)

    assert setting.pieces == ("A", "B")
    assert setting.cuts == 3
    assert setting.where == ("A: back edge, long point on top; B: front edge, long point on top")


def test_bevels_of_one_tilt_follow_each_other_wide_before_narrow() -> None:
    parts = [
        _bevelled("A", 100, 1, ("back", 12.0)),
        _bevelled("B", 200, 1, ("back", 30.0)),
        _bevelled("C", 300, 1, ("back", 12.0)),
    ]

    assert [(s.tilt_deg, s.value_mm) for s in _shape(parts)] == [(30, 200), (12, 300), (12, 100)]


def _corner(part: Part, radius_mm: float) -> Part:
    """Return the part with its right back corner clipped by 40 by 30 mm, or rounded."""
    outline = Outline(((0.0, 0.0), (700.0, 0.0), (700.0, 270.0), (660.0, 300.0), (0.0, 300.0)))
    corner = Edge(
        name="right back",
        kind="corner",
        tilt_deg=0.0,
        mitre_deg=53.13,
        long_face="",
        meets="",
        plane=Plane((0.6, 0.8, 0.0), 636.0),
        radius_mm=radius_mm,
    )
    edges = (*part.edges[:2], corner, *part.edges[2:])
    return replace(part, slab=Slab(outline, outline, 18.0), edges=edges)


def test_a_clipped_corner_is_an_angle_with_both_its_legs() -> None:
    (setting,) = _shape([_corner(_bevelled("A", 300, 1), 0.0)])

    assert (setting.kind, setting.mitre_deg, setting.cuts) == ("angle", 53.13, 1)
    assert setting.where == "right back corner clipped, 40 mm along, 30 mm across"


def test_equal_pieces_are_stacked_for_an_angle_and_never_for_a_tilted_blade() -> None:
    words = "clamp equal pieces together and saw them in one pass"
    (angle,) = _shape([_corner(_bevelled("A", 300, 2), 0.0)])
    (alone,) = _shape([_corner(_bevelled("A", 300, 1), 0.0)])
    (tilted,) = _shape([_bevelled("A", 300, 2, ("back", 12.0))])

    assert angle.where.endswith(f"30 mm across; {words}")
    assert words not in alone.where
    assert words not in tilted.where


def test_a_round_corner_is_set_by_its_radius() -> None:
    (setting,) = _shape([_corner(_bevelled("A", 300, 2), 25.0)])

    assert (setting.kind, setting.value_mm, setting.cuts) == ("round", 25.0, 2)


def test_a_clipped_corner_adds_nothing_to_the_blank() -> None:
    blank = make_blank(_corner(_bevelled("A", 300, 2), 0.0), "metric")

    assert (blank.length_mm, blank.width_mm) == (700, 300)


def test_holes_of_one_size_are_bored_with_one_bit() -> None:
    hole = Opening(
        name="hole",
        center=(100.0, 100.0),
        sizes_mm=(35.0,),
        along_x=False,
        outline=circle((100.0, 100.0), 35.0),
    )
    parts = [
        replace(_bevelled(label, 300, 2), openings=(hole, replace(hole, center=(300.0, 100.0))))
        for label in "AB"
    ]
    (setting,) = _shape(parts)

    assert (setting.kind, setting.value_mm, setting.cuts) == ("bore", 35.0, 8)
    assert setting.where == "A: hole 35 mm; B: hole 35 mm"
