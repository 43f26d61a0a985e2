"""How much is bought of every stock, what it costs, and what is known about less."""

from dataclasses import dataclass

from generator.model.edition import Stock


@dataclass(frozen=True, slots=True, kw_only=True)
class StockNeed:
    """How many sheets of one stock are bought, and what is known about fewer or cheaper ones.

    Attributes:
        sheets: Offcuts that are there are not bought and not counted.
        bound: No plan can do with fewer sheets (of the largest size).
        proved_least: Whether none can be cheaper; where prices are not known, none be fewer.
        cost: Of all sheets together, in the currency; None where prices are not known.
        cost_bound: No plan can cost less.
    """

    stock: Stock
    sheets: int
    bound: int
    proved_least: bool
    cost: float | None = None
    cost_bound: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardNeed:
    """How much board of one stock is bought, and what is known about less.

    Attributes:
        boards: Offcuts that are there are not bought and not counted.
        length_mm: Of all boards together, as sold.
        bound_mm: No plan can do with less.
        proved_least: Whether every plan that is cheaper has been ruled out; where prices are not
            known, every one with less length.
        cost: Of all boards together, in the currency; None where prices are not known.
        cost_bound: No plan can cost less.
    """

    stock: Stock
    boards: int
    length_mm: float
    bound_mm: float
    proved_least: bool
    cost: float | None = None
    cost_bound: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class CostNeed:
    """What sheets and boards cost together, and what is known about spending less.

    Attributes:
        cost: Of all whose prices are known, in the currency.
        bound: No plan can do with less.
        unpriced: The stocks whose prices are not known.
    """

    cost: float
    bound: float
    unpriced: tuple[Stock, ...]

    @property
    def proved_least(self) -> bool:
        """Whether no plan is cheaper."""
        return self.cost == self.bound
