"""Screws, nails, dowels and bolts in the packs they are sold in, with a few to spare."""

from collections import Counter
from collections.abc import Sequence

from generator.model.fixings import Bolt, Fixing
from generator.model.joinery import Joinery
from generator.model.plan import ShoppingItem

INSERT_NOTE = "read on the pack which bit its hole needs"


def list_fasteners(joinery: Joinery) -> list[ShoppingItem]:
    """Return what to buy for the joints: one row for each size, bolts with washers and inserts."""
    counts = Counter(fastener.goods.key for fastener in joinery.fasteners)
    goods = {fastener.goods.key: fastener.goods for fastener in joinery.fasteners}
    nuts = Counter(fastener.goods.key for fastener in joinery.fasteners if fastener.has_nut)
    return [item for key in sorted(counts) for item in _items(goods[key], counts[key], nuts[key])]


def pick_pack(needed: int, packs: Sequence[int]) -> tuple[int, int]:
    """Return how many packs of which size: the fewest pieces that do, then the fewest packs."""
    ways = [(-(-needed // size), size) for size in packs]
    return min(ways, key=lambda way: (way[0] * way[1], way[0]))


def _items(goods: Fixing, count: int, nuts: int) -> list[ShoppingItem]:
    """Return the rows of one thing: a bolt with a washer or two, and its inserts or nuts."""
    if not isinstance(goods, Bolt):
        return [_item(goods.name, count, _with_spares(count), goods.packs)]
    rows = (
        (goods.name, count, ""),
        (goods.washer, count + nuts, ""),
        (goods.nut, nuts, ""),
        (goods.insert.name, count - nuts, INSERT_NOTE),
    )
    return [_item(name, some, some, goods.packs, note) for name, some, note in rows if some]


def _item(name: str, count: int, wanted: int, packs: Sequence[int], note: str = "") -> ShoppingItem:
    """Return the row of one thing: in packs where it is sold so, else piece by piece."""
    number, size = pick_pack(wanted, packs)
    needed = f"{count} needed"
    if size == 1:
        unit = "piece" if number == 1 else "pieces"
    else:
        unit = f"box of {size}" if number == 1 else f"boxes of {size}"
        needed += f", {number * size - count} to spare"
    text = f"{needed}; {note}" if note else needed
    return ShoppingItem(item=name, quantity=float(number), unit=unit, note=text)


def _with_spares(count: int) -> int:
    """Return a count and a tenth more, rounded up: screws get lost (common practice, no source)."""
    return count + -(-count // 10)
