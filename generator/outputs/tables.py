"""The tables of a plan as CSV files: RFC 4180 with a header row, UTF-8, formula-safe cells.

Lengths stand in them twice: as a tape measure shows them, for people, and in mm, for programs.
A cell that a spreadsheet would take for a formula begins with an apostrophe; that is common
practice, no source, and numbers are left alone.
"""

import csv
import io
import re
from collections.abc import Iterable, Sequence

from generator.model.cutting import Blank
from generator.model.joinery import BoredHole, Fastener
from generator.model.parts import Part
from generator.model.plan import Plan
from generator.model.words import FIRST_HOLES, SECOND_HOLES, part_work, setting_tool
from generator.model.work import find_work, format_hands
from generator.units import System, format_size

FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r", "\n")
NUMBER = re.compile(r"[+-]?\d+(\.\d+)?")

CUT_LIST_HEAD = (
    *("label", "name", "count", "stock", "length", "width", "thickness", "blank length"),
    *("blank width", "unit", "grain", "section", "work", "length_mm", "width_mm", "thickness_mm"),
    *("blank_length_mm", "blank_width_mm", "mass_kg"),
)
FASTENERS_HEAD = (
    *("id", "step", "joint", "screw", "kind", "length_mm", "diameter_mm", "through", "hidden"),
    *("bit_mm", "pilot_bit_mm"),
    *("head_x_mm", "head_y_mm", "head_z_mm", "tip_x_mm", "tip_y_mm", "tip_z_mm"),
)
SHOPPING_HEAD = ("item", "quantity", "unit", "note", "price", "currency")
CUT_ORDER_HEAD = (
    *(
        "order",
        "sheet",
        "board",
        "kind",
        "setting",
        "setting size",
        "unit",
        "tool",
        "cut from",
        "frees",
    ),
    *("setting_mm", "from_x_mm", "from_y_mm", "to_x_mm", "to_y_mm"),
)

Cell = str | int | float


def cut_list_csv(plan: Plan) -> bytes:
    """Return one row for each part: finished size, blank, work at its edges."""
    blanks = {blank.label: blank for blank in plan.cutting.blanks}
    system = plan.edition.system
    rows = (
        _cut_list_row(part, blanks[part.label], format_hands(find_work(plan, part)), system)
        for part in plan.parts.parts
    )
    return format_csv(CUT_LIST_HEAD, rows)


def fasteners_csv(plan: Plan) -> bytes:
    """Return one row for each screw, with the step it is driven in and where it sits."""
    steps = {name: step.order for step in plan.assembly.steps for name in step.fasteners}
    rows = (
        _fastener_row(one, steps.get(one.id), plan.joinery.holes) for one in plan.joinery.fasteners
    )
    return format_csv(FASTENERS_HEAD, rows)


def shopping_csv(plan: Plan) -> bytes:
    """Return one row for each thing to buy; what is already there costs nothing."""
    currency = plan.edition.catalogue.currency.get(plan.edition.system, "")
    rows = (
        (
            *(item.item, item.quantity, item.unit, item.note),
            0.0 if item.is_owned else "" if item.price is None else item.price,
            "" if item.price is None and not item.is_owned else currency,
        )
        for item in plan.shopping
    )
    return format_csv(SHOPPING_HEAD, rows)


def cut_order_csv(plan: Plan) -> bytes:
    """Return one row for each saw cut through a sheet or board, in the order they are made."""
    system = plan.edition.system
    cuts = [(layout, cut) for layout in plan.cutting.all_layouts() for cut in layout.cuts]
    rows = (
        (
            cut.order,
            layout.number if layout.stock.board is None else "",
            "" if layout.stock.board is None else layout.number,
            cut.kind,
            cut.setting,
            format_size(cut.setting_mm, system),
            unit_of(system),
            setting_tool(cut.kind, plan.edition.saw),
            cut.of,
            cut.frees,
            mm(cut.setting_mm),
            *(mm(value) for value in (*cut.start, *cut.end)),
        )
        for layout, cut in sorted(cuts, key=lambda pair: pair[1].order)
    )
    return format_csv(CUT_ORDER_HEAD, rows)


def format_csv(head: Sequence[str], rows: Iterable[Sequence[Cell]]) -> bytes:
    """Return a CSV file: CRLF after every record, quotes only where RFC 4180 asks for them."""
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow(head)
    for row in rows:
        writer.writerow([safe_cell(cell) for cell in row])
    return text.getvalue().encode("utf-8")


def safe_cell(cell: Cell) -> str:
    """Return a cell as text that no spreadsheet takes for a formula."""
    if isinstance(cell, int):
        return str(cell)
    if isinstance(cell, float):
        return format_number(cell)
    if cell.startswith(FORMULA_STARTS) and not NUMBER.fullmatch(cell):
        return f"'{cell}"
    return cell


def format_number(value: float) -> str:
    """Return a number with at most three decimals: ``876.3``, ``4``."""
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def mm(value: float) -> str:
    """Return a length in mm to 0.001 mm."""
    return format_number(value)


def unit_of(system: System) -> str:
    """Return the unit printed lengths are in."""
    return "in" if system == "imperial" else "mm"


def _cut_list_row(part: Part, blank: Blank, hands: str, system: System) -> tuple[Cell, ...]:
    shown = (part.length_mm, part.width_mm, part.thickness_mm, blank.length_mm, blank.width_mm)
    return (
        part.label,
        part.title,
        part.count,
        part.stock.title,
        *(format_size(value, system) for value in shown),
        unit_of(system),
        part.grain,
        part.section,
        "; ".join(text for text in (*part_work(part, system), hands) if text),
        *(mm(value) for value in shown),
        part.mass_kg,
    )


def _fastener_row(
    fastener: Fastener, step: int | None, holes: tuple[BoredHole, ...]
) -> tuple[Cell, ...]:
    screw = fastener.goods
    bits = {hole.kind: mm(hole.diameter_mm) for hole in holes if hole.fastener == fastener.id}
    return (
        fastener.id,
        "" if step is None else step,
        fastener.joint,
        screw.name,
        screw.kind,
        mm(screw.length_mm),
        mm(screw.diameter_mm),
        " > ".join(fastener.through),
        "yes" if fastener.hidden else "no",
        next((bits[kind] for kind in FIRST_HOLES if kind in bits), ""),
        next((bits[kind] for kind in SECOND_HOLES if kind in bits), ""),
        *(mm(value) for value in (*fastener.head, *fastener.tip)),
    )
