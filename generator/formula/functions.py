"""The functions a formula may use; exact fractions stay exact where that is possible."""

import math
from collections.abc import Callable, Mapping
from fractions import Fraction

from generator.formula.tree import Span
from generator.formula.values import (
    FLOAT_NOISE,
    NUMBER,
    Dimension,
    EvaluationFaultError,
    Value,
    compare_values,
    describe_dimension,
    magnitude,
    same_dimension,
)
from generator.units import format_angle

_EXACT_SINES = {
    0: Fraction(0),
    30: Fraction(1, 2),
    90: Fraction(1),
    150: Fraction(1, 2),
    180: Fraction(0),
    210: Fraction(-1, 2),
    270: Fraction(-1),
    330: Fraction(-1, 2),
}
"""Degrees → sine, where it is a fraction."""


def apply_function(name: str, arguments: tuple[Value, ...], span: Span) -> Value:
    """Return the value of a function.

    Args:
        name: One of `tokens.FUNCTIONS`; the number of arguments was checked when parsing.
        arguments: The values it takes.
        span: The call, to put faults at.

    Raises:
        EvaluationFaultError: The kinds do not suit, or the function has no value here.
    """
    return _FUNCTIONS[name](name, arguments, span)


def _least_or_most(name: str, arguments: tuple[Value, ...], span: Span) -> Value:
    best = arguments[0]
    for value in arguments[1:]:
        dimension = _shared(name, best, value, span)
        wanted = -1 if name == "min" else 1
        winner = value if compare_values(value, best) == wanted else best
        both_zero = best.is_plain_zero and value.is_plain_zero
        best = Value(dimension, winner.value, is_plain_zero=both_zero)
    return best


def _absolute(_name: str, arguments: tuple[Value, ...], span: Span) -> Value:
    value = arguments[0]
    _refuse_truth("abs", value, span)
    return Value(value.dimension, magnitude(value.value), value.is_plain_zero)


def _stepped(name: str, arguments: tuple[Value, ...], span: Span) -> Value:
    """Return the value moved to a multiple of the step; halves are rounded up."""
    value = arguments[0]
    _refuse_truth(name, value, span)
    if len(arguments) == 1:
        if value.dimension != NUMBER:
            found = f"{describe_dimension(value.dimension)} alone"
            raise EvaluationFaultError(
                "E111",
                span,
                f"write the step after it, such as {name}(...; 1 mm)",
                function=name,
                expected="a value and a step",
                found=found,
            )
        step = Value(NUMBER, Fraction(1))
    else:
        step = arguments[1]
    dimension = _shared(name, value, step, span)
    if step.value <= 0:
        raise EvaluationFaultError(
            "E111",
            span,
            function=name,
            expected="a step of more than 0",
            found=f"{float(step.value):g}",
        )
    steps = value.value / step.value
    return Value(dimension, _whole(name, steps) * step.value)


def _whole(name: str, steps: Fraction | float) -> int:
    if name == "round":
        return math.floor(steps + Fraction(1, 2))
    if isinstance(steps, float) and abs(steps - round(steps)) <= FLOAT_NOISE:
        return round(steps)
    return math.floor(steps) if name == "floor" else math.ceil(steps)


