"""How a formula came to its value, in one line for messages."""

from collections.abc import Mapping

from generator.formula.evaluate import evaluate_formula
from generator.formula.tokens import Token, find_tokens
from generator.formula.tree import Formula, Literal
from generator.problems import ProblemLog
from generator.units import Quantity, System, format_quantity, format_size, inches

LIMIT_SHOWN = 100
"""Characters of a chain; a longer one leaves out the middle."""


def format_chain(formula: Formula, names: Mapping[str, Quantity], system: System) -> str:
    """Return ``height - 4 in = 40 - 4 = 36 in``; the value alone where there is nothing to show.

    Args:
        formula: A formula that has a value.
        names: The names it may use, with their values.
        system: Units to show lengths in.
    """
    value = evaluate_formula(formula, names, ProblemLog())
    if value is None:
        return formula.text
    result = format_quantity(value, system)
    if isinstance(formula.tree, Literal):
        return result
    filled = _filled_in(formula, names, system)
    if not formula.names or filled == result.rpartition(" ")[0]:
        filled = ""
    middle = f" = {filled}" if filled and len(formula.text) + len(filled) < LIMIT_SHOWN else ""
    return f"{formula.text}{middle} = {result}"


def _filled_in(formula: Formula, names: Mapping[str, Quantity], system: System) -> str:
    """Return the formula's text with every name and number replaced by its bare value."""
    pieces: list[str] = []
    done = 0
    for token in find_tokens(formula.text):
        pieces.append(formula.text[done : token.span.start])
        pieces.append(_filled_token(token, formula, names, system))
        done = token.span.end
    return "".join(pieces)


def _filled_token(
    token: Token, formula: Formula, names: Mapping[str, Quantity], system: System
) -> str:
    quantity = token.quantity
    if quantity is None and token.text in formula.names:
        quantity = names[token.text]
    if quantity is None:
        return formula.text_of(token.span)
    value = float(quantity.value)
    if quantity.kind != "length":
        return format_quantity(quantity, system)
    text = _bare_size(value, system)
    return f"({text})" if value < 0 else text


def _bare_size(value_mm: float, system: System) -> str:
    """Return the size in figures alone: a decimal where a tape would say "full" or "bare"."""
    text = format_size(value_mm, system)
    is_on_the_tape = text[-1].isdigit()
    return text if is_on_the_tape else f"{inches(value_mm):.3f}".rstrip("0")
