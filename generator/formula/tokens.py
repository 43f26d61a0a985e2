"""Cuts the text of a formula into numbers with units, names and signs."""

import re
from dataclasses import dataclass
from fractions import Fraction

from generator.formula.tree import Span
from generator.units import UNITS, Quantity

FUNCTIONS: dict[str, tuple[int, int]] = {
    "min": (2, 20),
    "max": (2, 20),
    "abs": (1, 1),
    "round": (1, 2),
    "floor": (1, 2),
    "ceil": (1, 2),
    "sqrt": (1, 1),
    "sin": (1, 1),
    "cos": (1, 1),
    "tan": (1, 1),
    "asin": (1, 1),
    "acos": (1, 1),
    "atan": (1, 1),
    "atan2": (2, 2),
}
"""Function → the least and the most values it takes."""

KEYWORDS = frozenset({"if", "else", "and", "or", "not"})
RESERVED_WORDS = KEYWORDS | set(FUNCTIONS) | set(UNITS)
"""Words that cannot be names of parameters."""

LIMIT_DIGITS = 12
"""Of one number: more than any tape measure or price needs."""

_SAME_SIGNS = {"×": "*", "÷": "/", "−": "-", ",": ";", "≤": "<=", "≥": ">=", "≠": "!="}
_UNIT = r"(?P<unit>mm|cm|m|in|ft|deg|kg|lb)(?![A-Za-z0-9_])"
_FEET = re.compile(
    r"(?P<feet>\d+) *ft(?![A-Za-z0-9_]) +"
    r"(?:(?P<whole>\d+)(?: +|-)(?P<top>\d+)/(?P<bottom>\d+)|(?P<only_top>\d+)/(?P<only_bottom>\d+)"
    r"|(?P<number>\d+(?:\.\d+)?|\.\d+)) *in(?![A-Za-z0-9_])",
    re.ASCII,
)
_MIXED = re.compile(
    rf"(?P<whole>\d+)(?P<gap> +|-)(?P<top>\d+)/(?P<bottom>\d+)(?![\d.])(?: *{_UNIT})?", re.ASCII
)
_FRACTION = re.compile(rf"(?P<top>\d+)/(?P<bottom>\d+)(?![\d.]) *{_UNIT}", re.ASCII)
_NUMBER = re.compile(rf"(?P<number>\d+(?:\.\d+)?|\.\d+)(?: *{_UNIT})?", re.ASCII)
_NAME = re.compile(r"[A-Za-z_][A-Za-z0-9_]*", re.ASCII)
_SIGN = re.compile(r"[<>=!]=|[-+*/()<>;,×÷−≤≥≠]")
_BLANKS = re.compile(r"\s*")

_MARKS = {'"': "in", "″": "in", "”": "in", "'": "ft", "′": "ft", "’": "ft", "°": "deg"}
_ADVICE = {
    "=": "write == to compare",
    "^": "there are no powers; write a * a",
    "%": "write a part of one, such as 0.5",
    "[": "write the value without [ ]; lists are made around formulas, not in them",
    "{": "write the value without { }",
    "–": "write the minus sign as -",
    "—": "write the minus sign as -",
}


class FormulaFaultError(Exception):
    """The text is no formula; caught where parsing began.

    Attributes:
        why: Completes "is not a formula: …".
        span: What to underline.
        hint: What the author can do, where that is known.
        too_much: Whether a limit is passed, not a rule broken.
    """

    def __init__(
        self, why: str, span: Span, hint: str | None = None, *, too_much: bool = False
    ) -> None:
        super().__init__(why)
        self.why = why
        self.span = span
        self.hint = hint
        self.too_much = too_much


@dataclass(frozen=True, slots=True)
class Token:
    """One number, name or sign; ``text`` is its plain spelling, such as ``*`` for ``×``."""

    text: str
    span: Span
    quantity: Quantity | None = None
    has_unit: bool = False


def find_tokens(text: str) -> tuple[Token, ...]:
    """Return the tokens of a formula.

    Raises:
        FormulaFaultError: Something in the text is neither number, name nor sign.
    """
    tokens: list[Token] = []
    offset = _skip_blanks(text, 0)
    while offset < len(text):
        token = _next_token(text, offset)
        tokens.append(token)
        offset = _skip_blanks(text, token.span.end)
    return tuple(tokens)


def _skip_blanks(text: str, offset: int) -> int:
    found = _BLANKS.match(text, offset)
    return found.end() if found else offset


def _next_token(text: str, offset: int) -> Token:
    if text[offset] in ".0123456789":
        number = _number_token(text, offset)
        if number is not None:
            return number
    for pattern in (_NAME, _SIGN):
        found = pattern.match(text, offset)
        if found:
            word = found.group()
            return Token(_SAME_SIGNS.get(word, word), Span(offset, found.end()))
    raise _strange_sign(text, offset)


def _number_token(text: str, offset: int) -> Token | None:
    for pattern in (_FEET, _MIXED, _FRACTION, _NUMBER):
        found = pattern.match(text, offset)
        if found:
            return _literal(found)
    return None


def _literal(found: re.Match[str]) -> Token:
    part = found.groupdict()
    span = Span(*found.span())
    unit = "in" if part.get("feet") else part.get("unit")
    if part.get("gap") == "-" and unit is None:
        whole, top, bottom = part["whole"], part["top"], part["bottom"]
        raise FormulaFaultError(
            "it can be read in two ways",
            span,
            f"write {whole} {top}/{bottom}, or {whole} - {top}/{bottom} with blanks",
        )
    _check_digits(found.group(), span)
    value = Fraction(part.get("number") or part.get("whole") or 0)
    for top_key, bottom_key in (("top", "bottom"), ("only_top", "only_bottom")):
        if part.get(top_key):
            value += _fraction(part[top_key], part[bottom_key], span)
    value += 12 * Fraction(part.get("feet") or 0)
    if unit is None:
        return Token(found.group(), span, Quantity("number", value))
    kind, factor = UNITS[unit]
    return Token(found.group(), span, Quantity(kind, value * factor), has_unit=True)


def _check_digits(text: str, span: Span) -> None:
    if any(len(digits) > LIMIT_DIGITS for digits in re.findall(r"\d+", text)):
        raise FormulaFaultError(f"a number has at most {LIMIT_DIGITS} digits", span, too_much=True)


def _fraction(top: str, bottom: str, span: Span) -> Fraction:
    if int(bottom) == 0:
        raise FormulaFaultError("a fraction cannot have 0 below the line", span)
    return Fraction(int(top), int(bottom))


def _strange_sign(text: str, offset: int) -> FormulaFaultError:
    sign = text[offset]
    hint = _ADVICE.get(sign)
    if sign in _MARKS:
        hint = f"write the unit as {_MARKS[sign]}"
    if sign in "½¼¾⅛⅜⅝⅞⅓⅔":
        hint = "write the fraction with a stroke, such as 1/2"
    return FormulaFaultError(f"`{sign}` has no meaning here", Span(offset, offset + 1), hint)
