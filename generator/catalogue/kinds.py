"""What one entry of each catalogue file is: a material, a sheet, a board, edging or a tool."""

from collections.abc import Iterable, Iterator, Mapping

from generator.catalogue.entries import EntryReader
from generator.model.catalogue import Board, Edging, Material, Sheet, SheetSize, Tool
from generator.problems import ProblemLog, format_near_names
from generator.units import System, format_length
from generator.yaml_source.getters import find_items
from generator.yaml_source.nodes import Word

MOST_DENSITY_KG_M3 = 2000
MOST_STIFFNESS_N_MM2 = 50_000
MOST_THICKNESS_MM = 100
MOST_SHEET_MM = 6000
MOST_BOARD_MM = 400
MOST_SIZES = 20
MOST_EDGING_MM = 100
MOST_EDGING_THICKNESS_MM = 3
"""What is thicker is a strip of wood and a part of its own: it has a place and is sawn."""
MOST_TRIM_MM = 50
MOST_KERF_MM = 20
MOST_TILT_DEG = 60


def parse_material(entry: EntryReader) -> Material | None:
    """Return the material an entry describes, None where the entry is at fault."""
    material = Material(
        key=entry.name,
        name=entry.text("name"),
        density_kg_m3=entry.number("density", most=MOST_DENSITY_KG_M3),
        stiffness_n_mm2=entry.number("stiffness", most=MOST_STIFFNESS_N_MM2),
        hard=entry.yes_no("hard"),
        source=entry.text("source"),
    )
    entry.finish()
    return None if entry.is_at_fault else material


def parse_tool(entry: EntryReader) -> Tool | None:
    """Return the tool an entry describes, None where the entry is at fault."""
    tool = Tool(
        key=entry.name,
        name=entry.text("name"),
        kerf_mm=entry.optional_length_mm("kerf", most_mm=MOST_KERF_MM),
        tilt_limit_deg=entry.optional_angle_deg("tilt_limit", most_deg=MOST_TILT_DEG),
        source=entry.text("source"),
    )
    entry.finish()
    return None if entry.is_at_fault else tool


def parse_edging(entry: EntryReader) -> Edging | None:
    """Return the edging an entry describes, None where the entry is at fault."""
    edging = Edging(
        key=entry.name,
        name=entry.text("name"),
        system=entry.system(),
        width_mm=entry.length_mm("width", most_mm=MOST_EDGING_MM),
        thickness_mm=entry.length_mm("thickness", most_mm=MOST_EDGING_THICKNESS_MM),
        source=entry.text("source"),
    )
    entry.finish()
    return None if entry.is_at_fault else edging


def parse_sheet(
    entry: EntryReader,
    log: ProblemLog,
    materials: Mapping[str, Material],
    material_names: Iterable[str],
) -> Sheet | None:
    """Return the sheet an entry describes, None where the entry is at fault.

    Args:
        entry: The entry.
        log: Gets what is wrong with its sizes.
        materials: Those that could be read.
        material_names: All that are listed; the others' faults are reported already.
    """
    name, system = entry.text("name"), entry.system()
    thickness_mm = entry.length_mm("thickness", most_mm=MOST_THICKNESS_MM)
    range_mm = _parse_range(entry, thickness_mm)
    trim_mm = entry.length_mm("trim", most_mm=MOST_TRIM_MM)
    sizes = tuple(_parse_sizes(entry, trim_mm, log))
    has_grain = entry.yes_no("grain")
    source = entry.text("source")
    material = _find_material(entry, materials, material_names)
    entry.finish()
    if entry.is_at_fault or material is None:
        return None
    return Sheet(
        key=entry.name,
        name=name,
        system=system,
        thickness_mm=thickness_mm,
        sizes=sizes,
        trim_mm=trim_mm,
        has_grain=has_grain,
        material=material,
        source=source,
        place=entry.place,
        range_mm=range_mm,
    )


