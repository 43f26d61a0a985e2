"""Problems, places, hints and how they are printed."""

import re
from dataclasses import replace
from string import Formatter

import pytest

from generator.problem_text import LIMIT_SHOWN, format_problem
from generator.problems import (
    CODES,
    Note,
    Place,
    ProblemLog,
    define,
    format_near_names,
    make_problem,
    merge_repeats,
    sort_problems,
)

PLACE = Place(
    file="designs/a/design.yml",
    line=19,
    column=12,
    key="parts.side.width",
    text="    width: 300",
    width=3,
)


def test_a_problem_is_printed_with_its_line_its_underline_and_its_help() -> None:
    problem = make_problem("D112", PLACE, hint='write "300 mm"', text="300")

    assert format_problem(problem) == (
        "designs/a/design.yml:19:12: error[D112]: length `300` has no unit\n"
        "   |\n"
        "19 |     width: 300\n"
        "   |            ^^^\n"
        "   = at: parts.side.width\n"
        '   = help: write "300 mm"'
    )


def test_a_note_names_its_own_line() -> None:
    first = Place(file="design.yml", line=3, column=1)
    note = Note(text="it was first written here", place=first)
    problem = make_problem("D103", PLACE, notes=[note, Note(text="twice")], key="width")

    assert format_problem(problem).splitlines()[-2:] == [
        "   = note: it was first written here, at design.yml:3",
        "   = note: twice",
    ]


def test_a_problem_without_a_place_is_one_line() -> None:
    problem = make_problem("N101", None, part="back", size="3 by 4 in", sheet="plywood-1/4")

    assert format_problem(problem) == (
        "error[N101]: part `back` (3 by 4 in) fits no sheet of `plywood-1/4`"
    )


def test_a_tab_in_the_line_is_a_tab_above_the_underline_too() -> None:
    place = Place(file="a.yml", line=1, column=4, text="a:\t300", width=3)
    lines = format_problem(make_problem("D112", place, text="300")).splitlines()

    assert lines[2:4] == ["1 | a:\t300", "  |   \t^^^"]


@pytest.mark.parametrize("column", [1, 60, 150, 5000, 10_000])
def test_a_long_line_is_cut_so_that_the_fault_is_seen(column: int) -> None:
    text = "x" * (column - 1) + "Y" * 3 + "z" * (10_000 - column)
    place = Place(file="a.yml", line=1, column=column, text=text, width=3)
    window, underline = format_problem(make_problem("D112", place, text="3")).splitlines()[2:4]

    assert len(window) <= len("1 | ") + LIMIT_SHOWN
    start = underline.index("^")
    assert window[start : start + 3] == "YYY"
    assert underline.count("^") == 3


def test_a_place_moves_along_its_line_and_is_never_without_width() -> None:
    moved = PLACE.shifted(1, 0)

    assert (moved.line, moved.column, moved.width) == (19, 13, 1)
    assert (moved.file, moved.key, moved.text) == (PLACE.file, PLACE.key, PLACE.text)


def test_problems_are_sorted_by_file_line_and_column_and_each_is_told_once() -> None:
    spots = [("b.yml", 1, 1), ("a.yml", 2, 5), ("a.yml", 2, 1), ("a.yml", 10, 1)]
    places = [Place(file=file, line=line, column=column) for file, line, column in spots]
    log = ProblemLog()
    for place in [None, *places, *places]:
        log.add("D115", place, why="gone")
    problems = sort_problems(log.problems)

    found = [p.place and (p.place.file, p.place.line, p.place.column) for p in problems]
    assert found == [
        ("a.yml", 2, 1),
        ("a.yml", 2, 5),
        ("a.yml", 10, 1),
        ("b.yml", 1, 1),
        None,
    ]


def test_a_warning_alone_does_not_stop_the_next_stage() -> None:
    log = ProblemLog()
    log.add("D301", PLACE, name="gap")
    before = log.has_errors
    log.add("D115", PLACE, why="gone")

    assert not before
    assert log.has_errors


def test_near_names_come_first_then_all_of_a_short_list_then_nothing() -> None:
    many = [f"name_{number}" for number in range(11)]

    assert format_near_names("heigth", ["width", "height"]) == "did you mean `height`?"
    assert format_near_names("traye", ["trays", "tray"]) == "did you mean `tray` or `trays`?"
    assert format_near_names("zzz", ["b", "a", "b"]) == "it can be `b` or `a`"
    assert format_near_names("zzz", many) is None
    assert format_near_names("zzz", []) is None


def test_a_code_cannot_be_defined_twice() -> None:
    with pytest.raises(ValueError, match="D101 is defined twice"):
        define("error", D101="again")


def test_a_template_whose_field_is_missing_is_our_fault_and_raises() -> None:
    with pytest.raises(KeyError):
        make_problem("D101", PLACE)


@pytest.mark.parametrize("code", CODES)
def test_every_template_is_lower_case_without_full_stop_and_names_only_fields(code: str) -> None:
    template = CODES[code].template
    fields = [name for _, name, _, _ in Formatter().parse(template) if name is not None]

    assert re.fullmatch(r"[KDEPJACNS]\d{3}", code)
    assert not template.endswith((".", "!"))
    assert template[0] in "`{" or template[0].islower() or template.startswith("YAML")
    assert all(re.fullmatch(r"[a-z_]+", name) for name in fields)
    assert not {"notes", "hint"} & set(fields)
    for word in ("invalid", "illegal", "please", "oops", "failed to", "dict", "None"):
        assert word not in template


def test_faults_of_one_code_at_one_place_are_one_problem_and_the_others_notes() -> None:
    pieces = ("side.left", "side.right", "back", "top", "shelf")
    problems = [make_problem("P102", PLACE, piece=piece) for piece in pieces]

    (merged,) = merge_repeats(problems)

    assert problems[0].what == merged.what
    assert [note.text for note in merged.notes] == [
        "also: the edges of `side.right` leave no wood",
        "also: the edges of `back` leave no wood",
        "also: the edges of `top` leave no wood",
        "and 1 more like these",
    ]


def test_a_name_that_is_missing_is_one_problem_wherever_it_is_used() -> None:
    lines = (PLACE, replace(PLACE, line=23), replace(PLACE, line=30))

    (merged,) = merge_repeats(make_problem("D203", place, name="heigth") for place in lines)

    assert PLACE == merged.place
    assert ["also in lines 23 and 30"] == [note.text for note in merged.notes]


def test_faults_at_different_places_stay_apart_where_each_must_be_mended() -> None:
    problems = [
        make_problem("D112", place, text="300") for place in (PLACE, replace(PLACE, line=23))
    ]

    assert tuple(problems) == merge_repeats(problems)
