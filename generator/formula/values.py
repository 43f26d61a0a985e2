"""Values on the way through a formula: kinds, limits and the faults of working it out.

While a formula is worked out a length may have a power, so that ``sqrt(a*a + b*b)`` of two lengths
is a length again; what comes out in the end must be a length, an angle, a mass, a number or a
condition.
"""

import math
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, Literal, TypeAlias

from generator.formula.tree import Span
from generator.units import Kind, Quantity

Dimension: TypeAlias = int | Literal["angle", "mass", "truth"]
"""The power of length (0 number, 1 length, 2 area), or what has no power."""

NUMBER: Dimension = 0
LENGTH: Dimension = 1

LIMIT_DIGITS = 60
"""Fractions with more digits go on as floats: exact arithmetic must not grow without end."""
LIMIT_VALUE = 1e18
LIMIT_POWER = 3
FLOAT_NOISE = 1e-9
"""Of floats only: below it a difference is rounding inside sin or sqrt, not the maker's."""

KIND_WORDS: dict[Kind, str] = {
    "length": "a length",
    "angle": "an angle",
    "mass": "a mass",
    "number": "a number",
    "truth": "a condition",
}
_POWER_WORDS = {0: "a number", 1: "a length", 2: "an area", 3: "a volume"}
_KIND_DIMENSIONS: dict[Kind, Dimension] = {
    "length": 1,
    "angle": "angle",
    "mass": "mass",
    "number": 0,
    "truth": "truth",
}


class EvaluationFaultError(Exception):
    """A formula has no value; caught where its evaluation began."""

    def __init__(self, code: str, span: Span, hint: str | None = None, **values: Any) -> None:
        super().__init__(code)
        self.code = code
        self.span = span
        self.hint = hint
        self.values = values


@dataclass(frozen=True, slots=True)
class Value:
    """A number with its dimension.

    Attributes:
        is_plain_zero: Whether it is a 0 written without unit, which stands for any kind.
    """

    dimension: Dimension
    value: Fraction | float
    is_plain_zero: bool = False


def value_of(quantity: Quantity) -> Value:
    """Return a quantity as a value to work with."""
    return Value(_KIND_DIMENSIONS[quantity.kind], quantity.value)


def truth(*, holds: bool) -> Value:
    """Return a condition that holds or does not."""
    return Value("truth", Fraction(int(holds)))


def kind_of(dimension: Dimension) -> Kind | None:
    """Return the kind of a dimension; None for areas and the like."""
    for kind, own in _KIND_DIMENSIONS.items():
        if own == dimension:
            return kind
    return None


def describe_dimension(dimension: Dimension) -> str:
    """Return a dimension in words, with its article."""
    if isinstance(dimension, str):
        return KIND_WORDS[dimension]
    return _POWER_WORDS.get(dimension, "neither a number nor a length")


def limited(dimension: Dimension, number: Fraction | float, span: Span, text: str) -> Value:
    """Return a value that is finite, not too large, and exact only while that stays cheap.

    Raises:
        EvaluationFaultError: The number is too large, or the power of length is.
    """
    if isinstance(dimension, int) and abs(dimension) > LIMIT_POWER:
        why = "too many lengths are multiplied with each other"
        raise EvaluationFaultError("E112", span, text=text, why=why)
    if not math.isfinite(number) or magnitude(number) > LIMIT_VALUE:
        why = "a number on the way has more than 18 digits"
        raise EvaluationFaultError("E112", span, text=text, why=why)
    if isinstance(number, Fraction):
        longest = max(abs(number.numerator), number.denominator)
        if longest >= 10**LIMIT_DIGITS:
            return Value(dimension, float(number))
    return Value(dimension, number)


def magnitude(number: Fraction | float) -> Fraction | float:
    """Return a number without its sign."""
    return -number if number < 0 else number


def same_dimension(first: Value, second: Value) -> Dimension | None:
    """Return the dimension two values share; a plain zero has that of the other."""
    if first.dimension == second.dimension or second.is_plain_zero:
        return first.dimension
    return second.dimension if first.is_plain_zero else None


def compare_values(first: Value, second: Value) -> int:
    """Return -1, 0 or 1 as the first is less than, equal to or more than the second.

    Exact where both are exact; floats are equal within `FLOAT_NOISE`.
    """
    difference = first.value - second.value
    noise = FLOAT_NOISE if isinstance(difference, float) else 0
    if magnitude(difference) <= noise:
        return 0
    return 1 if difference > 0 else -1
