"""What a formula is made of once its text has been understood."""

from dataclasses import dataclass
from typing import TypeAlias

from generator.problems import Place
from generator.units import Quantity


@dataclass(frozen=True, slots=True)
class Span:
    """A stretch of the formula's text, from ``start`` up to ``end``."""

    start: int
    end: int


@dataclass(frozen=True, slots=True)
class Literal:
    """A number, with its unit if it has one."""

    span: Span
    quantity: Quantity
    has_unit: bool


@dataclass(frozen=True, slots=True)
class Name:
    """A name whose value comes from outside."""

    span: Span
    name: str


@dataclass(frozen=True, slots=True)
class Prefix:
    """``-`` or ``not`` before an operand."""

    span: Span
    operator: str
    operand: "Tree"


@dataclass(frozen=True, slots=True)
class Chain:
    """Operands joined by operators of one rank, worked out from left to right.

    A flat chain, not a tree leaning left, so that two hundred summands nest no deeper than two.
    """

    span: Span
    first: "Tree"
    rest: tuple[tuple[str, "Tree"], ...]


@dataclass(frozen=True, slots=True)
class Call:
    """A function with its arguments."""

    span: Span
    function: str
    arguments: tuple["Tree", ...]


@dataclass(frozen=True, slots=True)
class Choice:
    """``then if condition else otherwise``."""

    span: Span
    condition: "Tree"
    then: "Tree"
    otherwise: "Tree"


Tree: TypeAlias = Literal | Name | Prefix | Chain | Call | Choice


@dataclass(frozen=True, slots=True, kw_only=True)
class Formula:
    """A formula that has been understood but not worked out.

    Attributes:
        text: As written, without blanks around it.
        place: Where the text begins.
        names: The names it uses, each once, in the order of their first use.
        tree: What it says.
    """

    text: str
    place: Place
    names: tuple[str, ...]
    tree: Tree

    def text_of(self, span: Span) -> str:
        """Return the author's own words for a stretch of the formula."""
        return self.text[span.start : span.end]

    def place_of(self, span: Span) -> Place:
        """Return the place of a stretch; of the whole formula where the line reads otherwise."""
        return shift_place(self.place, self.text, span)


def shift_place(place: Place, text: str, span: Span) -> Place:
    """Return the place of a stretch of ``text``, which begins at ``place``.

    A text that YAML folded from several lines, or that has escapes, does not stand in its line as
    it reads; the place of the whole is returned then.
    """
    begin = place.column - 1 + span.start
    if place.text[place.column - 1 : begin] != text[: span.start]:
        return place
    return place.shifted(span.start, span.end - span.start)