def parse_board(
    entry: EntryReader, materials: Mapping[str, Material], material_names: Iterable[str]
) -> Board | None:
    """Return the board or rod an entry describes, None where the entry is at fault.

    Args:
        entry: The entry.
        materials: Those that could be read.
        material_names: All that are listed; the others' faults are reported already.
    """
    name, system = entry.text("name"), entry.system()
    diameter_mm = entry.optional_length_mm("diameter", most_mm=MOST_THICKNESS_MM)
    if diameter_mm is None:
        thickness_mm = entry.length_mm("thickness", most_mm=MOST_THICKNESS_MM)
        width_mm = entry.length_mm("width", most_mm=MOST_BOARD_MM)
    else:
        thickness_mm = width_mm = diameter_mm
    trim_mm = entry.length_mm("trim", most_mm=MOST_TRIM_MM)
    sizes = tuple(_parse_board_sizes(entry, width_mm, trim_mm, system))
    source = entry.text("source")
    material = _find_material(entry, materials, material_names)
    entry.finish()
    if entry.is_at_fault or material is None:
        return None
    return Board(
        key=entry.name,
        name=name,
        system=system,
        thickness_mm=thickness_mm,
        width_mm=width_mm,
        sizes=sizes,
        trim_mm=trim_mm,
        is_round=diameter_mm is not None,
        material=material,
        source=source,
        place=entry.place,
    )


def _parse_range(entry: EntryReader, thickness_mm: float) -> tuple[float, float] | None:
    """Return the least and the greatest thickness a sheet is sold with, where both are told."""
    least_mm = entry.optional_length_mm("least", most_mm=MOST_THICKNESS_MM)
    most_mm = entry.optional_length_mm("most", most_mm=MOST_THICKNESS_MM)
    if least_mm is None or most_mm is None:
        for key, value_mm in (("least", least_mm), ("most", most_mm)):
            if value_mm is not None:
                entry.report_limit(key, f"{value_mm:g} mm", "`least` and `most` stand together")
        return None
    if least_mm > thickness_mm and not entry.is_at_fault:
        entry.report_limit("least", f"{least_mm:g} mm", "it must be no more than the thickness")
    if most_mm < thickness_mm and not entry.is_at_fault:
        entry.report_limit("most", f"{most_mm:g} mm", "it must be no less than the thickness")
    return (least_mm, most_mm)


def _parse_sizes(entry: EntryReader, trim_mm: float, log: ProblemLog) -> Iterator[SheetSize]:
    listed = entry.entries("sizes")
    _check_number(entry, "sizes", len(listed))
    for name, node in listed:
        items = find_items(node, log, "[length, width]")
        if items is None:
            continue
        if len(items) != 2:
            entry.report_limit("sizes", f"{len(items)} lengths", "a size is [length, width]")
            continue
        length_mm, width_mm = (entry.length_of(name, item, most_mm=MOST_SHEET_MM) for item in items)
        if min(length_mm, width_mm) <= 2 * trim_mm:
            entry.report_limit("trim", f"{trim_mm:g} mm", f"it leaves nothing of `{name}`")
        yield SheetSize(name=name, length_mm=length_mm, width_mm=width_mm)


def _parse_board_sizes(
    entry: EntryReader, width_mm: float, trim_mm: float, system: System
) -> Iterator[SheetSize]:
    """Yield one size for each length, called by what stands in the file: ``8 ft``."""
    listed = entry.items("lengths")
    _check_number(entry, "lengths", len(listed))
    for node in listed:
        length_mm = entry.length_of("lengths", node, most_mm=MOST_SHEET_MM)
        name = node.text.strip() if isinstance(node, Word) else format_length(length_mm, system)
        if length_mm <= 2 * trim_mm:
            entry.report_limit("trim", f"{trim_mm:g} mm", f"it leaves nothing of `{name}`")
        yield SheetSize(name=name, length_mm=length_mm, width_mm=width_mm)


def _check_number(entry: EntryReader, key: str, count: int) -> None:
    """Report goods that are sold in no size at all, or in more than anybody looks through."""
    if not entry.is_at_fault and not 1 <= count <= MOST_SIZES:
        limit = f"it must be sold in 1 to {MOST_SIZES}"
        entry.report_limit(key, f"a list of {count}", limit)


def _find_material(
    entry: EntryReader, materials: Mapping[str, Material], listed: Iterable[str]
) -> Material | None:
    names = tuple(listed)
    key = entry.text("material")
    if key and key not in names:
        entry.report_material(key, format_near_names(key, names))
    return materials.get(key)
