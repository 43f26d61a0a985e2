"""The shopping list: sheets, boards, edging, screws, glue, finish and what else the maker names."""

from collections import Counter

from generator.buying.fasteners import list_fasteners
from generator.buying.hardware import list_hardware
from generator.model.catalogue import SheetSize
from generator.model.cutting import Cutting
from generator.model.edition import Edition, Stock
from generator.model.fitting import FinishNeed, Fitting
from generator.model.joinery import Joinery
from generator.model.plan import ShoppingItem
from generator.model.words import bit_words
from generator.units import (
    System,
    format_area,
    format_coverage,
    format_length,
    glue_amount,
    liquid_amount,
    tape_amount,
)


def list_shopping(
    edition: Edition, joinery: Joinery, cutting: Cutting, fitting: Fitting
) -> tuple[ShoppingItem, ...]:
    """Return what to buy: sheets, boards, edging, screws, glue, finish, then the maker's own."""
    return (
        *_sheets(edition, cutting),
        *_boards(edition, cutting),
        *_edgings(fitting, edition.system),
        *list_fasteners(joinery),
        *_pins(joinery, edition.system),
        *_glue(fitting, edition.system),
        *_finishes(fitting, edition.system),
        *list_hardware(edition.hardware),
        *(
            ShoppingItem(item=buy.item, quantity=buy.quantity, unit=buy.unit, note=buy.note)
            for buy in edition.buys
        ),
    )


def _sheets(edition: Edition, cutting: Cutting) -> list[ShoppingItem]:
    system = edition.system
    items = []
    counts = Counter((layout.stock.name, layout.size.name) for layout in cutting.layouts)
    for (stock_name, size_name), count in counts.items():
        layout = next(
            found
            for found in cutting.layouts
            if (found.stock.name, found.size.name) == (stock_name, size_name)
        )
        size = layout.size
        length = format_length(size.length_mm, system)
        width = format_length(size.width_mm, system)
        thickness = format_length(layout.stock.thickness_mm, system)
        advice = "already yours" if size.is_owned else "measure it before you buy"
        items.append(
            ShoppingItem(
                item=f"{layout.stock.title}, {size.name}",
                quantity=float(count),
                unit=_count_word("offcut" if size.is_owned else "sheet", count),
                note=f"{length} by {width}, {thickness} thick; {advice}",
                price=_price(size, count),
                is_owned=size.is_owned,
            )
        )
    return items


def _price(size: SheetSize, count: int) -> float | None:
    return None if size.price is None or size.is_owned else round(size.price * count, 2)


def _boards(edition: Edition, cutting: Cutting) -> list[ShoppingItem]:
    """Return the boards, stock by stock, the longest first."""
    system = edition.system
    items = []
    for need in cutting.board_needs:
        some = [board for board in cutting.boards if board.stock.name == need.stock.name]
        counts = Counter(board.size for board in some)
        for size in sorted(counts, key=lambda size: -size.length_mm):
            width = format_length(size.width_mm, system)
            thickness = format_length(need.stock.thickness_mm, system)
            section = f"Ø {thickness}" if need.stock.is_round else f"{thickness} by {width}"
            items.append(_board(need.stock, size, counts[size], section, system))
    return items


def _board(stock: Stock, size: SheetSize, count: int, section: str, system: System) -> ShoppingItem:
    if size.is_owned:
        return ShoppingItem(
            item=f"{stock.title}, {size.name}",
            quantity=float(count),
            unit=_count_word("offcut", count),
            note=f"{format_length(size.length_mm, system)} long, {section}; already yours",
            is_owned=True,
        )
    return ShoppingItem(
        item=f"{stock.title}, {size.name} long",
        quantity=float(count),
        unit=_count_word("rod" if stock.is_round else "board", count),
        note=f"{section}; choose straight ones, and measure them",
        price=_price(size, count),
    )


def _count_word(word: str, count: int) -> str:
    return word if count == 1 else f"{word}s"


def _pins(joinery: Joinery, system: System) -> list[ShoppingItem]:
    """Return the shelf pins that something rests on, by diameter; the other holes stay empty."""
    rests = joinery.rests
    bits = sorted({round(pin.diameter_mm, 2) for rest in rests for pin in rest.pins})
    items = []
    for bit in bits:
        counts = [sum(round(p.diameter_mm, 2) == bit for p in rest.pins) for rest in rests]
        used = [count for count in counts if count]
        each = f"{used[0]} for each of" if len(set(used)) == 1 else "for"
        items.append(
            ShoppingItem(
                item=f"shelf pins, {bit_words(bit, system)}",
                quantity=float(sum(used)),
                unit="pieces",
                note=f"{each} {len(used)} shelves" if len(used) > 1 else "for one shelf",
            )
        )
    return items


def _edgings(fitting: Fitting, system: System) -> list[ShoppingItem]:
    items = []
    for need in fitting.edgings:
        quantity, unit = tape_amount(need.buy_mm, system)
        on_edges, _ = tape_amount(need.length_mm, system)
        note = f"{on_edges:.1f} {unit} on the edges; the rest is trimmed off"
        items.append(ShoppingItem(item=need.edging.name, quantity=quantity, unit=unit, note=note))
    return items


def _glue(fitting: Fitting, system: System) -> list[ShoppingItem]:
    if fitting.glue is None:
        return []
    quantity, unit = glue_amount(fitting.glue.volume_mm3, system)
    area = format_area(fitting.glue.area_mm2, system)
    rate = "200 g to the square metre" if system == "metric" else "2/3 oz to the square foot"
    note = f"for {area} of joints, {rate}"
    return [ShoppingItem(item="wood glue", quantity=quantity, unit=unit, note=note)]


def _finishes(fitting: Fitting, system: System) -> list[ShoppingItem]:
    """Return each finish once, though it may be put on several times at several places."""
    items = []
    for name in dict.fromkeys(need.spec.item for need in fitting.finishes):
        needs = [need for need in fitting.finishes if need.spec.item == name]
        quantity, unit = liquid_amount(sum(need.volume_mm3 for need in needs), system)
        note = f"{_coats(needs, system)}; take the next larger can"
        items.append(ShoppingItem(item=name, quantity=quantity, unit=unit, note=note))
    return items


def _coats(needs: list[FinishNeed], system: System) -> str:
    """Return ``3 coats on 2 m², 2 coats on 7 m², at 10 m² per litre``."""
    texts = []
    for i, need in enumerate(needs):
        coats = "one coat" if need.spec.coats == 1 else f"{need.spec.coats} coats"
        texts.append(f"{coats} on {format_area(need.area_mm2, system)}")
        covers = format_coverage(need.spec.coverage_per_mm, system)
        following = needs[i + 1].spec.coverage_per_mm if i + 1 < len(needs) else None
        if following != need.spec.coverage_per_mm:
            texts.append(f"at {covers}")
    return ", ".join(texts)
