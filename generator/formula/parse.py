"""Formula text → tree, by descent through the ranks of operators.

choice      a if condition else b
or, and, not
comparison  < <= > >= == !=
sum         + -
product     * /
sign        - +
atom        number, name, function(a; b), (formula)
"""

from dataclasses import replace

from generator.formula.tokens import (
    FUNCTIONS,
    KEYWORDS,
    FormulaFaultError,
    Token,
    find_tokens,
)
from generator.formula.tree import (
    Call,
    Chain,
    Choice,
    Formula,
    Literal,
    Name,
    Prefix,
    Span,
    Tree,
    shift_place,
)
from generator.problems import YAML_COMMAS, Place, ProblemLog, format_near_names
from generator.units import UNITS

LIMIT_CHARACTERS = 300
LIMIT_TOKENS = 200
LIMIT_DEPTH = 30

COMPARISONS = ("<", "<=", ">", ">=", "==", "!=")
SPLIT_IT = "give a part of it a name of its own under parameters"
_RANKS: tuple[tuple[str, ...], ...] = (("or",), ("and",))
_LONG_UNITS = {
    "inch": "in",
    "inches": "in",
    "feet": "ft",
    "foot": "ft",
    "degree": "deg",
    "degrees": "deg",
    "millimetre": "mm",
    "millimetres": "mm",
    "millimeter": "mm",
    "millimeters": "mm",
}


def parse_formula(text: str, place: Place, log: ProblemLog) -> Formula | None:
    """Return the formula a text says; report a D108, D109 or D111 where it says none.

    Args:
        text: What the author wrote.
        place: Where the text begins.
        log: Gets the one problem of a text that is no formula.
    """
    blanks = len(text) - len(text.lstrip())
    place = place.shifted(blanks, place.width - blanks)
    text = text.strip()
    if not text:
        log.add("D111", place, text=place.key.rpartition(".")[2])
        return None
    try:
        tokens = _find_some_tokens(text)
        tree = _Parser(tokens, len(text)).parse()
    except FormulaFaultError as fault:
        at = shift_place(place, text, fault.span)
        if fault.too_much:
            log.add("D109", at, hint=fault.hint, why=fault.why)
        else:
            log.add("D108", at, hint=fault.hint, text=_shorten(text), why=fault.why)
        return None
    names = tuple(dict.fromkeys(token.text for token in tokens if _is_name(token)))
    return Formula(text=text, place=place, names=names, tree=tree)


def _find_some_tokens(text: str) -> tuple[Token, ...]:
    if len(text) > LIMIT_CHARACTERS:
        why = f"{len(text)} characters; the most is {LIMIT_CHARACTERS}"
        raise FormulaFaultError(why, Span(0, len(text)), SPLIT_IT, too_much=True)
    tokens = find_tokens(text)
    if len(tokens) > LIMIT_TOKENS:
        why = f"{len(tokens)} numbers, names and signs; the most is {LIMIT_TOKENS}"
        raise FormulaFaultError(why, Span(0, len(text)), SPLIT_IT, too_much=True)
    return tokens


def _is_name(token: Token) -> bool:
    word = token.text
    if token.quantity is not None or word in KEYWORDS or word in FUNCTIONS:
        return False
    return word[0].isalpha() or word[0] == "_"


def _shorten(text: str) -> str:
    return text if len(text) <= 60 else f"{text[:57]}..."


