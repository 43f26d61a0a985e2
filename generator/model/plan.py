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
    """One line of the shopping list."""

    item: str
    quantity: float
    unit: str
    note: str


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
