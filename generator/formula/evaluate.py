"""Tree → quantity, with every kind checked on the way."""

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction
from types import MappingProxyType

from generator.formula.functions import apply_function
from generator.formula.tree import Call, Chain, Choice, Formula, Literal, Name, Prefix, Span, Tree
from generator.formula.values import (
    KIND_WORDS,
    NUMBER,
    Dimension,
    EvaluationFaultError,
    Value,
    compare_values,
    describe_dimension,
    kind_of,
    limited,
    magnitude,
    same_dimension,
    truth,
    value_of,
)
from generator.problems import Place, ProblemLog, format_near_names
from generator.units import Kind, Quantity, format_fraction, inches

LIMIT_LENGTH_MM = 1_000_000
"""A kilometre: longer than anything that is furniture."""

_NO_PLACES: Mapping[str, Place] = MappingProxyType({})
_OPERATION_WORDS = {"+": "added", "-": "subtracted"}
_UNIT_OF: Mapping[Dimension, str] = {1: "mm", "angle": "deg", "mass": "kg"}


def evaluate_formula(
    formula: Formula,
    names: Mapping[str, Quantity],
    log: ProblemLog,
    *,
    needed: Kind | None = None,
    broken: frozenset[str] = frozenset(),
    defined: Mapping[str, Place] = _NO_PLACES,
) -> Quantity | None:
    """Return the value of a formula; report one problem and return None where it has none.

    Args:
        formula: What to work out.
        names: The names it may use, with their values.
        log: Gets a D112, D113, D203, E103, E105, E106, E107, E111 or E112.
        needed: The kind the value must have; any where None.
        broken: Names whose own fault is reported elsewhere: silence about them.
        defined: Where names are defined, for the hint about a misspelt one.
    """
    missing = [name for name in formula.names if name not in names]
    unknown = [name for name in missing if name not in broken]
    if unknown:
        _report_unknown(formula, unknown[0], [*names, *sorted(broken)], defined, log)
    if missing:
        return None
    try:
        return _finished(formula, _Evaluator(formula, names).value(formula.tree), needed)
    except EvaluationFaultError as fault:
        place = formula.place_of(fault.span)
        log.add(fault.code, place, hint=fault.hint, **fault.values)
        return None


def _report_unknown(
    formula: Formula,
    name: str,
    known: list[str],
    defined: Mapping[str, Place],
    log: ProblemLog,
) -> None:
    hint = format_near_names(name, known)
    near = [good for good in known if hint == f"did you mean `{good}`?"]
    if near and near[0] in defined:
        hint = f"did you mean `{near[0]}`, line {defined[near[0]].line}?"
    place = formula.place_of(_find_name(formula.tree, name).span)
    log.add("D203", place, hint=hint, name=name)


def _find_name(tree: Tree, name: str) -> Tree:
    """Return the first use of a name the formula is known to use, or the whole."""
    waiting = [tree]
    while waiting:
        node = waiting.pop()
        if isinstance(node, Name) and node.name == name:
            return node
        waiting.extend(reversed(_children(node)))
    return tree


def _children(tree: Tree) -> tuple[Tree, ...]:
    match tree:
        case Prefix():
            return (tree.operand,)
        case Chain():
            return (tree.first, *(operand for _, operand in tree.rest))
        case Call():
            return tree.arguments
        case Choice():
            return (tree.then, tree.condition, tree.otherwise)
        case _:
            return ()


def _finished(formula: Formula, value: Value, needed: Kind | None) -> Quantity:
    kind = kind_of(value.dimension)
    tree = formula.tree
    if value.is_plain_zero and needed in ("length", "angle", "mass"):
        return Quantity(needed, Fraction(0))
    if needed is not None and kind != needed and isinstance(_unsigned(tree), Literal):
        if kind == "number" and needed == "length":
            hint = _length_hint(float(value.value))
            raise EvaluationFaultError("D112", tree.span, hint, text=formula.text)
        if kind == "number" and needed == "angle":
            hint = f'write "{formula.text} deg"'
            raise EvaluationFaultError("D113", tree.span, hint, text=formula.text)
    if kind is None or (needed is not None and kind != needed):
        raise EvaluationFaultError(
            "E106",
            tree.span,
            _size_hint(value.dimension) if kind is None else _kind_hint(kind, needed),
            text=formula.text,
            found=describe_dimension(value.dimension),
            expected="a length or a number" if needed is None else KIND_WORDS[needed],
        )
    if kind == "length" and magnitude(value.value) > LIMIT_LENGTH_MM:
        why = f"{float(value.value):.0f} mm; the most is {LIMIT_LENGTH_MM} mm"
        raise EvaluationFaultError("E112", tree.span, text=formula.text, why=why)
    return Quantity(kind, value.value)


