"""Whether every formula of a design is a straight line of the thicknesses.

Where all are, so is every size of the plan: all directions stay, and what is computed of lengths
along fixed directions are sums of them with fixed factors. Two such sizes are compared, the lesser
is taken, steps are counted: each of these decisions holds on one side of a straight line, so the
thicknesses for which all decisions of a plan fall alike lie in no gaps (they are convex). A plan
that is the same at both ends of a range is the same in between, and its sizes are straight lines.
"""

from collections.abc import Iterator, Mapping
from dataclasses import fields, is_dataclass
from enum import IntEnum

from generator.formula.tree import Call, Chain, Choice, Formula, Literal, Name, Prefix, Tree
from generator.model.design import Design
from generator.model.phrases import ByEdition
from generator.units import System

COMPARED = frozenset({"<", "<=", ">", ">=", "==", "!=", "and", "or"})
DECIDING = frozenset({"min", "max", "abs"})
STEPPED = frozenset({"round", "floor", "ceil"})


class Shape(IntEnum):
    """How a value goes with the thickness while no decision changes."""

    FIXED = 0
    STRAIGHT = 1
    BENT = 2


def find_bent_formula(design: Design, system: System, stocks: frozenset[str]) -> str:
    """Return the text of a formula that is no straight line of thicknesses; "" for none.

    Args:
        design: As it was read.
        system: The edition whose values count.
        stocks: Names of the stocks whose thickness may change.
    """
    values = {one.name: one.value.of(system) for one in design.parameters}
    judge = _Judge(values, stocks)
    for formula in _find_formulas(design, system):
        if judge.shape(formula.tree) is Shape.BENT:
            return formula.text
    return ""


class _Judge:
    """Knows the parameters of a design, and which of them it has judged."""

    def __init__(self, values: Mapping[str, Formula | None], stocks: frozenset[str]) -> None:
        self._values = values
        self._known: dict[str, Shape] = dict.fromkeys(stocks, Shape.STRAIGHT)

    def shape(self, tree: Tree) -> Shape:
        """Return the shape of a stretch of a formula."""
        match tree:
            case Literal():
                return Shape.FIXED
            case Name():
                return self._name(tree.name)
            case Prefix():
                return self.shape(tree.operand)
            case Chain():
                return self._chain(tree)
            case Call():
                return self._call(tree)
            case Choice():
                return self._decided([tree.condition], [tree.then, tree.otherwise])

    def _name(self, name: str) -> Shape:
        if name not in self._known:
            self._known[name] = Shape.FIXED
            formula = self._values.get(name)
            if formula is not None:
                self._known[name] = self.shape(formula.tree)
        return self._known[name]

    def _chain(self, tree: Chain) -> Shape:
        """Return the shape of a chain; a condition is fixed while its decisions are."""
        shape = self.shape(tree.first)
        for operator, operand in tree.rest:
            other = self.shape(operand)
            is_bent = Shape.BENT in (shape, other)
            if operator == "*":
                is_bent |= Shape.FIXED not in (shape, other)
            elif operator == "/":
                is_bent |= other is not Shape.FIXED
            shape = Shape.BENT if is_bent else max(shape, other)
            if operator in COMPARED and not is_bent:
                shape = Shape.FIXED
        return shape

    def _call(self, tree: Call) -> Shape:
        shapes = [self.shape(argument) for argument in tree.arguments]
        greatest = max(shapes, default=Shape.FIXED)
        if tree.function in DECIDING or greatest is Shape.FIXED:
            return greatest
        steps = shapes[1:]
        if tree.function in STEPPED and greatest is Shape.STRAIGHT and not any(steps):
            return Shape.FIXED
        return Shape.BENT

    def _decided(self, conditions: list[Tree], ways: list[Tree]) -> Shape:
        if any(self.shape(one) is Shape.BENT for one in conditions):
            return Shape.BENT
        return max(self.shape(way) for way in ways)


def _find_formulas(value: object, system: System) -> Iterator[Formula]:
    """Yield every formula of a design, of one edition where there is one for each."""
    if isinstance(value, Formula):
        yield value
    elif isinstance(value, ByEdition):
        yield from _find_formulas(value.of(system), system)
    elif isinstance(value, tuple):
        for one in value:
            yield from _find_formulas(one, system)
    elif is_dataclass(value):
        for field in fields(value):
            yield from _find_formulas(getattr(value, field.name), system)
