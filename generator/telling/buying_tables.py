"""What a builder must get: the facts at the top, the shopping list, tools and bits."""

from collections.abc import Iterable, Iterator

from generator.model.catalogue import Tool
from generator.model.joinery import BoredHole
from generator.model.needs import BoardNeed, CostNeed, StockNeed
from generator.model.plan import Plan
from generator.model.words import bit_words, capital, count_fasteners, fasteners_word, join_words
from generator.telling.housing_tables import make_channel_tools
from generator.telling.tables import Table, make_table
from generator.units import format_both, format_length, format_mass, format_money, format_size

POCKET_USE = "Stepped drill bit {size} for pockets, run in the jig"

HOLE_USES = {
    "bolt": "bolt holes",
    "clearance": "clearance holes",
    "nail": "nail holes",
    "pilot": "pilot holes",
    "dowel": "dowel holes",
    "insert": "the inserts",
    "pin": "shelf-pin holes",
}
"""Kind of hole → what a twist bit of its size is for, in the order told."""

STOPPED_HOLES = frozenset(("dowel", "insert", "pin"))
"""Kinds of holes whose depth a stop collar on the bit sets."""

OPENING_USE = "Bit or hole saw {size} for openings in {labels}"

BESIDE_BITS = {
    "dowel": "Dowelling jig, or centre points to carry the places over",
    "insert": "Driver for the inserts, and a wrench that fits the bolts",
    "bolt": "Two wrenches, for the bolts and their nuts",
}
"""What is needed beside the bits; common practice, no source."""


def make_facts(plan: Plan) -> tuple[tuple[str, str], ...]:
    """Return the few figures that help to choose a plan, with their names."""
    story = plan.edition.story
    rows = (
        ("Overall size", overall_words(plan)),
        ("Weight", f"about {format_mass(plan.parts.mass_kg, plan.edition.system)}"),
        ("Pieces", f"{len(plan.parts.pieces())} from {sheets_words(plan)}"),
        ("Cost of the wood", cost_words(plan)),
        (
            fasteners_word(plan.joinery.fasteners).capitalize(),
            join_words([one.split()[0] for one in count_fasteners(plan.joinery.fasteners)]) or "0",
        ),
        ("Difficulty", story.difficulty),
        ("Time", f"{story.hours} hours" if story.hours else ""),
    )
    return tuple((name, value) for name, value in rows if value)


def overall_words(plan: Plan) -> str:
    """Return width, depth and height of the whole: ``36 in wide, 14 in deep, 18 in high``."""
    low, high, system = plan.parts.low, plan.parts.high, plan.edition.system
    sizes = [format_length(high[axis] - low[axis], system) for axis in range(3)]
    return f"{sizes[0]} wide, {sizes[1]} deep, {sizes[2]} high"


def sheets_words(plan: Plan) -> str:
    """Return the number of sheets and boards: ``1 sheet``, ``1 sheet, 3 boards, 1 offcut``."""
    owned = sum(layout.size.is_owned for layout in plan.cutting.all_layouts())
    sheets = sum(not layout.size.is_owned for layout in plan.cutting.layouts)
    boards = sum(not layout.size.is_owned for layout in plan.cutting.boards)
    counts = ((sheets, "sheet"), (boards, "board"), (owned, "offcut"))
    return ", ".join(
        f"1 {word}" if count == 1 else f"{count} {word}s" for count, word in counts if count
    )


def cost_words(plan: Plan) -> str:
    """Return what sheets and boards cost together: ``149.00 euros``; "" where nobody knows."""
    need = plan.cutting.cost_need()
    return "" if need is None else f"{money_words(need.cost, plan)}{_without(need)}"


def money_words(amount: float, plan: Plan) -> str:
    """Return an amount in the currency of the edition."""
    return format_money(amount, plan.edition.catalogue.currency.get(plan.edition.system, ""))


def _without(need: CostNeed) -> str:
    titles = join_words([stock.title for stock in need.unpriced])
    return f", without {titles}" if titles else ""


def make_shopping(plan: Plan) -> Table:
    """Return the shopping list; with prices where any are known."""
    rows = (
        (capital(one.item), f"{_count(one.quantity)} {one.unit}".strip(), one.note)
        for one in plan.shopping
    )
    if plan.cutting.cost_need() is None:
        return make_table("Shopping list", ("Item", "How many#", "Note"), rows)
    prices = ("" if one.price is None else f"{one.price:.2f}" for one in plan.shopping)
    priced = ((*row[:2], price, row[2]) for row, price in zip(rows, prices, strict=True))
    currency = plan.edition.catalogue.currency.get(plan.edition.system, "")
    head = ("Item", "How many#", f"Price, {currency}#" if currency else "Price#", "Note")
    return make_table("Shopping list", head, priced)


def make_sheets_bought(plan: Plan) -> tuple[str, ...]:
    """Return for each stock how thick it must be, and what is known about buying less."""
    system = plan.edition.system
    lines = list(_cost_lines(plan))
    for need in plan.cutting.needs:
        sheet = need.stock.goods
        thick = format_length(sheet.thickness_mm, system)
        exact = f" ({sheet.thickness_mm:.1f} mm)" if system == "imperial" else ""
        text = f"{sheet.name}: the plan is computed for sheets {thick} thick{exact}. "
        text += "Measure yours before cutting: if it differs, inner sizes and bevels change."
        lines.append(text + _least_words(need, plan))
    return (*lines, *(_board_words(need, plan) for need in plan.cutting.board_needs))


