"""Cuts at the shop, and offcuts worth keeping, as CSV files."""

from generator.model.plan import Plan
from generator.outputs.tables import format_csv, mm, unit_of
from generator.units import format_size

SHOP_CUTS_HEAD = (
    *("car", "order", "sheet", "cut from", "kind", "size", "unit", "gives", "plan cut"),
    *("size_mm", "from_x_mm", "from_y_mm", "to_x_mm", "to_y_mm"),
)
OFFCUTS_HEAD = (
    *("sheet", "board", "stock", "length", "width", "unit", "length_mm", "width_mm"),
    *("x_mm", "y_mm"),
)


def shop_cuts_csv(plan: Plan) -> bytes:
    """Return one row for each cut to ask for, car by car."""
    system = plan.edition.system
    rows = (
        (
            shop.car.name,
            cut.order,
            cut.sheet,
            cut.of,
            cut.kind,
            format_size(cut.size_mm, system),
            unit_of(system),
            ", leaving ".join(cut.gives),
            cut.replaces or "",
            mm(cut.size_mm),
            *(mm(value) for value in (*cut.start, *cut.end)),
        )
        for shop in plan.cutting.shop_lists
        for cut in shop.cuts
    )
    return format_csv(SHOP_CUTS_HEAD, rows)


def offcuts_csv(plan: Plan) -> bytes:
    """Return one row for each offcut worth keeping, sheet by sheet."""
    system = plan.edition.system
    rows = (
        (
            layout.number if layout.stock.board is None else "",
            "" if layout.stock.board is None else layout.number,
            layout.stock.title,
            format_size(offcut.length_mm, system),
            format_size(offcut.width_mm, system),
            unit_of(system),
            mm(offcut.length_mm),
            mm(offcut.width_mm),
            mm(offcut.x_mm),
            mm(offcut.y_mm),
        )
        for layout in plan.cutting.all_layouts()
        for offcut in layout.offcuts
    )
    return format_csv(OFFCUTS_HEAD, rows)
