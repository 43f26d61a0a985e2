"""What a page says of loads: figures, where they come from, and what they are not."""

from generator.telling.strength_words import strength_sentences
from tests.little_designs import HEAD, SHELF_BETWEEN_SIDES, plan_of

SHELF = (
    SHELF_BETWEEN_SIDES
    + """\
    carries: 30 kg
joints: [{join: shelf to side, with: pocket screws, pockets: bottom}]
steps: [{title: All, fit: "side, shelf"}]
"""
)

ANCHORED = "hardware: {anchor: {item: wall anchors, on: side.left, wall: yes}}\n"


def sentences(stands: str, text: str = SHELF) -> tuple[str, ...]:
    head = HEAD.replace("hung", stands) + ANCHORED
    return strength_sentences(plan_of(text, head=head))


def test_a_loaded_shelf_is_told_with_span_sag_and_limit() -> None:
    """4.8 mm: worked out by hand in the tests of the strength stage."""
    first, method = sentences("hung")[:2]

    assert first == (
        "Shelf (B): under 30 kg, 900 mm between its supports, it sags by 4.8 mm, after years. "
        "Allowed is 6.2 mm, 1/144 of the span."
    )
    assert "table 9-1" in method
    assert "NDS 3.5.2" in method


def test_where_no_load_is_named_the_page_says_so() -> None:
    (first, _) = sentences("hung", SHELF.replace("    carries: 30 kg\n", ""))

    assert first.startswith("The maker names no load")


def test_a_free_piece_is_told_with_the_push_that_tips_it_and_no_certificate() -> None:
    """Sides 3.53 kg, shelf 2.65 kg, 300 mm deep, 600 mm high: 6.18 x 9.80665 x 150 / 600 N."""
    last = sentences("freely")[-1]

    assert "A level push of 15 N at its top, 600 mm up" in last
    assert last.endswith("not a certificate of strength or stability.")


def test_what_is_on_a_wall_is_told_that_nobody_knows_the_wall() -> None:
    assert sentences("hung")[-1].startswith("It hangs on a wall. What your wall")
    assert "not to be loaded before" in sentences("fixed")[-1]
    assert "not a certificate" in sentences("fixed")[-1]