def _square_root(_name: str, arguments: tuple[Value, ...], span: Span) -> Value:
    value = arguments[0]
    dimension = value.dimension
    if not isinstance(dimension, int) or dimension % 2 != 0:
        raise EvaluationFaultError(
            "E111",
            span,
            "sqrt(a*a + b*b) of two lengths is a length",
            function="sqrt",
            expected="a number or an area",
            found=describe_dimension(dimension),
        )
    number = value.value
    if number < 0:
        raise EvaluationFaultError("E107", span, function="sqrt", value="a value less than 0")
    return Value(dimension // 2, _root(number))


def _root(number: Fraction | float) -> Fraction | float:
    if isinstance(number, Fraction):
        top, bottom = math.isqrt(number.numerator), math.isqrt(number.denominator)
        if top * top == number.numerator and bottom * bottom == number.denominator:
            return Fraction(top, bottom)
    return math.sqrt(number)


def _sine(name: str, arguments: tuple[Value, ...], span: Span) -> Value:
    angle = _needed(name, arguments[0], "angle", span)
    return Value(NUMBER, _sine_of(angle + 90 if name == "cos" else angle))


def _tangent(name: str, arguments: tuple[Value, ...], span: Span) -> Value:
    angle = _needed(name, arguments[0], "angle", span)
    below = _sine_of(angle + 90)
    if magnitude(below) <= FLOAT_NOISE:
        raise EvaluationFaultError("E107", span, function="tan", value=format_angle(float(angle)))
    if isinstance(angle, Fraction) and angle % 90 == 45:
        return Value(NUMBER, Fraction(1 if angle % 180 == 45 else -1))
    return Value(NUMBER, _sine_of(angle) / below)


def _sine_of(angle: Fraction | float) -> Fraction | float:
    turned = angle % 360
    exact = _EXACT_SINES.get(int(turned)) if turned == int(turned) else None
    return math.sin(math.radians(turned)) if exact is None else exact


def _arc(name: str, arguments: tuple[Value, ...], span: Span) -> Value:
    number = float(_needed(name, arguments[0], NUMBER, span))
    if name != "atan" and 1 < abs(number) <= 1 + FLOAT_NOISE:
        number = math.copysign(1, number)
    if name != "atan" and abs(number) > 1:
        raise EvaluationFaultError("E107", span, function=name, value=f"{number:.4g}")
    arc = {"asin": math.asin, "acos": math.acos, "atan": math.atan}[name]
    return Value("angle", _whole_degrees(math.degrees(arc(number))))


def _arc_of_two(name: str, arguments: tuple[Value, ...], span: Span) -> Value:
    _shared(name, arguments[0], arguments[1], span)
    _refuse_truth(name, arguments[0], span)
    up, along = (float(value.value) for value in arguments)
    if up == 0 and along == 0:
        raise EvaluationFaultError("E107", span, function=name, value="two zeros")
    return Value("angle", _whole_degrees(math.degrees(math.atan2(up, along))))


def _whole_degrees(angle: float) -> Fraction | float:
    """Return the angle, exact where only float rounding keeps it from a whole degree."""
    return Fraction(round(angle)) if abs(angle - round(angle)) <= FLOAT_NOISE else angle


def _needed(name: str, value: Value, dimension: Dimension, span: Span) -> Fraction | float:
    if value.dimension != dimension and not value.is_plain_zero:
        hint = 'write the angle with its unit, such as "12 deg"' if dimension == "angle" else None
        raise EvaluationFaultError(
            "E111",
            span,
            hint,
            function=name,
            expected=describe_dimension(dimension),
            found=describe_dimension(value.dimension),
        )
    return value.value


def _shared(name: str, first: Value, second: Value, span: Span) -> Dimension:
    dimension = same_dimension(first, second)
    if dimension is None or dimension == "truth":
        both = describe_dimension(first.dimension), describe_dimension(second.dimension)
        raise EvaluationFaultError(
            "E111",
            span,
            function=name,
            expected="values of one kind",
            found=" and ".join(both),
        )
    return dimension


def _refuse_truth(name: str, value: Value, span: Span) -> None:
    if value.dimension == "truth":
        raise EvaluationFaultError(
            "E111", span, function=name, expected="a size or a number", found="a condition"
        )


_FUNCTIONS: Mapping[str, Callable[[str, tuple[Value, ...], Span], Value]] = {
    "min": _least_or_most,
    "max": _least_or_most,
    "abs": _absolute,
    "round": _stepped,
    "floor": _stepped,
    "ceil": _stepped,
    "sqrt": _square_root,
    "sin": _sine,
    "cos": _sine,
    "tan": _tangent,
    "asin": _arc,
    "acos": _arc,
    "atan": _arc,
    "atan2": _arc_of_two,
}