def _cost_lines(plan: Plan) -> Iterator[str]:
    """Yield what sheets and boards cost together, and where the prices come from."""
    need = plan.cutting.cost_need()
    if need is None:
        return
    text = f"Sheets and boards cost {money_words(need.cost, plan)} together{_without(need)}."
    if need.proved_least:
        text += " Proved cheapest: no other choice of them gives these parts for less."
    else:
        text += " Another choice might cost less, but by no more than "
        text += f"{money_words(need.cost - need.bound, plan)}."
    yield f"{text} {plan.edition.catalogue.prices_say}".strip()


def _least_words(need: StockNeed, plan: Plan) -> str:
    """Return what is known about buying fewer or cheaper sheets of a stock."""
    if need.cost is not None and need.cost_bound is not None:
        if need.proved_least:
            return ""
        most = money_words(need.cost - need.cost_bound, plan)
        return f" Another layout might be cheaper, but by no more than {most}."
    if need.proved_least:
        return " No layout can do with fewer sheets."
    fewest = "1 sheet" if need.bound == 1 else f"{need.bound} sheets"
    return f" Another layout might do with fewer sheets, but not with fewer than {fewest}."


def _board_words(need: BoardNeed, plan: Plan) -> str:
    system = plan.edition.system
    size = need.stock.goods.sizes[0]
    sizes = [need.stock.thickness_mm, size.width_mm]
    section = " by ".join(format_length(value, system) for value in sizes)
    exact = " by ".join(f"{value:.1f}" for value in sizes)
    if need.stock.is_round:
        thick = need.stock.thickness_mm
        return (
            f"{need.stock.title}: the plan is computed for rods of {format_both(thick, system)}. "
            "Measure yours and bore the holes for it to fit, in a trial piece first."
        )
    text = f"{need.stock.title}: the plan is computed for boards {section}"
    text += f" ({exact} mm)" if system == "imperial" else ""
    text += ". Measure yours before cutting, and cut only dry, straight boards."
    if need.cost is not None and need.cost_bound is not None:
        if need.proved_least:
            return text
        most = money_words(need.cost - need.cost_bound, plan)
        return f"{text} Another choice of lengths might be cheaper, but by no more than {most}."
    if need.proved_least:
        text += " No choice of lengths buys less of it."
    else:
        most = format_length(need.length_mm - need.bound_mm, system)
        text += f" Another choice of lengths might buy less, but by no more than {most}."
    return text


def make_tools(plan: Plan) -> tuple[str, ...]:
    """Return the tools the plan asks for, the saw first."""
    saw, *others = needed_tools(plan)
    first = saw.name
    if saw.kerf_mm is not None:
        kerf = format_both(saw.kerf_mm, plan.edition.system)
        first = f"{saw.name}, whose kerf is taken to be {kerf}"
    named = (first, *(tool.name for tool in others))
    return tuple(capital(name) for name in (*named, *make_channel_tools(plan)))


def needed_tools(plan: Plan) -> tuple[Tool, ...]:
    """Return the tools of the catalogue that the plan asks for, each once, the saw first."""
    jigsaw = plan.edition.catalogue.tools.get("jigsaw")
    is_curved = any(setting.kind == "jigsaw" for setting in plan.cutting.settings)
    curved = (jigsaw,) if is_curved and jigsaw is not None else ()
    found = (plan.edition.saw, *plan.edition.story.tools, *curved)
    return tuple({tool.key: tool for tool in found}.values())


def make_bits(plan: Plan) -> tuple[str, ...]:
    """Return each drill bit once, with all it bores, and what bores the openings."""
    bits = list(_twist_bits(plan))
    bits += [
        OPENING_USE.format(
            size=bit_words(one.value_mm, plan.edition.system), labels=join_words(one.pieces)
        )
        for one in plan.cutting.settings
        if one.kind == "bore"
    ]
    if any(_is_countersunk(hole) for hole in plan.joinery.holes):
        bits.append("Countersink, for the heads of face screws")
    kinds = {hole.kind for hole in plan.joinery.holes}
    bits += [text for kind, text in BESIDE_BITS.items() if kind in kinds]
    return tuple(bits)


def _twist_bits(plan: Plan) -> Iterable[str]:
    """Return the bits for holes of joints, smallest first, each with all it is used for."""
    found = sorted({(hole.diameter_mm, hole.kind) for hole in plan.joinery.holes})
    sizes: dict[str, set[str]] = {}
    for diameter, kind in found:
        sizes.setdefault(bit_words(diameter, plan.edition.system), set()).add(kind)
    for size, kinds in sizes.items():
        free = [use for kind, use in HOLE_USES.items() if kind in kinds - STOPPED_HOLES]
        stopped = [use for kind, use in HOLE_USES.items() if kind in kinds & STOPPED_HOLES]
        uses = [f"for {join_words(free)}"] if free else []
        uses += [f"with a stop collar for {join_words(stopped)}"] if stopped else []
        if uses:
            yield f"Drill bit {size} {', and '.join(uses)}"
        if "pocket" in kinds:
            yield POCKET_USE.format(size=size)


def _is_countersunk(hole: BoredHole) -> bool:
    return hole.countersink_mm > 0


def _count(value: float) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".")


def size_words(values_mm: tuple[float, ...], plan: Plan) -> str:
    """Return sizes joined by ×, with one unit: ``34 1/2 × 16 in``."""
    unit = "in" if plan.edition.system == "imperial" else "mm"
    return " × ".join(format_size(value, plan.edition.system) for value in values_mm) + f" {unit}"