class _Parser:
    """One walk over the tokens of one formula."""

    def __init__(self, tokens: tuple[Token, ...], length: int) -> None:
        self._tokens = tokens
        self._length = length
        self._next = 0
        self._depth = 0

    def parse(self) -> Tree:
        """Return the whole formula's tree."""
        tree = self._choice()
        token = self._peek()
        if token is not None:
            raise self._left_over(token)
        return tree

    def _peek(self) -> Token | None:
        return self._tokens[self._next] if self._next < len(self._tokens) else None

    def _take(self, *words: str) -> Token | None:
        token = self._peek()
        if token is None or token.quantity is not None or token.text not in words:
            return None
        self._next += 1
        return token

    def _choice(self) -> Tree:
        self._deeper()
        then = self._joined(0)
        taken = self._take("if")
        if taken is not None:
            condition = self._joined(0)
            if self._take("else") is None:
                raise FormulaFaultError(
                    "an `if` has no `else`", taken.span, "write a if condition else b"
                )
            otherwise = self._choice()
            then = Choice(_over(then, otherwise), condition, then, otherwise)
        self._depth -= 1
        return then

    def _joined(self, rank: int) -> Tree:
        if rank == len(_RANKS):
            return self._negation()
        first = self._joined(rank + 1)
        rest: list[tuple[str, Tree]] = []
        while (operator := self._take(*_RANKS[rank])) is not None:
            rest.append((operator.text, self._joined(rank + 1)))
        return _chain(first, rest)

    def _negation(self) -> Tree:
        token = self._take("not")
        if token is None:
            return self._comparison()
        self._deeper()
        operand = self._negation()
        self._depth -= 1
        return Prefix(Span(token.span.start, operand.span.end), "not", operand)

    def _comparison(self) -> Tree:
        first = self._sum()
        operator = self._take(*COMPARISONS)
        if operator is None:
            return first
        tree = _chain(first, [(operator.text, self._sum())])
        second = self._take(*COMPARISONS)
        if second is not None:
            raise FormulaFaultError(
                "two comparisons run into each other",
                second.span,
                "write a < b and b < c",
            )
        return tree

    def _sum(self) -> Tree:
        first = self._product()
        rest: list[tuple[str, Tree]] = []
        while (operator := self._take("+", "-")) is not None:
            rest.append((operator.text, self._product()))
        return _chain(first, rest)

    def _product(self) -> Tree:
        first = self._signed()
        rest: list[tuple[str, Tree]] = []
        while (operator := self._take("*", "/")) is not None:
            rest.append((operator.text, self._signed()))
        return _chain(first, rest)

    def _signed(self) -> Tree:
        token = self._take("-", "+")
        if token is None:
            return self._atom()
        self._deeper()
        operand = self._signed()
        self._depth -= 1
        return Prefix(Span(token.span.start, operand.span.end), token.text, operand)

    def _atom(self) -> Tree:
        token = self._peek()
        if token is None:
            end = Span(max(0, self._length - 1), self._length)
            raise FormulaFaultError("it ends where a value is needed", end)
        if token.quantity is not None:
            self._next += 1
            return Literal(token.span, token.quantity, token.has_unit)
        if token.text == "(":
            return self._bracket()
        if token.text in FUNCTIONS:
            return self._call()
        if not _is_name(token):
            raise FormulaFaultError(f"`{token.text}` stands where a value is needed", token.span)
        if token.text in UNITS:
            raise FormulaFaultError(f"the unit `{token.text}` has no number", token.span)
        self._next += 1
        return Name(token.span, token.text)

    def _bracket(self) -> Tree:
        opener = self._tokens[self._next]
        self._next += 1
        inside = self._choice()
        return replace(inside, span=Span(opener.span.start, self._close(opener)))

    def _call(self) -> Tree:
        name = self._tokens[self._next]
        self._next += 1
        opener = self._take("(")
        if opener is None:
            raise FormulaFaultError(
                f"`{name.text}` is a function and needs ( )", name.span, f"write {name.text}(...)"
            )
        arguments = [self._choice()]
        while self._take(";") is not None:
            arguments.append(self._choice())
        end = self._close(opener)
        least, most = FUNCTIONS[name.text]
        if not least <= len(arguments) <= most:
            takes = str(least) if least == most else f"{least} to {most}"
            values = "value" if most == 1 else "values"
            raise FormulaFaultError(
                f"`{name.text}` takes {takes} {values}, not {len(arguments)}", name.span
            )
        return Call(Span(name.span.start, end), name.text, tuple(arguments))

    def _close(self, opener: Token) -> int:
        closer = self._take(")")
        if closer is not None:
            return closer.span.end
        token = self._peek()
        if token is None:
            raise FormulaFaultError("a `(` is never closed", opener.span, YAML_COMMAS)
        raise self._left_over(token)

    def _left_over(self, token: Token) -> FormulaFaultError:
        before = self._tokens[self._next - 1]
        if token.text == ")" and token.quantity is None:
            return FormulaFaultError("this `)` closes nothing", token.span, YAML_COMMAS)
        if token.text == ";":
            hint = "write decimals with a point" if before.quantity is not None else None
            return FormulaFaultError("nothing here takes several values", token.span, hint)
        if before.quantity is not None and token.quantity is None and _is_name(token):
            unit = _LONG_UNITS.get(token.text.lower(), token.text.lower())
            near = format_near_names(token.text, UNITS)
            hint = f"write the unit as {unit}" if unit in UNITS else near
            return FormulaFaultError(f"`{token.text}` is not a unit", token.span, hint)
        return FormulaFaultError(f"an operator is missing before `{token.text}`", token.span)

    def _deeper(self) -> None:
        self._depth += 1
        if self._depth > LIMIT_DEPTH:
            token = self._tokens[min(self._next, len(self._tokens) - 1)]
            raise FormulaFaultError(
                f"brackets stand more than {LIMIT_DEPTH} deep", token.span, SPLIT_IT, too_much=True
            )


def _over(first: Tree, last: Tree) -> Span:
    return Span(first.span.start, last.span.end)


def _chain(first: Tree, rest: list[tuple[str, Tree]]) -> Tree:
    return Chain(_over(first, rest[-1][1]), first, tuple(rest)) if rest else first
