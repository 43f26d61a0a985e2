"""Law: a formula has the value that exact arithmetic gives it, however it is written down."""

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from generator.formula.evaluate import evaluate_formula
from generator.formula.parse import parse_formula
from generator.problems import Place, ProblemLog
from generator.units import MM_PER_INCH, Quantity, format_fraction, format_quantity

NAMES = ("a", "b", "c")
sizes = st.fractions(min_value=Fraction(-50), max_value=Fraction(50), max_denominator=64)
sixteenths = st.integers(min_value=0, max_value=16 * 500).map(lambda n: Fraction(n, 16))


def worked_out(text: str, names: dict[str, Quantity] | None = None) -> Quantity:
    log = ProblemLog()
    place = Place(file="design.yml", line=1, column=1, text=text, width=max(1, len(text)))
    formula = parse_formula(text, place, log)
    assert formula is not None, log.problems
    found = evaluate_formula(formula, names if names is not None else {}, log)
    assert found is not None, log.problems
    return found


@st.composite
def sums(draw: st.DrawFn, depth: int = 3) -> tuple[str, Fraction, dict[str, Fraction]]:
    """Return a formula of plain numbers, its exact value, and the names it uses."""
    if depth == 0 or draw(st.booleans()):
        if draw(st.booleans()):
            name = draw(st.sampled_from(NAMES))
            value = Fraction(NAMES.index(name) + 2, 3)
            return name, value, {name: value}
        number = draw(st.integers(min_value=0, max_value=99))
        tenths = draw(st.integers(min_value=0, max_value=9))
        return f"{number}.{tenths}", Fraction(10 * number + tenths, 10), {}
    left, left_value, left_names = draw(sums(depth=depth - 1))
    right, right_value, right_names = draw(sums(depth=depth - 1))
    names = left_names | right_names
    results = {
        f"({left}) + ({right})": left_value + right_value,
        f"({left}) - ({right})": left_value - right_value,
        f"({left}) * ({right})": left_value * right_value,
        f"max({left}; {right})": max(left_value, right_value),
        f"min({left}, {right})": min(left_value, right_value),
    }
    if right_value != 0:
        results[f"({left}) / ({right})"] = left_value / right_value
    text = draw(st.sampled_from(list(results)))
    return text, results[text], names


@given(sums())
def test_arithmetic_is_exact(case: tuple[str, Fraction, dict[str, Fraction]]) -> None:
    text, expected, names = case
    quantities = {name: Quantity("number", value) for name, value in names.items()}

    assert worked_out(text, quantities) == Quantity("number", expected)


@given(sixteenths, st.sampled_from([" ", "-"]), st.sampled_from([" in", "in"]))
def test_a_mixed_fraction_that_is_printed_is_read_back_as_itself(
    inches: Fraction, gap: str, unit: str
) -> None:
    text = format_fraction(inches).replace(" ", gap) + unit

    assert worked_out(text) == Quantity("length", inches * MM_PER_INCH)


@given(sixteenths)
def test_feet_and_inches_are_the_same_length_as_inches(inches: Fraction) -> None:
    feet, rest = divmod(inches, 12)

    assert worked_out(f"{feet} ft {format_fraction(rest)} in") == worked_out(
        f"{format_fraction(inches)} in"
    )


@given(sixteenths)
def test_a_length_on_the_tape_is_shown_as_it_was_written(inches: Fraction) -> None:
    text = f"{format_fraction(inches)} in"

    assert format_quantity(worked_out(text), "imperial") == text


@given(sizes, sizes)
def test_order_of_two_lengths_is_the_order_of_their_numbers(a: Fraction, b: Fraction) -> None:
    names = {"a": Quantity("length", a), "b": Quantity("length", b)}

    assert (worked_out("a < b", names).value == 1) == (a < b)
    assert (worked_out("a >= b", names).value == 1) == (a >= b)
    assert (worked_out("a == b", names).value == 1) == (a == b)


@given(sizes.filter(lambda value: value != 0), st.sampled_from(["1/16 in", "1 mm", "0.5 mm"]))
def test_rounding_moves_a_length_by_half_a_step_at_most_and_onto_a_step(
    mm: Fraction, step: str
) -> None:
    names = {"a": Quantity("length", mm)}
    step_mm = Fraction(worked_out(step).value)
    rounded = Fraction(worked_out(f"round(a; {step})", names).value)
    below = Fraction(worked_out(f"floor(a; {step})", names).value)
    above = Fraction(worked_out(f"ceil(a; {step})", names).value)

    assert abs(rounded - mm) <= step_mm / 2
    assert (rounded / step_mm).denominator == 1
    assert below <= mm <= above
    assert above - below in (0, step_mm)


@given(sizes, sizes)
def test_the_sine_and_cosine_of_the_direction_of_a_diagonal_give_back_its_sides(
    up: Fraction, along: Fraction
) -> None:
    names = {"up": Quantity("length", up), "along": Quantity("length", along)}
    if up == 0 and along == 0:
        return
    diagonal = "sqrt(up*up + along*along)"
    direction = "atan2(up; along)"

    assert abs(float(worked_out(f"{diagonal} * sin({direction}) - up", names))) < 1e-9
    assert abs(float(worked_out(f"{diagonal} * cos({direction}) - along", names))) < 1e-9
