"""YAML text → words with places, and what is said about a text that is at fault."""

import pytest

from generator.problems import Problem, ProblemLog
from generator.yaml_source.nodes import Entries, Items, Node, Word
from generator.yaml_source.parse import LIMIT_BYTES, LIMIT_DEPTH, parse_yaml


def parse(source: str | bytes) -> tuple[Node | None, list[Problem]]:
    log = ProblemLog()
    return parse_yaml(source, "design.yml", log), log.problems


def parse_good(source: str | bytes) -> Node:
    node, problems = parse(source)
    assert problems == []
    assert node is not None
    return node


def under(node: Node, *keys: str) -> Node:
    for key in keys:
        assert isinstance(node, Entries)
        node = next(value for word, value in node.entries if word.text == key)
    return node


def spot(problem: Problem) -> tuple[str, int, int]:
    assert problem.place is not None
    return problem.code, problem.place.line, problem.place.column


def test_every_scalar_stays_the_text_that_was_typed() -> None:
    node = parse_good("{a: no, b: 1:30, c: 012, d: null, e: 1e3, f: 2001-01-01, g: ~, h: 0x1F}")

    assert isinstance(node, Entries)
    texts = [value.text for _, value in node.entries if isinstance(value, Word)]
    assert texts == ["no", "1:30", "012", "null", "1e3", "2001-01-01", "~", "0x1F"]


def test_a_word_knows_its_line_column_key_path_and_width() -> None:
    node = parse_good("parts:\n  side:\n    length: height - 4 in  # along the grain\n")

    word = under(node, "parts", "side", "length")
    assert isinstance(word, Word)
    assert (word.place.line, word.place.column) == (3, 13)
    assert word.place.key == "parts.side.length"
    assert len("height - 4 in") == word.place.width
    assert word.place.text == "    length: height - 4 in  # along the grain"


def test_list_items_are_counted_from_one_in_the_key_path() -> None:
    node = parse_good("steps:\n  - title: Cut\n  - title: Glue\n")

    steps = under(node, "steps")
    assert isinstance(steps, Items)
    title = under(steps.items[1], "title")
    assert title.place.key == "steps[2].title"
    assert title.place.line == 3


def test_a_mapping_is_owned_by_the_key_that_holds_it() -> None:
    node = parse_good("parts:\n  side:\n    length: 3 in\n")

    side = under(node, "parts", "side")
    assert isinstance(side, Entries)
    assert (side.owner.line, side.owner.column, side.owner.key) == (2, 3, "parts.side")
    assert len("side") == side.owner.width


@pytest.mark.parametrize("text", ["a: 'b c'", 'a: "b c"'])
def test_the_place_of_a_quoted_word_is_inside_the_quotes(text: str) -> None:
    word = under(parse_good(text), "a")

    assert (word.place.column, word.place.width) == (5, 3)


@pytest.mark.parametrize("line_end", ["\n", "\r\n", "\r", "\x85", "\u2028"])
def test_lines_are_counted_alike_for_every_line_end(line_end: str) -> None:
    word = under(parse_good(f"a: 1{line_end}# note{line_end}b: 2{line_end}"), "b")

    assert (word.place.line, word.place.column, word.place.text) == (3, 4, "b: 2")


def test_a_byte_order_mark_moves_nothing() -> None:
    word = under(parse_good(b"\xef\xbb\xbfa: 1"), "a")

    assert (word.place.line, word.place.column) == (1, 4)


def test_a_block_of_prose_keeps_its_lines() -> None:
    word = under(parse_good("says: |\n  One.\n  Two.\n"), "says")

    assert isinstance(word, Word)
    assert word.text == "One.\nTwo.\n"


@pytest.mark.parametrize(
    ("text", "line", "column", "words"),
    [
        ("a: {b: 12 in, c: 3 mm\nd: 3\n", 1, 4, "a `{` opened here is never closed"),
        ("a: [1, 2\nb: 3\n", 1, 4, "a `[` opened here is never closed"),
        ("a: {b: c d: e}\n", 1, 11, "`,` or `}` is missing here"),
        ('a: "abc\nb: 3\n', 1, 4, "a quote opened here is never closed"),
        ("a: b: c\n", 1, 5, "a `:` cannot stand here"),
        ("a:\n  b: 1\n c: 2\n", 3, 2, "this does not fit the lines above"),
        ("a: 1\n\tb: 2\n", 2, 1, "a tab stands where only spaces may"),
        ("a: @x\n", 1, 4, "a value cannot begin with `@`"),
        ("a: - b\n", 1, 4, "a list item cannot begin here"),
        ('a: "\\q"\n', 1, 6, "this backslash means nothing inside double quotes"),
        ("a: |x\n  b\n", 1, 5, "text follows `|` or `>` on the same line"),
        ("a: [b, , c]\n", 1, 8, "a value is missing here"),
        ("a: 1\nabc\nd: 2\n", 2, 1, "`: ` is missing after this key"),
    ],
)
def test_text_that_is_not_yaml_is_explained_where_it_goes_wrong(
    text: str, line: int, column: int, words: str
) -> None:
    node, problems = parse(text)

    assert node is None
    assert [("D101", line, column)] == [spot(problem) for problem in problems]
    assert f"the file is not valid YAML: {words}" == problems[0].what


