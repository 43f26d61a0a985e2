"""What a builder must get: the facts at the top, the shopping list, tools and bits."""

from generator.model.cutting import BoardNeed
from generator.model.joinery import BoredHole
from generator.model.plan import Plan
from generator.model.words import bit_words, capital, count_fasteners, fasteners_word, join_words
from generator.telling.housing_tables import make_channel_tools
from generator.telling.tables import Table, make_table
from generator.units import format_both, format_length, format_mass, format_size

HOLE_USE = {
    "pocket": "Stepped drill bit {size} for pockets, run in the jig",
    "clearance": "Drill bit {size} for clearance holes",
    "nail": "Drill bit {size} for nail holes",
    "dowel": "Drill bit {size} for dowel holes, with a stop collar",
    "bolt": "Drill bit {size} for bolt holes",
    "insert": "Drill bit {size} for the inserts, with a stop collar",
    "pilot": "Drill bit {size} for pilot holes",
    "pin": "Drill bit {size} for shelf-pin holes, with a stop collar",
}

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
    """Return the number of sheets and boards: ``1 sheet``, ``3 boards``, ``1 sheet, 3 boards``."""
    counts = ((len(plan.cutting.layouts), "sheet"), (len(plan.cutting.boards), "board"))
    return ", ".join(
        f"1 {word}" if count == 1 else f"{count} {word}s" for count, word in counts if count
    )


def make_shopping(plan: Plan) -> Table:
    """Return the shopping list."""
    rows = (
        (capital(one.item), f"{_count(one.quantity)} {one.unit}".strip(), one.note)
        for one in plan.shopping
    )
    return make_table("Shopping list", ("Item", "How many#", "Note"), rows)


def make_sheets_bought(plan: Plan) -> tuple[str, ...]:
    """Return for each stock how thick it must be, and what is known about buying less."""
    system = plan.edition.system
    lines = []
    for need in plan.cutting.needs:
        sheet = need.stock.goods
        thick = format_length(sheet.thickness_mm, system)
        exact = f" ({sheet.thickness_mm:.1f} mm)" if system == "imperial" else ""
        text = f"{sheet.name}: the plan is computed for sheets {thick} thick{exact}. "
        text += "Measure yours before cutting: if it differs, inner sizes and bevels change."
        if need.proved_least:
            text += " No layout can do with fewer sheets."
        lines.append(text)
    return (*lines, *(_board_words(need, plan) for need in plan.cutting.board_needs))


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
    if need.proved_least:
        text += " No choice of lengths buys less of it."
    else:
        most = format_length(need.length_mm - need.bound_mm, system)
        text += f" Another choice of lengths might buy less, but by no more than {most}."
    return text


def make_tools(plan: Plan) -> tuple[str, ...]:
    """Return the tools the plan asks for, the saw first."""
    saw = plan.edition.saw
    first = saw.name
    if saw.kerf_mm is not None:
        kerf = format_both(saw.kerf_mm, plan.edition.system)
        first = f"{saw.name}, whose kerf is taken to be {kerf}"
    tools = plan.edition.story.tools
    others = [tool.name for tool in tools if tool.key != saw.key]
    jigsaw = plan.edition.catalogue.tools.get("jigsaw")
    is_curved = any(setting.kind == "jigsaw" for setting in plan.cutting.settings)
    if is_curved and jigsaw is not None and jigsaw not in (saw, *tools):
        others.append(jigsaw.name)
    return tuple(capital(name) for name in (first, *others, *make_channel_tools(plan)))


def make_bits(plan: Plan) -> tuple[str, ...]:
    """Return each drill bit once, with what it bores, and what bores the openings."""
    found = dict.fromkeys((hole.kind, round(hole.diameter_mm, 2)) for hole in plan.joinery.holes)
    bits = [
        HOLE_USE[kind].format(size=bit_words(diameter, plan.edition.system))
        for kind, diameter in sorted(found)
    ]
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


def _is_countersunk(hole: BoredHole) -> bool:
    return hole.countersink_mm > 0


def _count(value: float) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".")


def size_words(values_mm: tuple[float, ...], plan: Plan) -> str:
    """Return sizes joined by ×, with one unit: ``34 1/2 × 16 in``."""
    unit = "in" if plan.edition.system == "imperial" else "mm"
    return " × ".join(format_size(value, plan.edition.system) for value in values_mm) + f" {unit}"
