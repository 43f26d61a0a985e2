"""Cuts at the shop and what the reader's saw changes, as tables and sentences."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from generator.model.cutting import CarPiece, Cutting, Layout, OtherSaw, ShopList
from generator.model.plan import Plan
from generator.model.workshop import Car
from generator.telling.buying_tables import size_words
from generator.telling.cutting_tables import unit_word
from generator.telling.tables import Table, make_table
from generator.units import format_length, format_size

MOST_CUTS = 12
"""A longer list stands in a file only: nobody asks for more at a counter. A choice of ours."""

WAYS = {"rip": "along", "crosscut": "across"}


@dataclass(frozen=True, slots=True, kw_only=True)
class ShopWords:
    """What a page says of one car.

    Attributes:
        lead: The car, how many cuts, and what is too large for it.
        cuts: The cuts to ask for; None where there are none, or too many for a page.
        pieces: The pieces the cuts give, in words.
    """

    lead: str
    cuts: Table | None
    pieces: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ShopPage:
    """What a page says of the shop and of saws.

    Attributes:
        lists: Car by car; empty where no sheet is bought.
        widest_kerf: What the shop's saw may take.
        own_kerf: What the plan is laid out for; empty where its saw has no kerf.
        saws: What other kerfs change.
    """

    lists: tuple[ShopWords, ...]
    widest_kerf: str
    own_kerf: str
    saws: Table


def tell_shop(plan: Plan) -> ShopPage:
    """Return everything a page says of the shop and of saws."""
    return ShopPage(
        lists=list_shop_words(plan),
        widest_kerf=shop_kerf_words(plan),
        own_kerf=own_kerf_words(plan),
        saws=make_other_saws(plan),
    )


def list_shop_words(plan: Plan) -> tuple[ShopWords, ...]:
    """Return what to ask for at the shop, car by car."""
    words = []
    told: list[ShopList] = []
    for shop in plan.cutting.shop_lists:
        same = next((one for one in told if one.cuts and one.cuts == shop.cuts), None)
        words.append(_shop_words(plan, shop, same))
        told.append(shop)
    return tuple(words)


def make_other_saws(plan: Plan) -> Table:
    """Return one row for each usual kerf: whether the layouts hold, and what to do where not."""
    rows = (
        (format_length(saw.kerf_mm, plan.edition.system), _saw_words(saw, plan.cutting))
        for saw in plan.cutting.other_saws
    )
    return make_table("What another saw changes", ("Kerf", "Then"), rows)


def own_kerf_words(plan: Plan) -> str:
    """Return the kerf the plan is laid out for; empty where its saw has none."""
    kerf_mm = plan.edition.saw.kerf_mm
    return "" if kerf_mm is None else format_length(kerf_mm, plan.edition.system)


def shop_kerf_words(plan: Plan) -> str:
    """Return how much the shop's saw may take: the widest usual kerf the layouts hold with."""
    held = (saw.kerf_mm for saw in plan.cutting.other_saws if saw.holds)
    own_mm = plan.edition.saw.kerf_mm or 0.0
    return format_length(max((own_mm, *held)), plan.edition.system)


def _shop_words(plan: Plan, shop: ShopList, same: ShopList | None) -> ShopWords:
    count = len(shop.cuts)
    words = {0: "no cut is needed", 1: "one cut"}.get(count, f"{count} cuts")
    lead = f"For {shop.car.name} that takes {_car_size(plan, shop.car)}: {words}."
    if shop.too_large:
        parts = "part " if len(shop.too_large) == 1 else "parts "
        lead += (
            f" Larger than that: {parts}{', '.join(shop.too_large)}; they ask for room of "
            f"{_car_size(plan, shop.taker)}, and the list is for that."
        )
    if same is not None:
        return ShopWords(lead=f"{lead} They are those for {same.car.name}.", cuts=None, pieces="")
    if count > MOST_CUTS:
        lead += " That is more than most shops make: take a larger car, have the sheets brought, "
        lead += "or ask for the first few of them; they stand in shop-cuts.csv below."
        return ShopWords(lead=lead, cuts=None, pieces="")
    if not count:
        return ShopWords(lead=lead, cuts=None, pieces="")
    return ShopWords(lead=lead, cuts=_make_cuts(plan, shop), pieces=_pieces(plan, shop))


def _car_size(plan: Plan, car: Car) -> str:
    return size_words((car.length_mm, car.width_mm), plan)


def _make_cuts(plan: Plan, shop: ShopList) -> Table:
    head = ("No.", "Cut from", "Way", f"Size, {unit_word(plan)}#", "Gives", "Plan's cut#")
    rows = (
        (
            cut.order,
            cut.of,
            WAYS[cut.kind],
            format_size(cut.size_mm, plan.edition.system),
            ", leaving ".join(cut.gives),
            cut.replaces or "",
        )
        for cut in shop.cuts
    )
    return make_table(f"Cuts to ask for, {shop.car.name}", head, rows)


def _pieces(plan: Plan, shop: ShopList) -> str:
    kept = [_piece(plan, piece) for piece in shop.pieces if piece.is_kept]
    left = [piece.name for piece in shop.pieces if not piece.is_kept]
    text = f"You take home {'; '.join(kept)}."
    return f"{text} Waste, left there: {', '.join(left)}." if left else text


def _piece(plan: Plan, piece: CarPiece) -> str:
    size = size_words((piece.length_mm, piece.width_mm), plan)
    counts = Counter(piece.labels)
    parts = ", ".join(f"{count} {label}" for label, count in sorted(counts.items()))
    return f"{piece.name}, {size} ({parts or 'offcut'})"


def _saw_words(saw: OtherSaw, own: Cutting) -> str:
    if saw.holds:
        return "These layouts hold. The settings stay as they are."
    other = saw.cutting
    if other is None:
        return "A part does not fit its sheet or board any more: use a thinner blade."
    more = [
        f"{extra} {word}{'' if extra == 1 else 's'} more"
        for word, extra in (
            ("sheet", _bought(other.layouts).total() - _bought(own.layouts).total()),
            ("board", _bought(other.boards).total() - _bought(own.boards).total()),
        )
        if extra > 0
    ]
    if more:
        bought = f"Buy {' and '.join(more)}"
    elif _bought(other.all_layouts()) == _bought(own.all_layouts()):
        bought = "As much is bought, but laid out anew"
    else:
        sizes = _bought(other.all_layouts()).items()
        bought = f"Buy {', '.join(f'{count} × {name}' for name, count in sizes)} instead"
    return f"These layouts do not hold. {bought}: layouts and cuts are in the files below."


def _bought(layouts: Sequence[Layout]) -> Counter[str]:
    """Return how many sheets and boards of each size are bought; offcuts that are there are not."""
    return Counter(
        f"{one.stock.title}, {one.size.name}" for one in layouts if not one.size.is_owned
    )
