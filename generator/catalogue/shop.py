"""The shop of a library put into the catalogue: prices, limits, and offcuts that are there."""

from dataclasses import replace
from fractions import Fraction
from typing import TypeVar

from generator.formula.evaluate import evaluate_formula
from generator.formula.tree import Formula
from generator.model.catalogue import Board, Catalogue, Sheet, SheetSize, owned_size
from generator.model.shop import OffcutSource, OfferSource, ShopSource
from generator.model.words import plain_words
from generator.problems import ProblemLog, format_near_names

Goods = TypeVar("Goods", Sheet, Board)

MOST_THERE = 1_000
MOST_PRICE = 1_000_000
MOST_OFFCUTS = 100
PER_UNIT = 100
"""Hundredths of the currency: no price is told finer."""
FILES = "sheets.yml or shared/boards"


def stock_up(catalogue: Catalogue, shop: ShopSource, log: ProblemLog) -> Catalogue:
    """Return the catalogue with what a library says of its shop and of its own offcuts.

    Once one size of a sheet or board has a price, sizes without one are not sold.

    Args:
        catalogue: What can be bought anywhere.
        shop: What the library says.
        log: Gets what is wrong with it.
    """
    known = (*catalogue.sheets, *catalogue.boards)
    sources = [(one.goods, one.goods_place) for one in shop.offers]
    sources += [(one.of, one.of_place) for one in shop.offcuts]
    for name, place in dict(sources).items():
        if name not in known:
            hint = format_near_names(name, known)
            log.add("D205", place, name=name, catalogue=FILES, hint=hint)
    if len(shop.offcuts) > MOST_OFFCUTS:
        place = shop.offcuts[MOST_OFFCUTS].place
        log.add("D116", place, count=len(shop.offcuts), things="offcuts", limit=MOST_OFFCUTS)
        return catalogue
    return replace(
        catalogue,
        sheets={key: _stocked(goods, shop, log) for key, goods in catalogue.sheets.items()},
        boards={key: _stocked(goods, shop, log) for key, goods in catalogue.boards.items()},
        currency=shop.currency,
        prices_say=shop.says,
    )


def _stocked(goods: Goods, shop: ShopSource, log: ProblemLog) -> Goods:
    """Return a sheet or board with the prices and limits of its sizes and the offcuts of it."""
    offers = [offer for offer in shop.offers if offer.goods == goods.key]
    names = [size.name for size in goods.sizes]
    for offer in offers:
        if offer.size not in names:
            hint = format_near_names(offer.size, names)
            log.add("D107", offer.place, text=offer.size, key=goods.key, hint=hint)
    by_size = {offer.size: offer for offer in offers}
    is_priced = any(offer.price is not None for offer in offers)
    sizes = [
        _offered(size, by_size.get(size.name), log, is_priced=is_priced) for size in goods.sizes
    ]
    found = (_offcut(one, goods, log) for one in shop.offcuts if one.of == goods.key)
    sizes += [size for size in found if size is not None]
    return replace(goods, sizes=tuple(sizes))


def _offered(
    size: SheetSize, offer: OfferSource | None, log: ProblemLog, *, is_priced: bool
) -> SheetSize:
    if offer is None:
        return replace(size, at_most=0) if is_priced else size
    at_most = (
        None if offer.at_most is None else _whole(offer.at_most, 0, "at_most", _name(offer), log)
    )
    if offer.price is None:
        if is_priced and at_most != 0:
            limit = "other sizes have a price: give it one too, or `at_most: 0`"
            _report(offer, "price", "not told", limit, log)
        return replace(size, at_most=at_most)
    return replace(size, price=_price(offer.price, offer, log), at_most=at_most)


def _price(formula: Formula, offer: OfferSource, log: ProblemLog) -> float | None:
    quantity = evaluate_formula(formula, {}, log, needed="number")
    if quantity is None:
        return None
    price = Fraction(quantity.value)
    if not 0 < price <= MOST_PRICE:
        limit = f"a price is more than 0 and at most {MOST_PRICE}"
        _report(offer, "price", formula.text, limit, log)
    elif (price * PER_UNIT).denominator != 1:
        _report(offer, "price", formula.text, "a price has two digits after the point at most", log)
    return float(price)


def _whole(formula: Formula, least: int, key: str, entry: str, log: ProblemLog) -> int | None:
    quantity = evaluate_formula(formula, {}, log, needed="number")
    if quantity is None:
        return None
    count = Fraction(quantity.value)
    if not least <= count <= MOST_THERE or count.denominator != 1:
        limit = f"it is a whole number from {least} to {MOST_THERE}"
        place, text = formula.place, formula.text
        log.add("K107", place, key=key, entry=entry, value=text, limit=limit)
        return None
    return int(count)


def _report(offer: OfferSource, key: str, value: str, limit: str, log: ProblemLog) -> None:
    log.add("K107", offer.place, key=key, entry=_name(offer), value=value, limit=limit)


def _name(offer: OfferSource) -> str:
    return f"{offer.goods}, {offer.size}"


def _offcut(source: OffcutSource, goods: Sheet | Board, log: ProblemLog) -> SheetSize | None:
    """Return an offcut as a size that need not be bought."""
    expected = 2 if isinstance(goods, Sheet) else 1
    if len(source.size) != expected:
        log.add(
            "D106",
            source.size_place,
            key="size",
            expected="[length, width]" if expected == 2 else "[length]: boards have one width",
            found=f"a list of {len(source.size)}",
        )
        return None
    sizes = [evaluate_formula(one, {}, log, needed="length") for one in source.size]
    count = 1 if source.count is None else _whole(source.count, 1, "count", source.name, log)
    lengths = [float(one.value) for one in sizes if one is not None]
    if len(lengths) < expected or count is None:
        return None
    trimmed = lengths if expected == 2 else lengths[:1]
    if min(trimmed) <= 2 * goods.trim_mm:
        limit = "nothing of it is left when its edges are trimmed"
        text = ", ".join(one.text for one in source.size)
        log.add("K107", source.size_place, key="size", entry=source.name, value=text, limit=limit)
        return None
    width = goods.width_mm if isinstance(goods, Board) else lengths[1]
    return owned_size(plain_words(source.name), (lengths[0], width), count)
