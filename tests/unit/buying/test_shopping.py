"""The shopping list counts what the plan uses: sheets, screws and spares, glue, the maker's own."""

import pytest

from generator.buying.fasteners import pick_pack
from generator.model.plan import ShoppingItem
from generator.units import System
from tests.little_designs import plan_of

METRIC_FIRST: tuple[System, ...] = ("metric", "imperial")
TEXT = """
parts:
  base: {from: panel, length: 1500 mm, width: 1500 mm, runs: {length: right, width: back}}
  post:
    from: panel
    each: n in 1..COUNT
    length: 300 mm
    width: 1500 mm
    corner: [n * 100 mm, 0 mm, panel]
    runs: {length: up, width: back}
joints:
  - {join: base to post, with: face screws, count: 5, glue: GLUE}
buy:
  - {item: felt pads, quantity: 2 * 2, unit: pieces, note: 'to go under {1500 mm}'}
steps:
  - {title: All, fit: "base, post"}
"""


def shopping(count: int, glue: str = "no", system: System = "metric") -> tuple[ShoppingItem, ...]:
    text = TEXT.replace("COUNT", str(count)).replace("GLUE", glue)
    return plan_of(text, system).shopping


@pytest.mark.parametrize(
    ("count", "driven", "boxes", "unit", "spare"),
    [(1, 5, 1, "box of 25", 20), (4, 20, 1, "box of 25", 5), (5, 25, 1, "box of 50", 25)],
)
def test_screws_are_bought_in_boxes_with_at_least_a_tenth_to_spare(
    count: int, driven: int, boxes: int, unit: str, spare: int
) -> None:
    screws = [item for item in shopping(count) if "screw" in item.item]

    assert [(item.quantity, item.unit) for item in screws] == [(boxes, unit)]
    assert screws[0].note == f"{driven} needed, {spare} to spare"


@pytest.mark.parametrize(
    ("needed", "packs", "pick"),
    [
        (1, (25, 100), (1, 25)),
        (25, (25, 100), (1, 25)),
        (26, (25, 100), (2, 25)),
        (76, (25, 100), (1, 100)),
        (130, (50, 100), (3, 50)),
        (8, (1, 10), (8, 1)),
        (10, (1, 10), (1, 10)),
        (101, (100,), (2, 100)),
    ],
)
def test_the_packs_hold_the_fewest_pieces_that_do_then_they_are_the_fewest(
    needed: int, packs: tuple[int, ...], pick: tuple[int, int]
) -> None:
    assert pick_pack(needed, packs) == pick


@pytest.mark.parametrize(("count", "sheets", "unit"), [(1, 1, "sheet"), (14, 2, "sheets")])
def test_sheets_are_counted_by_stock_and_size(count: int, sheets: int, unit: str) -> None:
    """Test boards are 4 m by 2 m: 14 posts and the base take 8.55 of the 8 square metres."""
    first = shopping(count)[0]

    assert (first.quantity, first.unit) == (sheets, unit)
    assert first.item.endswith(", full sheet")


def test_glue_is_bought_where_a_joint_is_glued() -> None:
    assert "wood glue" not in [item.item for item in shopping(1)]
    assert [item.item for item in shopping(1, "yes")].count("wood glue") == 1


def test_what_the_maker_names_comes_last_in_his_words() -> None:
    last = shopping(1)[-1]

    assert (last.item, last.quantity, last.unit) == ("felt pads", 4.0, "pieces")
    assert last.note == "to go under 1500 mm"


@pytest.mark.parametrize(("system", "size"), [("metric", "4000 mm by 2000 mm, 18 mm thick")])
def test_a_sheet_is_told_with_its_size_and_its_measured_thickness(
    system: System, size: str
) -> None:
    assert shopping(1, system=system)[0].note == f"{size}; measure it before you buy"


def test_boards_are_bought_by_length_with_their_section() -> None:
    head = "title: Rack\ndate: 2026-11-25\nstock:\n  stick: {imperial: 2x4, metric: 38x89}\n"
    text = """
parts:
  rail:
    from: stick
    each: n in 1..3
    length: 1700 mm
    corner: [0 mm, stick * n, 0 mm]
    runs: {length: right, width: up}
joints: [{join: "rail[1] to rail[2]", with: glue}, {join: "rail[2] to rail[3]", with: glue}]
steps: [{title: All, fit: rail}]
"""
    metric, imperial = (plan_of(text, system, head).shopping[:2] for system in METRIC_FIRST)

    assert [item.item for item in metric] == [
        "38 × 89 mm softwood board, planed, 3600 mm long",
        "38 × 89 mm softwood board, planed, 1800 mm long",
    ]
    assert [(item.quantity, item.unit) for item in metric] == [(1.0, "board")] * 2
    assert metric[0].note.startswith("38 mm by 89 mm; ")
    assert [item.item for item in imperial] == [
        "2×4 softwood board, planed, 12 ft long",
        "2×4 softwood board, planed, 6 ft long",
    ]
