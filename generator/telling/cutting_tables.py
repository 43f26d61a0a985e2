"""The cut list, the settings of the saw and the order of cuts, as tables."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby

from generator.model.cutting import Blank, Cut, Layout, Setting
from generator.model.parts import Part
from generator.model.plan import Plan
from generator.model.words import TOOL_WORDS, part_work
from generator.model.work import find_work, format_hands
from generator.telling.buying_tables import size_words
from generator.telling.tables import Table, make_table
from generator.units import format_angle, format_length, format_mass, format_size


def make_cut_list(plan: Plan) -> Table:
    """Return one row for each part: how many, finished sizes, and the work at its edges."""
    system = plan.edition.system
    unit = unit_word(plan)
    head = ("Part@", "Name", "Copies#", f"Length, {unit}#", f"Width, {unit}#", "Stock", "Then")
    rows = (
        (
            part.label,
            part.title,
            part.count,
            format_size(part.length_mm, system),
            ("Ø " if part.stock.is_round else "") + format_size(part.width_mm, system),
            part.stock.title,
            _work_words(plan, part),
        )
        for part in plan.parts.parts
    )
    return make_table("Finished sizes of all parts", head, rows)


def _work_words(plan: Plan, part: Part) -> str:
    """Return the work at the edges of a part, and how many copies are left and right."""
    hands = format_hands(find_work(plan, part))
    plain = "both ends square" if part.stock.is_round else "square all round"
    work = part_work(part, plan.edition.system) or (plain,)
    return "; ".join((*work, hands) if hands else work)


def make_blanks(plan: Plan) -> Table:
    """Return one row for each part: the rectangle to saw first."""
    system = plan.edition.system
    unit = unit_word(plan)
    rows = (
        (
            blank.label,
            plan.parts.part(blank.label).title,
            blank.count,
            format_size(blank.length_mm, system),
            _round_sign(plan, blank) + format_size(blank.width_mm, system),
            "left larger for a bevel" if any(blank.allowance_mm) else "",
        )
        for blank in plan.cutting.blanks
    )
    head = ("Part@", "Name", "Copies#", f"Length, {unit}#", f"Width, {unit}#", "Note")
    return make_table(f"Blanks to saw from the {stock_word(plan)}", head, rows)


def _round_sign(plan: Plan, blank: Blank) -> str:
    return "Ø " if plan.parts.part(blank.label).stock.is_round else ""


def layout_words(plan: Plan, layout: Layout) -> str:
    """Return the caption of a layout: stock, size and mass."""
    size = size_words((layout.size.length_mm, layout.size.width_mm), plan)
    mass = format_mass(layout.mass_kg, plan.edition.system)
    return f"Sheet {layout.number}: {layout.stock.title}, {layout.size.name}, {size}, about {mass}."


def lifting_words(plan: Plan) -> str:
    """Return how the heavy sheets of a plan are handled; empty where one person can lift all."""
    lifting, system = plan.cutting.lifting, plan.edition.system
    if lifting is None or all(one.mass_kg <= lifting.limit_kg for one in plan.cutting.layouts):
        return ""
    limit, piece = (format_mass(kg, system) for kg in (lifting.limit_kg, lifting.piece_kg))
    text = (
        f"A sheet of more than {limit} is carried by two people. Lay it flat on the floor, on "
        "strips of waste, set the saw to cut just deeper than the sheet, and break it down where "
        f"it lies: the heaviest piece that its first cuts free weighs about {piece}"
    )
    return text + ("; lift that with two as well." if lifting.piece_kg > lifting.limit_kg else ".")


def offcut_words(plan: Plan, layout: Layout) -> str:
    """Return the offcuts of a layout worth keeping, largest first; empty where there is none."""
    by_area = sorted(layout.offcuts, key=lambda one: -one.length_mm * one.width_mm)
    return ", ".join(size_words((one.length_mm, one.width_mm), plan) for one in by_area)


def make_settings(plan: Plan) -> Table:
    """Return every setting of fence, stop and tilt, in order."""
    head = (
        "No.",
        "Kind of cut",
        "With",
        f"Set to, {unit_word(plan)}#",
        "Tilt#",
        "Angle off square#",
    )
    return make_table(
        "Settings in order: set once, make all its cuts, move on",
        (*head, "Parts@", "Where", "Cuts#"),
        (_setting_row(plan, setting) for setting in plan.cutting.settings),
    )


def settings_words(plan: Plan) -> str:
    """Return whether fewer settings could do; empty where nothing is sawn."""
    need = plan.cutting.settings_need
    if need.settings == 0:
        return ""
    first = "Setting 1 saws" if need.settings == 1 else f"Settings 1 to {need.settings} saw"
    text = f"{first} the {stock_word(plan)} into blanks"
    if need.proved_least:
        return f"{text}: no order of these cuts needs fewer."
    return (
        f"{text}: the fewest that were found, at most {need.settings - need.bound} more than some "
        "other order of these cuts may need."
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class CutGroup:
    """The saw cuts of one setting.

    Attributes:
        title: The setting in words, such as ``Setting 2: rip, set to 11 17/32 in``.
        rows: Which cuts, such as ``5`` or ``1 to 4``; what is cut; what that gives.
    """

    title: str
    rows: tuple[tuple[str, str, str], ...]


def make_cut_groups(plan: Plan) -> tuple[CutGroup, ...]:
    """Return every saw cut through a sheet or board in order, setting by setting.

    Cuts that follow each other and read alike stand in one row: the trims of a sheet.
    """
    settings = {setting.order: setting for setting in plan.cutting.settings}
    groups = []
    for order, cuts in groupby(_sorted_cuts(plan), key=lambda cut: cut.setting):
        size = format_length(settings[order].value_mm, plan.edition.system)
        rows = []
        for (of, frees), run in groupby(cuts, key=lambda cut: (cut.of, cut.frees)):
            numbers = [cut.order for cut in run]
            first, last = str(numbers[0]), str(numbers[-1])
            rows.append((first if first == last else f"{first} to {last}", of, frees))
        title = f"Setting {order}: {settings[order].kind}, set to {size}"
        groups.append(CutGroup(title=title, rows=tuple(rows)))
    return tuple(groups)


def _sorted_cuts(plan: Plan) -> list[Cut]:
    cuts = (cut for layout in plan.cutting.all_layouts() for cut in layout.cuts)
    return sorted(cuts, key=lambda cut: cut.order)


def board_words(plan: Plan, number: int, count: int) -> str:
    """Return the caption of a drawing of boards."""
    total = sum(need.length_mm for need in plan.cutting.board_needs)
    length = format_length(total, plan.edition.system)
    part = f", drawing {number} of {count}" if count > 1 else ""
    return f"The boards{part}: {length} in all."


def board_offcuts(plan: Plan) -> str:
    """Return the lengths left of boards and worth keeping, with the stock they are left of."""
    found = [
        f"{size_words((one.length_mm, one.width_mm), plan)} of {layout.stock.title}"
        for layout in plan.cutting.boards
        for one in layout.offcuts
    ]
    return ", ".join(found)


def stock_word(plan: Plan) -> str:
    """Return what the plan is sawn from: ``sheets``, ``boards``, or both."""
    words = [("sheets", plan.cutting.layouts), ("boards", plan.cutting.boards)]
    return " and ".join(word for word, layouts in words if layouts)


def unit_word(plan: Plan) -> str:
    """Return the unit at the head of a column."""
    return "in" if plan.edition.system == "imperial" else "mm"


def _setting_row(plan: Plan, setting: Setting) -> Sequence[object]:
    return (
        setting.order,
        "bevel at an angle" if setting.tilt_deg and setting.mitre_deg else setting.kind,
        TOOL_WORDS.get(setting.kind, "saw"),
        format_size(setting.value_mm, plan.edition.system) if setting.value_mm else "",
        format_angle(setting.tilt_deg) if setting.tilt_deg else "",
        format_angle(setting.mitre_deg) if setting.mitre_deg else "",
        ", ".join(setting.pieces),
        setting.where,
        setting.cuts,
    )
