"""What a maker has beside the saw: a car that takes sheets home, a router, and offcuts."""

from dataclasses import dataclass

from generator.model.catalogue import SheetSize
from generator.problems import Place


@dataclass(frozen=True, slots=True, kw_only=True)
class Car:
    """How large a flat piece may be to be taken home: its length and its width, at most."""

    name: str
    length_mm: float
    width_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class RouterWork:
    """What sheets are laid for where a router cuts them.

    Attributes:
        bit_mm: Diameter of the bit, which runs outside the outlines.
        apart_mm: No two outlines are nearer, the bit at least.
        border_mm: No outline is nearer to an edge of the sheet; the sheet's trim counts too.
    """

    bit_mm: float
    apart_mm: float
    border_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnOffcut:
    """An offcut of the maker's own.

    Attributes:
        stock: The design's name for what it is left of.
        size: One of that stock's sizes.
    """

    stock: str
    size: SheetSize
    place: Place