def _unsigned(tree: Tree) -> Tree:
    return _unsigned(tree.operand) if isinstance(tree, Prefix) else tree


def _length_hint(value: float) -> str:
    in_mm = f"{value:g} mm"
    sixteenths = Fraction(round(inches(value) * 16), 16)
    in_inches = f"{format_fraction(sixteenths)} in"
    return f'write "{in_mm}" or "{in_inches}", or a formula of parameters'


def _size_hint(dimension: Dimension) -> str:
    if isinstance(dimension, int) and dimension < 0:
        return "a number divided by a length is no size; write fractions without blanks: 3/4 in"
    return "a length times a length is an area; divide it by a length, or take sqrt of it"


def _kind_hint(kind: Kind, needed: Kind | None) -> str | None:
    if kind == "number" and needed == "length":
        return "multiply it by a length, or give its numbers units"
    if kind == "number" and needed == "angle":
        return "multiply it by an angle, such as 1 deg"
    if kind == "number" and needed == "mass":
        return "give it a unit, such as 20 kg or 45 lb"
    if kind == "length" and needed == "number":
        return "divide it by a length"
    if needed == "truth":
        return "compare it with something, such as width > 900 mm"
    return None


class _Evaluator:
    """Works out one formula with one set of names."""

    def __init__(self, formula: Formula, names: Mapping[str, Quantity]) -> None:
        self._formula = formula
        self._names = names

    def value(self, tree: Tree) -> Value:
        """Return the value of a stretch of the formula."""
        match tree:
            case Literal():
                is_zero = tree.quantity.value == 0 and not tree.has_unit
                worked = value_of(tree.quantity)
                return Value(worked.dimension, worked.value, is_plain_zero=is_zero)
            case Name():
                return value_of(self._names[tree.name])
            case Prefix():
                return self._prefix(tree)
            case Chain():
                return self._chain(tree)
            case Call():
                arguments = tuple(self.value(argument) for argument in tree.arguments)
                found = apply_function(tree.function, arguments, tree.span)
                bounded = limited(found.dimension, found.value, tree.span, self._text(tree))
                return Value(bounded.dimension, bounded.value, found.is_plain_zero)
            case Choice():
                holds = self._truth(tree.condition)
                return self.value(tree.then if holds else tree.otherwise)

    def _text(self, tree: Tree) -> str:
        return self._formula.text_of(tree.span)

    def _prefix(self, tree: Prefix) -> Value:
        if tree.operator == "not":
            return truth(holds=not self._truth(tree.operand))
        value = self.value(tree.operand)
        if value.dimension == "truth":
            raise self._not_a(tree.operand, value, "a size or a number")
        sign = -1 if tree.operator == "-" else 1
        return Value(value.dimension, sign * value.value, value.is_plain_zero)

    def _chain(self, tree: Chain) -> Value:
        if tree.rest[0][0] in ("and", "or"):
            return self._joined(tree)
        value = self.value(tree.first)
        done: Tree = tree.first
        for operator, operand in tree.rest:
            value = self._operate(done, value, operator, operand)
            done = replace(tree, span=Span(tree.span.start, operand.span.end))
        return value

    def _joined(self, tree: Chain) -> Value:
        """Return a condition of conditions; those that can change nothing are not worked out."""
        is_and = tree.rest[0][0] == "and"
        for operand in _children(tree):
            if self._truth(operand) != is_and:
                return truth(holds=not is_and)
        return truth(holds=is_and)

    def _truth(self, tree: Tree) -> bool:
        value = self.value(tree)
        if value.dimension != "truth":
            raise self._not_a(tree, value, "a condition")
        return value.value != 0

    def _not_a(self, tree: Tree, value: Value, expected: str) -> EvaluationFaultError:
        hint = _kind_hint("number", "truth") if expected == "a condition" else None
        found = describe_dimension(value.dimension)
        return EvaluationFaultError(
            "E106", tree.span, hint, text=self._text(tree), found=found, expected=expected
        )

    def _operate(self, done: Tree, left: Value, operator: str, operand: Tree) -> Value:
        right = self.value(operand)
        if operator in ("*", "/"):
            return self._multiply(done, left, operator, operand, right)
        dimension = same_dimension(left, right)
        is_sum = operator in _OPERATION_WORDS
        if dimension is None or (dimension == "truth" and is_sum):
            word = _OPERATION_WORDS.get(operator, "compared")
            raise self._mixed(done, left, operator, operand, right, word)
        if not is_sum:
            return truth(holds=_holds(operator, compare_values(left, right)))
        number = left.value + right.value if operator == "+" else left.value - right.value
        value = limited(dimension, number, operand.span, self._formula.text)
        both_zero = left.is_plain_zero and right.is_plain_zero
        return Value(value.dimension, value.value, is_plain_zero=both_zero)

    def _multiply(
        self, done: Tree, left: Value, operator: str, operand: Tree, right: Value
    ) -> Value:
        is_product = operator == "*"
        dimension = _combined(left.dimension, right.dimension, is_product=is_product)
        if dimension is None:
            word = "multiplied" if is_product else "divided"
            raise self._mixed(done, left, operator, operand, right, word)
        if not is_product and right.value == 0:
            raise EvaluationFaultError(
                "E105", operand.span, _zero_hint(operand), text=self._formula.text
            )
        number = left.value * right.value if is_product else left.value / right.value
        return limited(dimension, number, operand.span, self._formula.text)

    def _mixed(
        self, done: Tree, left: Value, operator: str, operand: Tree, right: Value, word: str
    ) -> EvaluationFaultError:
        kinds = [describe_dimension(value.dimension) for value in (left, right)]
        kind = kinds[0].partition(" ")[2]
        plural = f"two {kind}{'es' if kind.endswith('s') else 's'}"
        joined = plural if kinds[0] == kinds[1] else " and ".join(kinds)
        span = Span(done.span.start, operand.span.end)
        return EvaluationFaultError(
            "E103",
            span,
            self._mixed_hint(done, left, operand, right),
            left=self._text(done),
            operator=operator,
            right=self._text(operand),
            why=f"{joined} cannot be {word}",
        )

    def _mixed_hint(self, done: Tree, left: Value, operand: Tree, right: Value) -> str | None:
        kinds = {left.dimension, right.dimension}
        if "angle" in kinds and 1 in kinds:
            return "sin, cos and tan make a number of an angle"
        for tree, value, other in ((done, left, right), (operand, right, left)):
            if value.dimension == NUMBER and other.dimension in _UNIT_OF:
                unit = _UNIT_OF[other.dimension]
                text = self._text(tree)
                if isinstance(tree, Literal):
                    return f'give `{text}` a unit, such as "{text} {unit}"'
                return f"multiply `{text}` by {describe_dimension(other.dimension)}"
        return None


def _combined(first: Dimension, second: Dimension, *, is_product: bool) -> Dimension | None:
    """Return the dimension of a product or quotient; None where there is none."""
    if isinstance(first, int) and isinstance(second, int):
        return first + second if is_product else first - second
    if "truth" in (first, second):
        return None
    if isinstance(first, str) and second == NUMBER:
        return first
    if is_product and first == NUMBER:
        return second
    if not is_product and first == second:
        return NUMBER
    return None


def _zero_hint(operand: Tree) -> str | None:
    if isinstance(operand, Literal):
        return None
    return "write what to take where it is 0: a / b if b > 0 else 0"


def _holds(operator: str, order: int) -> bool:
    return {
        "<": order < 0,
        "<=": order <= 0,
        ">": order > 0,
        ">=": order >= 0,
        "==": order == 0,
        "!=": order != 0,
    }[operator]