@pytest.mark.parametrize(
    ("text", "feature", "column"),
    [
        ("a: *x\n", "an alias (`*`)", 4),
        ("a: &x 1\n", "an anchor (`&`)", 4),
        ("a: !!int 3\n", "a tag (`!`)", 4),
        ("<<: {a: 1}\n", "a merge key (`<<`)", 1),
        ("? [a]\n: 3\n", "a list or a mapping as a key", 3),
        ("--- 1\n--- 2\n", "a second document (`---`)", 1),
        ("%YAML 1.1\n--- 1\n", "a directive (`%`)", 1),
    ],
)
def test_what_makes_yaml_surprising_is_refused(text: str, feature: str, column: int) -> None:
    node, problems = parse(text)

    assert node is None
    assert [f"{feature} is not used in these files"] == [problem.what for problem in problems]
    assert column == spot(problems[0])[2]


def test_a_key_written_twice_is_reported_with_the_line_of_the_first_and_reading_goes_on() -> None:
    node, problems = parse("a: 1\nb: 2\na: 3\nb: 4\n")

    assert [spot(problem) for problem in problems] == [("D103", 3, 1), ("D103", 4, 1)]
    first = problems[0].notes[0].place
    assert first is not None
    assert first.line == 1
    assert node is not None
    word = under(node, "a")
    assert isinstance(word, Word)
    assert word.text == "1"


@pytest.mark.parametrize("text", ["", "\n\n", "# nothing but a note\n"])
def test_an_empty_file_is_said_to_be_empty(text: str) -> None:
    node, problems = parse(text)

    assert node is None
    assert [p.what for p in problems] == ["`design.yml` is empty where a value is needed"]


def test_bytes_that_are_not_utf_8_are_reported_on_their_line() -> None:
    node, problems = parse(b"a: 1\nb: \xff\n")

    assert node is None
    assert [spot(problem) for problem in problems] == [("D115", 2, 1)]
    assert problems[0].help == "save it as UTF-8"


@pytest.mark.parametrize("sign", ["\x00", "\x1b", "\x0c", "\ufeff", "\ud800", "\x7f"])
def test_a_sign_that_is_no_text_is_reported_at_its_column_and_not_shown(sign: str) -> None:
    node, problems = parse(f"a: 1\nb: 2{sign}3\n")

    assert node is None
    assert [spot(problem) for problem in problems] == [("D101", 2, 5)]
    assert problems[0].place is not None
    assert problems[0].place.text == "b: 2\ufffd3"


@pytest.mark.parametrize("escape", [r"\0", r"\e", r"\ud800", r"\UFFFFFFFF"])
def test_a_backslash_code_that_makes_no_text_is_reported(escape: str) -> None:
    node, problems = parse(f'a: "{escape}"')

    assert node is None
    assert [problem.code for problem in problems] == ["D101"]


def test_a_file_of_the_greatest_depth_is_read_and_one_level_more_is_not() -> None:
    deepest = "[" * (LIMIT_DEPTH - 1) + "x" + "]" * (LIMIT_DEPTH - 1)
    parse_good(deepest)
    node, problems = parse(f"[{deepest}]")

    assert node is None
    assert [problem.code for problem in problems] == ["D116"]


def test_brackets_by_the_thousand_do_not_exhaust_the_stack() -> None:
    node, problems = parse("[" * 20_000)

    assert node is None
    assert [problem.code for problem in problems] == ["D116"]


def test_a_file_with_too_many_values_is_refused_at_the_first_one_too_many(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr("generator.yaml_source.parse.LIMIT_NODES", 10)
    parse_good("[" + "1," * 9 + "]")
    node, problems = parse("[" + "1," * 10 + "]")

    assert node is None
    assert [spot(problem) for problem in problems] == [("D116", 1, 20)]
    assert problems[0].what == "the file has more than 10 values; the most is 10"


def test_a_file_that_is_too_long_is_refused() -> None:
    node, problems = parse(b"#" * (LIMIT_BYTES + 1))

    assert node is None
    assert [problem.code for problem in problems] == ["D116"]


@pytest.mark.parametrize(
    ("text", "line", "column"),
    [
        ("a:\n  name: screws #8 by 2 in\n", 2, 16),
        ("name: #8 screws\n", 1, 7),
        ("a: [one, two #10 x\n  , b]\n", 1, 14),
    ],
)
def test_a_gauge_that_yaml_would_drop_as_a_note_is_reported(
    text: str, line: int, column: int
) -> None:
    _, problems = parse(text)

    assert [spot(problem) for problem in problems] == [("D120", line, column)]
    assert problems[0].help == "put the whole text in quotes"


@pytest.mark.parametrize(
    "text", ['a: "#8 screw"', "a: '#8 screw'", "a: 3 # 8 of them", "a: |\n  #8 screw\n", "a: b#8"]
)
def test_a_gauge_in_quotes_and_an_honest_note_are_left_alone(text: str) -> None:
    assert parse(text)[1] == []
