"""What can be had of a stock, what it costs in whole numbers, and what there is too little of."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import gcd

from generator.model.catalogue import Board, Sheet, SheetSize
from generator.model.edition import Stock
from generator.problems import Note, Problem, make_problem

PER_UNIT = 100
"""Prices are told in hundredths of the currency."""


@dataclass(frozen=True, slots=True)
class Prices:
    """What each size costs, in whole numbers.

    Attributes:
        costs: Of every size of the stock, in their order; 0 for an offcut that is there.
        step: Hundredths of the currency that are 1; 0 where prices are not known and every sheet
            that is bought counts 1.
    """

    costs: tuple[int, ...]
    step: int

    def money(self, cost: int) -> float | None:
        """Return a cost in the currency, None where prices are not known."""
        return cost * self.step / PER_UNIT if self.step else None


def find_prices(sizes: Sequence[SheetSize]) -> Prices:
    """Return what sizes cost; prices count only where every size that is sold has one."""
    sold = [size for size in sizes if not size.is_owned and size.at_most != 0]
    told = [round(size.price * PER_UNIT) for size in sold if size.price is not None]
    if not told or len(told) < len(sold):
        return Prices(tuple(int(not size.is_owned) for size in sizes), 0)
    step = gcd(*told)
    prices = (0.0 if size.is_owned else size.price for size in sizes)
    return Prices(tuple(round((price or 0.0) * PER_UNIT) // step for price in prices), step)


def is_plain(goods: Sheet | Board) -> bool:
    """Whether nothing is known but sizes: no price, no limit, no offcut that is there."""
    return all(size.is_plain for size in goods.sizes)


def find_there(goods: Sheet | Board) -> list[int]:
    """Return the sizes of which any can be had, by their places."""
    return [place for place, size in enumerate(goods.sizes) if size.at_most != 0]


def check_there(stock: Stock) -> tuple[Problem, ...]:
    """Return an N104 for a stock that parts are sawn from and of which nothing can be had."""
    if find_there(stock.goods):
        return ()
    return (_make_problem(stock, "none can be had in any size", []),)


def report_missing(
    stock: Stock, missing: Mapping[int, int], *, is_proved: bool
) -> tuple[Problem, ...]:
    """Return an N104 where layouts need more of some sizes than there are.

    Args:
        stock: The stock.
        missing: How many too few there are, by the place of the size.
        is_proved: Whether no other layouts can do with what there is.
    """
    if not missing:
        return ()
    notes = []
    for place, few in missing.items():
        size = stock.goods.sizes[place]
        has = size.at_most or 0
        notes.append(f"of `{size.name}` there are {has}; the best layouts found need {has + few}")
    notes.append(
        "no other layouts can do with what there is"
        if is_proved
        else "other layouts might do with what there is, but none were found"
    )
    words = [
        f"{few} too few of `{stock.goods.sizes[place].name}`" for place, few in missing.items()
    ]
    return (_make_problem(stock, ", ".join(words), notes),)


def _make_problem(stock: Stock, missing: str, notes: Sequence[str]) -> Problem:
    return make_problem(
        "N104",
        stock.place,
        notes=[Note(text=text) for text in notes],
        hint="allow more of a size in library.yml, make parts smaller, or take other sheets or "
        "boards for some of them",
        goods=stock.goods.key,
        missing=missing,
    )
