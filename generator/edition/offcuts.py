"""Offcuts of the maker's own: sizes of a stock that need not be bought."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from generator.edition.scope import Scope
from generator.model.catalogue import Edging, SheetSize, owned_size
from generator.model.edition import Stock
from generator.model.shop import OffcutSource
from generator.model.words import plain_words
from generator.model.workshop import OwnOffcut
from generator.problems import ProblemLog

MOST_THERE = 1_000
"""Of one size: more of anything than a person would count is a slip."""


def add_offcuts(
    sources: Sequence[OffcutSource],
    stocks: tuple[Stock, ...],
    edgings: Mapping[str, Edging],
    scope: Scope,
    log: ProblemLog,
) -> tuple[tuple[Stock, ...], tuple[OwnOffcut, ...]]:
    """Return the stocks with the offcuts the maker has of them, and the offcuts.

    D106 for a size with too many or too few lengths, D209 for an offcut of edging, E101 for a
    number nobody has.
    """
    by_name = {stock.name: stock for stock in stocks}
    found: list[tuple[str, OffcutSource, SheetSize]] = []
    for source in sources:
        if source.of in by_name:
            size = _size(source, by_name[source.of], scope, log)
            if size is not None:
                found.append((source.of, source, size))
        elif source.of in edgings:
            expected = "a sheet or a board to saw parts from"
            place, name = source.of_place, source.of
            log.add("D209", place, name=name, found="edging", expected=expected)
    whole = tuple(
        _with_sizes(stock, [size for name, _, size in found if name == stock.name])
        for stock in stocks
    )
    return whole, tuple(
        OwnOffcut(stock=name, size=size, place=source.place) for name, source, size in found
    )


def _with_sizes(stock: Stock, sizes: Sequence[SheetSize]) -> Stock:
    if not sizes:
        return stock
    return replace(stock, goods=replace(stock.goods, sizes=(*stock.goods.sizes, *sizes)))


def _size(source: OffcutSource, stock: Stock, scope: Scope, log: ProblemLog) -> SheetSize | None:
    expected = 2 if stock.board is None else 1
    if len(source.size) != expected:
        log.add(
            "D106",
            source.size_place,
            key="size",
            expected="[length, width]" if expected == 2 else "[length]: a board has its own width",
            found=f"a list of {len(source.size)}",
        )
        return None
    lengths = [scope.positive_length(one, log) for one in source.size]
    count = _count(source, scope, log)
    if lengths[0] is None or lengths[-1] is None or count is None:
        return None
    width = lengths[-1] if stock.board is None else stock.board.width_mm
    return owned_size(plain_words(source.name), (lengths[0], width), count)


def _count(source: OffcutSource, scope: Scope, log: ProblemLog) -> int | None:
    if source.count is None:
        return 1
    count = scope.whole(source.count, log, "a number of offcuts")
    if count is None or 1 <= count <= MOST_THERE:
        return count
    limit = f"it must be from 1 to {MOST_THERE}"
    log.add("E101", source.count.place, name=source.count.text, value=str(count), limit=limit)
    return None
