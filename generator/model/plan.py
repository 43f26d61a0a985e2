"""The finished plan: everything the writers and the checks read."""

from dataclasses import dataclass

from generator.model.assembly import Assembly
from generator.model.cutting import Cutting
from generator.model.edition import Edition
from generator.model.fitting import Fitting
from generator.model.joinery import Joinery
from generator.model.parts import Parts
from generator.model.strength import Strength
from generator.problems import Problem


@dataclass(frozen=True, slots=True, kw_only=True)
class ShoppingItem:
    """One line of the shopping list.

    Attributes:
        price: Of the whole line, in the currency of the edition; None where it is not known.
        is_owned: Whether it is there and need not be bought.
    """

    item: str
    quantity: float
    unit: str
    note: str
    price: float | None = None
    is_owned: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """A design computed in one edition, with what the checks said of it."""

    edition: Edition
    parts: Parts
    joinery: Joinery
    assembly: Assembly
    cutting: Cutting
    fitting: Fitting
    shopping: tuple[ShoppingItem, ...]
    strength: Strength
    problems: tuple[Problem, ...]
