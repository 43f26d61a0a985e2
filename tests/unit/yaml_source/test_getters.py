"""Typed getters: what they return and what they report."""

from generator.problems import Problem, ProblemLog
from generator.yaml_source.getters import (
    MappingReader,
    find_choice,
    find_comma_hint,
    find_words,
)
from generator.yaml_source.nodes import Entries, Word
from generator.yaml_source.parse import parse_yaml


def read(text: str) -> tuple[MappingReader, ProblemLog]:
    log = ProblemLog()
    node = parse_yaml(text, "design.yml", log)
    assert isinstance(node, Entries)
    return MappingReader(node, log), log


def said(problems: list[Problem]) -> list[tuple[str, str]]:
    return [(problem.code, problem.what) for problem in problems]


def test_a_key_that_is_absent_gives_nothing_and_reports_nothing() -> None:
    reader, log = read("a: 1")

    assert reader.word("b") is None
    assert reader.text("b") == ""
    assert reader.mapping("b") is None
    assert not (reader.items("b"))
    assert not (reader.words("b"))
    assert not (reader.entries("b"))
    assert reader.yes_no("b", default=True)
    assert log.problems == []


def test_a_required_key_that_is_absent_is_reported_at_the_key_that_holds_the_mapping() -> None:
    reader, log = read("parts:\n  side:\n    width: 3 in\n")
    parts = reader.mapping("parts")
    assert parts is not None
    side = parts.mapping("side")
    assert side is not None
    assert side.required_word("length") is None

    assert said(log.problems) == [("D105", "key `length` is missing")]
    place = log.problems[0].place
    assert place is not None
    assert (place.line, place.column, place.width, place.key) == (2, 3, 4, "parts.side")


def test_an_unknown_key_is_reported_with_the_nearest_key_that_is_not_written_yet() -> None:
    reader, log = read("lenght: 1\nwidth: 2\n")
    reader.word("length")
    reader.word("width")
    reader.finish()

    assert said(log.problems) == [("D104", "unknown key `lenght`")]
    assert log.problems[0].help == "did you mean `length`?"


def test_an_unknown_key_with_no_near_name_is_reported_with_the_keys_that_are_known() -> None:
    reader, log = read("zzz: 1\n")
    reader.word("length")
    reader.finish("width")

    assert log.problems[0].help == "it can be `length` or `width`"


def test_a_wrong_shape_is_told_in_plain_words() -> None:
    reader, log = read("a: [1]\nb: {c: 1}\nd: 1\ne: 1\n")
    reader.word("a")
    reader.items("b")
    reader.mapping("d")
    reader.items("e")

    assert said(log.problems) == [
        ("D106", "`a` must be text, not a list"),
        ("D106", "`b` must be a list, not a mapping of names"),
        ("D106", "`d` must be a mapping of names, not text"),
        ("D106", "`e` must be a list, not text"),
    ]


def test_a_key_with_nothing_after_it_is_told_to_be_empty_whatever_is_asked_for() -> None:
    reader, log = read("a:\nb: ''\nc:\nd:\n")
    reader.word("a")
    reader.word("b")
    reader.mapping("c")
    reader.items("d")

    assert [("D111", f"`{key}` is empty where a value is needed") for key in "abcd"] == said(
        log.problems
    )


def test_a_word_that_is_no_choice_is_reported_with_the_choice_it_resembles() -> None:
    reader, log = read("show: outsid\n")
    found = reader.choice("show", ("outside", "inside"), default="inside")

    assert found == "inside"
    assert said(log.problems) == [("D107", "`outsid` is not one of the words `show` takes")]
    assert log.problems[0].help == "did you mean `outside`?"


def test_yes_and_no_are_the_only_truths() -> None:
    reader, log = read("a: yes\nb: no\nc: true\n")

    assert reader.yes_no("a", default=False)
    assert not reader.yes_no("b", default=True)
    assert reader.yes_no("c", default=True)
    assert [problem.code for problem in log.problems] == ["D107"]


def test_one_word_stands_for_a_list_of_one() -> None:
    reader, log = read("a: one\nb: [one, two]\n")

    assert [word.text for word in reader.words("a")] == ["one"]
    assert [word.text for word in reader.words("b")] == ["one", "two"]
    assert log.problems == []


def test_every_item_that_is_no_word_is_reported_and_the_others_are_kept() -> None:
    reader, log = read("a: [one, [two], {three: 3}]\n")
    node = reader.node("a")
    assert node is not None

    assert [word.text for word in find_words(node, log)] == ["one"]
    assert [problem.what for problem in log.problems] == [
        "`a[2]` must be text or a list of texts, not a list",
        "`a[3]` must be text or a list of texts, not a mapping of names",
    ]


def test_a_choice_of_a_list_item_is_named_by_its_place_in_the_list() -> None:
    reader, log = read("a: [up, dwn]\n")
    words = reader.words("a")

    assert [find_choice(word, ("up", "down"), log) for word in words] == ["up", None]
    assert [p.what for p in log.problems] == ["`dwn` is not one of the words `a[2]` takes"]


def test_entries_keep_the_order_of_the_file() -> None:
    reader, _ = read("parts: {b: 1, a: 2, c: 3}\n")

    assert [word.text for word, _ in reader.required_entries("parts")] == ["b", "a", "c"]


def test_the_place_of_a_key_is_the_mapping_where_the_key_is_absent() -> None:
    reader, _ = read("a: 1\nbee: 2\n")

    assert (reader.place_of("bee").line, reader.place_of("bee").width) == (2, 3)
    assert reader.place_of("c").line == 1


def test_text_is_taken_without_blanks_around_it() -> None:
    reader, _ = read("a: '  stand  '\n")

    assert reader.required_text("a") == "stand"
    word = reader.word("a")
    assert isinstance(word, Word)
    assert word.text == "  stand  "


def test_a_formula_that_a_comma_split_is_recognised_by_its_half_open_bracket() -> None:
    reader, _ = read("a: [max(width, depth), 0]\nb: [max(width; depth), 0, 1]\n")
    split, whole = find_comma_hint(reader.items("a")), find_comma_hint(reader.items("b"))

    assert split is not None
    assert "write ; between the arguments" in split
    assert whole is None
