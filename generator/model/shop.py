"""What the shop asks and has, and offcuts that are there, as makers and libraries write it."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from generator.formula.tree import Formula
from generator.problems import Place
from generator.units import System


@dataclass(frozen=True, slots=True, kw_only=True)
class OfferSource:
    """One size of a sheet or board at the shop.

    Attributes:
        goods: A key of the catalogue.
        size: What the size is called there.
        price: Of one; None where it is not told.
        at_most: How many there are; None where it is not told.
    """

    goods: str
    goods_place: Place
    size: str
    place: Place
    price: Formula | None
    at_most: Formula | None


@dataclass(frozen=True, slots=True, kw_only=True)
class OffcutSource:
    """An offcut that is there.

    Attributes:
        name: What the maker calls it.
        of: What it is left of: in a library a key of the catalogue, in a design a stock.
        size: Length along the grain and width; the length alone for a board.
        count: How many there are; one where nothing is said.
    """

    name: str
    of: str
    of_place: Place
    size: tuple[Formula, ...]
    size_place: Place
    count: Formula | None
    place: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class ShopSource:
    """What a library says of its shop and of its own offcuts.

    Attributes:
        says: Where the prices come from, printed beside them.
        currency: What prices are told in, by edition.
    """

    says: str = ""
    currency: Mapping[System, str] = field(default_factory=dict)
    offers: tuple[OfferSource, ...] = ()
    offcuts: tuple[OffcutSource, ...] = ()
