"""What a page says of cuts at the shop and of the reader's saw."""

from dataclasses import replace

from generator.model.cutting import OtherSaw
from generator.telling.shop_tables import (
    MOST_CUTS,
    list_shop_words,
    make_other_saws,
    own_kerf_words,
    shop_kerf_words,
)
from tests.sample_shop import ESTATE, SMALL, make_list, shop_plan

HOLDS = "These layouts hold. The settings stay as they are."


def test_a_list_names_the_cut_of_the_plan_that_need_not_be_made() -> None:
    (words,) = list_shop_words(shop_plan(make_list(SMALL, 1)))

    assert words.lead == "For a small car that takes 1250 × 800 mm: one cut."
    assert words.cuts is not None
    assert words.cuts.rows == (("1", "sheet 1", "across", "1219", "1a, leaving 1b", "5"),)
    assert words.pieces == (
        "You take home 1a, 1219 × 400 mm (2 A, 1 C); 1b, 600 × 400 mm (offcut). "
        "Waste, left there: 1c."
    )


def test_parts_larger_than_the_car_are_named_with_the_room_they_ask_for() -> None:
    (words,) = list_shop_words(shop_plan(make_list(SMALL, 2, too_large=("B", "C"))))

    assert words.lead == (
        "For a small car that takes 1250 × 800 mm: 2 cuts. Larger than that: parts B, C; "
        "they ask for room of 1835 × 800 mm, and the list is for that."
    )


def test_a_list_longer_than_a_shop_cuts_stands_in_its_file_only() -> None:
    longest, longer = (
        list_shop_words(shop_plan(make_list(SMALL, count)))[0]
        for count in (MOST_CUTS, MOST_CUTS + 1)
    )

    assert longest.cuts is not None
    assert longer.cuts is None
    assert "shop-cuts.csv" in longer.lead


def test_two_cars_with_the_same_cuts_share_one_table() -> None:
    first, second = list_shop_words(shop_plan(make_list(SMALL, 1), make_list(ESTATE, 1)))

    assert first.cuts is not None
    assert second.cuts is None
    assert second.lead.endswith("one cut. They are those for a small car.")


def test_a_sheet_that_fits_whole_has_no_table() -> None:
    (words,) = list_shop_words(shop_plan(make_list(ESTATE, 0)))

    assert words.cuts is None
    assert words.lead == "For an estate car that takes 1800 × 1000 mm: no cut is needed."


def test_another_saw_is_told_to_hold_to_ask_for_more_or_to_be_too_wide() -> None:
    plan = shop_plan()
    sheet = plan.cutting.layouts[0]
    more = replace(plan.cutting, layouts=(sheet, sheet))
    saws = (
        OtherSaw(kerf_mm=1.6, holds=True),
        OtherSaw(kerf_mm=2.4, holds=False, cutting=plan.cutting),
        OtherSaw(kerf_mm=3.2, holds=False, cutting=more),
        OtherSaw(kerf_mm=4.0, holds=False),
    )
    rows = make_other_saws(shop_plan(saws=saws)).rows

    assert rows[0] == ("1.6 mm", HOLDS)
    assert "laid out anew" in rows[1][1]
    assert "Buy 1 sheet more" in rows[2][1]
    assert "does not fit" in rows[3][1]


def test_the_shops_saw_may_take_the_widest_kerf_the_layouts_hold_with() -> None:
    saws = (OtherSaw(kerf_mm=2.4, holds=True), OtherSaw(kerf_mm=3.2, holds=True))
    less = (saws[0], replace(saws[1], holds=False))

    assert shop_kerf_words(shop_plan(saws=saws)) == "3.2 mm"
    assert shop_kerf_words(shop_plan(saws=less)) == max(
        "2.4 mm", own_kerf_words(shop_plan()), key=lambda text: float(text.split()[0])
    )
