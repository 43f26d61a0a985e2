"""Glue and finish: areas from the geometry, amounts from the areas."""

import math

import pytest

from generator.fitting.surfaces import surface_mm2
from generator.geometry.outlines import Outline, circle
from generator.geometry.slabs import Slab
from generator.units import SYSTEMS, System
from tests.little_designs import plan_of

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
  - {join: "low to high[1]", with: face screws, glue: yes}
  - {join: "low to high[2]", with: face screws}
steps:
  - {title: All, fit: "low, high"}
FINISH
"""
LOW_MM2 = 2 * (600 * 300 + 600 * 18 + 300 * 18)
HIGH_MM2 = 2 * (400 * 300 + 400 * 18 + 300 * 18)
TOUCH_MM2 = 300 * 18


def test_only_the_contacts_that_are_glued_count_for_glue() -> None:
    """200 g on a square metre of a glue of 1.1 kg a litre: common practice, no source."""
    glue = plan_of(TEXT.replace("FINISH", "")).fitting.glue

    assert glue is not None
    assert TOUCH_MM2 == pytest.approx(glue.area_mm2)
    assert TOUCH_MM2 * 0.2 / 1.1 == pytest.approx(glue.volume_mm3)


def test_no_glue_is_counted_where_nothing_is_glued() -> None:
    assert plan_of(TEXT.replace("FINISH", "").replace(", glue: yes", "")).fitting.glue is None


def test_a_finish_goes_on_all_surfaces_but_where_pieces_touch() -> None:
    """Two boards stand on the third: each contact is left out on both its pieces."""
    text = TEXT.replace("FINISH", "finish: {with: oil, coats: 2, covers: 10 m2 per litre}")
    (need,) = plan_of(text).fitting.finishes

    area = LOW_MM2 + 2 * HIGH_MM2 - 4 * TOUCH_MM2
    assert area == pytest.approx(need.area_mm2)
    assert area * 2 / 10 == pytest.approx(need.volume_mm3)
    assert ("low", "high[1]", "high[2]") == need.pieces


def test_a_finish_that_names_no_piece_goes_on_what_no_other_one_names() -> None:
    text = TEXT.replace(
        "FINISH",
        """finish:
  - {with: oil, covers: 10 m2 per litre}
  - {with: varnish, coats: 3, covers: 10 m2 per litre, on: "high[2]"}""",
    )
    rest, named = plan_of(text).fitting.finishes

    assert ("low", "high[1]") == rest.pieces
    assert ("high[2]",) == named.pieces
    assert HIGH_MM2 - TOUCH_MM2 == pytest.approx(named.area_mm2)
    assert LOW_MM2 + HIGH_MM2 - 3 * TOUCH_MM2 == pytest.approx(rest.area_mm2)


@pytest.mark.parametrize(
    ("covers", "m2_per_litre"),
    [
        ("10 m2 per litre", 10.0),
        ("100 sq ft per quart", 9.290304 / 0.946352946),
        ("400 sq ft per gallon", 37.161216 / 3.785411784),
        ("(5 + 5) m2 per litre", 10.0),
    ],
)
@pytest.mark.parametrize("system", ["metric", "imperial"])
def test_what_a_can_covers_is_converted_exactly(
    covers: str, m2_per_litre: float, system: System
) -> None:
    """Source: NIST HB 44 App. C: a foot is 0.3048 m, a gallon 3.785411784 L, a quart a fourth."""
    text = TEXT.replace("FINISH", f"finish: {{with: oil, covers: {covers}}}")
    (need,) = plan_of(text, system).fitting.finishes

    assert m2_per_litre == pytest.approx(need.spec.coverage_per_mm, rel=1e-12)


def test_finish_and_glue_are_bought_in_the_units_of_the_edition() -> None:
    """0.9012 m² of 20 coats at 10 m² per litre are 1.80 L or 1.90 quarts; the glue is 1 ml."""
    text = TEXT.replace("FINISH", "finish: {with: oil, coats: 20, covers: 10 m2 per litre}")
    metric, imperial = (
        {item.item: (item.quantity, item.unit) for item in plan_of(text, system).shopping}
        for system in SYSTEMS[::-1]
    )

    assert [(1.9, "litres"), (2.0, "quarts")] == [metric["oil"], imperial["oil"]]
    assert [(10.0, "ml"), (0.5, "fl oz")] == [metric["wood glue"], imperial["wood glue"]]


def test_one_finish_at_two_places_is_one_row_of_the_shopping_list() -> None:
    text = TEXT.replace(
        "FINISH",
        """finish:
  - {with: oil, covers: 10 m2 per litre}
  - {with: oil, coats: 3, covers: 10 m2 per litre, on: low}""",
    )
    rows = [item for item in plan_of(text).shopping if item.item == "oil"]

    litres = (2 * HIGH_MM2 - 2 * TOUCH_MM2 + 3 * (LOW_MM2 - 2 * TOUCH_MM2)) / 1e7
    assert [math.ceil(litres * 10) / 10] == [row.quantity for row in rows]


def test_the_words_of_all_finishes_stand_one_after_the_other() -> None:
    text = TEXT.replace(
        "FINISH",
        """finish:
  - {with: oil, covers: 10 m2 per litre, says: "Wipe it off."}
  - {with: wax, covers: 10 m2 per litre, on: low, says: "Rub it in, {panel} at a time."}""",
    )

    assert plan_of(text).edition.story.finish == "Wipe it off.\n\nRub it in, 18 mm at a time."


def test_the_skin_of_a_solid_has_faces_edges_and_the_walls_of_holes() -> None:
    """A slab of 100 by 80 by 20 mm with a hole of 30 mm, the arcs as chords."""
    face = Outline(((0.0, 0.0), (100.0, 0.0), (100.0, 80.0), (0.0, 80.0)))
    slab = Slab(face, face, 20.0, (circle((50.0, 40.0), 30.0),))

    plain = 2 * 100 * 80 + 2 * (100 + 80) * 20
    hole = math.pi * 30 * 20 - 2 * math.pi * 15**2
    assert plain + hole == pytest.approx(surface_mm2(slab), rel=1e-3)


def test_a_bevelled_edge_counts_with_its_slant() -> None:
    """A frustum: 100 mm square below, 60 mm square above, 20 mm high; sides slant 45 degrees."""
    low = Outline(((0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0)))
    high = Outline(((20.0, 20.0), (80.0, 20.0), (80.0, 80.0), (20.0, 80.0)))

    sides = 4 * (100 + 60) / 2 * 20 * math.sqrt(2)
    assert 100**2 + 60**2 + sides == pytest.approx(surface_mm2(Slab(low, high, 20.0)))
