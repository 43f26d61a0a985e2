"""Law: whatever text stands in a file, it is read or reported, never a traceback."""

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from generator.formula.chain import format_chain
from generator.formula.evaluate import evaluate_formula
from generator.formula.parse import parse_formula
from generator.problem_text import format_problem
from generator.problems import Place, ProblemLog
from generator.units import Kind, Quantity
from generator.yaml_source.getters import MappingReader
from generator.yaml_source.nodes import Entries
from generator.yaml_source.parse import parse_yaml

NAMES = {
    "height": Quantity("length", Fraction(1016)),
    "slope": Quantity("length", 12.345),
    "trays": Quantity("number", Fraction(3)),
    "nought": Quantity("number", Fraction(0)),
    "lean": Quantity("angle", Fraction(12)),
    "wide": Quantity("truth", Fraction(1)),
}
WORDS = (
    *NAMES, "heigth", "1", "0", "3/4", "46-1/2", "46 1/2", "5 ft 3 in", "999999999999", ".5", "in",
    "mm", "deg", "ft", "m", "kg", "lb", "+", "-", "*", "/", "×", "÷", "−", "(", ")", ";", ",",
    "<", "<=", "==", "!=", "if", "else", "and", "or", "not", "max(", "min(", "round(", "floor(",
    "sqrt(", "sin(", "tan(", "asin(", "atan2(", "abs(", "[", "{", '"', "½", "²", "٣", "\x00",
    "\u2028", "=",
)  # fmt: skip
YAML_BITS = (
    "{", "}", "[", "]", ": ", "- ", "\n", "\n  ", '"', "'", "|", ">", "#", "&a ", "*a", "!", "%",
    "@", "`", "? ", ", ", "\t", "\\x", "\\U", "<<", "---\n", "...", "a", "b", "1", " ", "\r",
    "\x85", "\ufeff", "\x00", "\ud800",
)  # fmt: skip

formulas = st.lists(st.sampled_from(WORDS), min_size=1, max_size=24).flatmap(
    lambda words: st.sampled_from(["", " "]).map(lambda gap: gap.join(words))
)
kinds: st.SearchStrategy[Kind | None] = st.sampled_from(
    ["length", "angle", "mass", "number", "truth", None]
)


@given(st.one_of(formulas, st.text(max_size=60)), kinds)
def test_a_text_has_a_value_or_exactly_one_problem_on_its_own_columns(
    text: str, needed: Kind | None
) -> None:
    log = ProblemLog()
    place = Place(file="a.yml", line=1, column=4, text=f"k: {text}", width=max(1, len(text)))
    formula = parse_formula(text, place, log)
    found = None
    if formula is not None:
        found = evaluate_formula(formula, NAMES, log, needed=needed)
        format_chain(formula, NAMES, "imperial")

    assert len(log.problems) == (0 if found is not None else 1)
    for problem in log.problems:
        assert format_problem(problem)
        assert problem.place is not None
        assert 4 <= problem.place.column <= 4 + len(text)
        assert problem.place.column - 1 + problem.place.width <= max(5, len(place.text) + 1)


@given(
    st.one_of(
        st.lists(st.sampled_from(YAML_BITS), max_size=40).map("".join),
        st.text(max_size=60),
        st.binary(max_size=60),
    )
)
def test_a_file_is_read_or_has_problems_on_its_own_lines(source: str | bytes) -> None:
    log = ProblemLog()
    node = parse_yaml(source, "a.yml", log)
    if isinstance(node, Entries):
        reader = MappingReader(node, log)
        reader.items("a")
        reader.finish()

    assert node is not None or log.problems
    for problem in log.problems:
        assert format_problem(problem)
        assert problem.place is not None
        assert 1 <= problem.place.column <= len(problem.place.text) + 1
