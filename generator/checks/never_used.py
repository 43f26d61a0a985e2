"""A parameter or stock that is defined and never asked for (D301, D302)."""

from generator.formula.tree import Formula
from generator.model.design import Design, Prose
from generator.problems import Problem, make_problem


def check_never_used(design: Design) -> tuple[Problem, ...]:
    """Return a D301 or D302 for every parameter and stock without a use."""
    used = {name for formula in _formulas(design) for name in formula.names}
    built = {part.stock for part in design.parts}
    problems = [
        make_problem("D301", source.place, name=source.name, hint="take it out, or use it")
        for source in design.parameters
        if source.name not in used
    ]
    problems += [
        make_problem("D302", source.place, name=source.name, hint="take it out, or use it")
        for source in design.stocks
        if source.name not in built | used
    ]
    return tuple(problems)


def _formulas(value: object) -> list[Formula]:
    """Return every formula anywhere inside a frozen value of the design."""
    if isinstance(value, Formula):
        return [value]
    if isinstance(value, tuple):
        return [formula for item in value for formula in _formulas(item)]
    if isinstance(value, (Design, Prose)) or hasattr(value, "__slots__"):
        names = getattr(type(value), "__slots__", ())
        return [formula for name in names for formula in _formulas(getattr(value, name, None))]
    return []
