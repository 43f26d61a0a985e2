"""The sections ``shop`` and ``offcuts``: prices, what there is too little of, and what is there."""

from collections.abc import Iterator

from generator.design.phrases import parse_name
from generator.design.values import find_formula, read_formula
from generator.model.shop import OffcutSource, OfferSource, ShopSource
from generator.problems import ProblemLog
from generator.units import SYSTEMS, System
from generator.yaml_source.getters import MappingReader, find_entries, find_items
from generator.yaml_source.nodes import Entries, Node, Word


def read_shop(reader: MappingReader, log: ProblemLog) -> ShopSource:
    """Return what library.yml says of the shop and of offcuts; nothing where it says nothing."""
    offcuts = tuple(
        found
        for name, node in reader.entries("offcuts")
        if (found := read_offcut(name, node, log)) is not None
    )
    inner = reader.mapping("shop")
    if inner is None:
        return ShopSource(offcuts=offcuts)
    offers = tuple(
        offer for word, node in inner.entries("sells") for offer in _read_offers(word, node, log)
    )
    currency = _read_currency(inner)
    if not currency and any(offer.price is not None for offer in offers):
        inner.report_missing("currency", inner.place, "say what prices are told in: a word")
    shop = ShopSource(says=inner.text("says"), currency=currency, offers=offers, offcuts=offcuts)
    inner.finish()
    return shop


def read_offcut(name: Word, node: Node, log: ProblemLog) -> OffcutSource | None:
    """Return one offcut, or None where a problem leaves nothing to go on with."""
    named, entries = parse_name(name, log), find_entries(node, log)
    if named is None or entries is None:
        return None
    reader = MappingReader(entries, log)
    of, size = reader.required_word("of"), reader.required("size")
    items = None if size is None else find_items(size, log, "[length, width]")
    formulas = [read_formula(item, log) for item in items or ()]
    if size is not None and items is not None and not 1 <= len(items) <= 2:
        log.add(
            "D106",
            size.place,
            key="size",
            expected="[length, width], or [length] for a board",
            found=f"a list of {len(items)}",
        )
        return None
    count = find_formula(reader, "count", log)
    reader.finish()
    sizes = tuple(formula for formula in formulas if formula is not None)
    if of is None or size is None or not items or len(sizes) < len(items):
        return None
    return OffcutSource(
        name=named,
        of=of.text.strip(),
        of_place=of.place,
        size=sizes,
        size_place=size.place,
        count=count,
        place=name.place,
    )


def _read_currency(reader: MappingReader) -> dict[System, str]:
    """Return what prices are told in: one word for both editions, or one for each."""
    if isinstance(reader.node("currency"), Entries):
        inner = reader.mapping("currency")
        if inner is None:
            return {}
        found = {system: inner.required_text(system) or "" for system in SYSTEMS}
        inner.finish()
        return found
    word = reader.word("currency")
    return {} if word is None else dict.fromkeys(SYSTEMS, word.text.strip())


def _read_offers(goods: Word, node: Node, log: ProblemLog) -> Iterator[OfferSource]:
    """Yield a size for each key: a price alone, or a price and how many there are."""
    entries = find_entries(node, log, "a mapping of sizes")
    for word, value in () if entries is None else entries.entries:
        price = at_most = None
        if isinstance(value, Entries):
            reader = MappingReader(value, log)
            price = find_formula(reader, "price", log)
            at_most = find_formula(reader, "at_most", log)
            reader.finish()
        else:
            price = read_formula(value, log)
        yield OfferSource(
            goods=goods.text,
            goods_place=goods.place,
            size=word.text,
            place=word.place,
            price=price,
            at_most=at_most,
        )
