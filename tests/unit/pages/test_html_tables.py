"""Tables as HTML: labels that lead to drawings, numbers, ticks, and signs that do nothing."""

import pytest

from generator.pages.html_tables import format_cut_groups, format_table, link_cell, link_line
from generator.telling.cutting_tables import CutGroup
from generator.telling.tables import make_table

LABELS = frozenset(("A", "B", "AA"))


def test_a_table_says_once_which_columns_hold_numbers_and_links_its_labels() -> None:
    table = make_table("Cut list", ("Part@", "Name", "Copies#"), [("A", "Side", 2)])

    assert format_table(table, LABELS, tick="cut", ids="cut-") == (
        '<div class="scroll">\n<table class="n3 tick" data-tick="cut">\n'
        "<caption>Cut list</caption>\n"
        '<thead><tr><th scope="col">Part<th scope="col">Name<th scope="col">Copies</thead>\n'
        '<tbody>\n<tr id="cut-a"><th scope="row"><a href="#part-a">A</a><td>Side<td>2\n'
        "</tbody>\n</table>\n</div>\n"
    )


def test_rows_of_more_than_three_columns_become_slips_on_a_phone() -> None:
    assert "slips" in format_table(make_table("T", ("a", "b", "c", "d"), []))
    assert "slips" not in format_table(make_table("T", ("a", "b", "c"), []))


@pytest.mark.parametrize(
    ("line", "linked"),
    [
        ("2 × A Side", '2 × <a href="#part-a">A</a> Side'),
        ("side left (A)", 'side left (<a href="#part-a">A</a>)'),
        ("sides (A, AA)", 'sides (<a href="#part-a">A</a>, <a href="#part-aa">AA</a>)'),
        ("draw a line; B goes between.", 'draw a line; <a href="#part-b">B</a> goes between.'),
        ("4 for each B Shelf", '4 for each <a href="#part-b">B</a> Shelf'),
        ("2 × C Side", "2 × C Side"),
        ("A plain word", "A plain word"),
    ],
)
def test_labels_in_a_line_are_links_only_where_they_name_a_part(line: str, linked: str) -> None:
    assert link_line(line, LABELS) == linked


def test_signs_in_cells_are_text() -> None:
    assert link_cell("<b>A</b> & B", LABELS) == (
        '&lt;b&gt;<a href="#part-a">A</a>&lt;/b&gt; &amp; <a href="#part-b">B</a>'
    )


def test_cuts_stand_below_their_setting() -> None:
    group = CutGroup(title="Setting 2: rip, set to 40 mm", rows=(("1 to 4", "sheet 1", "B"),))
    html = format_cut_groups((group,), LABELS)

    assert '<tr><td colspan="3">Setting 2: rip, set to 40 mm\n' in html
    assert '<tr><th scope="row">1 to 4<td>sheet 1<td><a href="#part-b">B</a>' in html
