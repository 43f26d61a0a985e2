"""Tables of the sample plan."""

import csv
import io

import pytest

from generator.outputs.tables import (
    cut_list_csv,
    cut_order_csv,
    fasteners_csv,
    safe_cell,
    shopping_csv,
)
from tests.samples import sample_plan


def _rows(data: bytes) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(data.decode("utf-8"), newline="")))


def test_the_cut_list_shows_inches_as_on_a_tape_and_millimetres_beside_them() -> None:
    side, bottom, _ = _rows(cut_list_csv(sample_plan("imperial")))

    assert tuple(side[key] for key in ("label", "count", "length", "width", "unit")) == (
        "A",
        "2",
        "16",
        "10",
        "in",
    )
    assert (side["length_mm"], side["width_mm"]) == ("406.4", "254")
    assert (bottom["length"], bottom["length_mm"]) == ("22 9/16", "573.087")
    assert (bottom["blank width"], bottom["blank_width_mm"]) == ("10 1/4", "260.35")
    assert bottom["work"] == "front edge: blade tilted 12°, long point on the top face"


def test_the_cut_list_of_the_metric_edition_is_in_whole_millimetres() -> None:
    side, bottom, shelf = _rows(cut_list_csv(sample_plan("metric")))

    assert tuple(side[key] for key in ("length", "width", "unit")) == ("400", "250", "mm")
    assert side["work"] == "top front corner: clipped, 56.3° off square; 1 left, 1 right"
    assert (bottom["length"], bottom["blank width"]) == ("564", "256")
    assert "hole 40 mm" in shelf["work"]


def test_every_screw_has_a_row_with_its_step_and_bits() -> None:
    rows = _rows(fasteners_csv(sample_plan("metric")))

    assert [f"S{i}" for i in range(1, 9)] == [row["id"] for row in rows]
    assert [row["step"] for row in rows] == ["1"] * 4 + ["2"] * 4
    assert (rows[0]["bit_mm"], rows[0]["pilot_bit_mm"]) == ("9.5", "")
    assert (rows[4]["bit_mm"], rows[4]["pilot_bit_mm"]) == ("4.5", "2.5")
    assert rows[4]["through"] == "side.left > shelf"


def test_the_cut_order_counts_up_and_names_what_each_cut_frees() -> None:
    rows = _rows(cut_order_csv(sample_plan("imperial")))

    assert [str(i + 1) for i in range(len(rows))] == [row["order"] for row in rows]
    assert (rows[0]["kind"], rows[0]["setting size"]) == ("trim", "1/4")
    assert tuple(rows[4][key] for key in ("kind", "setting size", "frees")) == (
        "rip",
        "10",
        "strip 1.1",
    )


def test_the_shopping_list_keeps_its_order_and_shows_whole_quantities_without_decimals() -> None:
    rows = _rows(shopping_csv(sample_plan("metric")))

    assert [row["quantity"] for row in rows] == ["1", "4", "4", "1"]
    assert rows[-1]["item"] == "Wood glue"


@pytest.mark.parametrize("text", ["=1+1", "+cmd", "-x", "@sum", "\tx", "-1 1/2"])
def test_a_cell_that_looks_like_a_formula_gets_an_apostrophe(text: str) -> None:
    assert "'" + text == safe_cell(text)


@pytest.mark.parametrize("text", ["-3", "+2.5", "-0.125", "3/4", "#8 screw"])
def test_a_number_or_plain_word_is_left_alone(text: str) -> None:
    assert text == safe_cell(text)


def test_a_decimal_keeps_three_places_and_no_negative_zero() -> None:
    assert (safe_cell(-0.0001), safe_cell(1.2349), safe_cell(4.0)) == ("0", "1.235", "4")
