"""The drawing of a sheet: where every blank lies and in which order it is sawn out.

The sheet lies with its length from left to right, seen from above. What is not a blank or an
offcut is waste: trims, kerfs and narrow strips.
"""

from collections.abc import Sequence
from typing import Final

from generator.geometry.vectors import Vec2
from generator.model.cutting import Layout, Offcut, Placement
from generator.model.plan import Plan
from generator.outputs.dimensions import Dimension, stack_dimensions
from generator.outputs.layout_cuts import OUTSIDE_MM, SheetPaper, draw_cuts
from generator.outputs.panels import Box, bounds_of, grown, moved_items, words_box
from generator.outputs.part_view import has_grain
from generator.outputs.scene import (
    SMALLEST_TEXT_MM,
    TEXT_MM,
    Anchor,
    Area,
    Arrowhead,
    Item,
    Scene,
    Stroke,
    Tone,
    Words,
)
from generator.outputs.text_width import text_width_mm
from generator.units import format_length, format_size

PAGE_MM: Final = 178.0
MARGIN_MM: Final = 6.0
LONGEST_MM: Final = 136.0
HIGHEST_MM: Final = 110.0
SHADES: Final[tuple[tuple[Tone, str], ...]] = (
    ("wood", "blank"),
    ("offcut", "offcut to keep"),
    ("waste", "waste"),
)
LABEL_MM: Final = 4.6
LEADING: Final = 1.25
ROOM_MM: Final = 0.4
"""Free space that texts need inside a blank, both sides together."""


def draw_layout(plan: Plan, layout: Layout) -> Scene:
    """Return the drawing of one sheet."""
    paper = SheetPaper(
        layout, min(LONGEST_MM / layout.size.length_mm, HIGHEST_MM / layout.size.width_mm)
    )
    picture, cuts = draw_sawn(plan, paper)
    told = tell_small(plan, layout, picture)
    return _on_page(plan, layout, [*picture, *_sizes(plan, paper, cuts)], told)


def tell_small(plan: Plan, layout: Layout, picture: Sequence[Item]) -> list[str]:
    """Return lines with the sizes of blanks and offcuts that have no room for them.

    Args:
        plan: The plan.
        layout: A sheet or a board.
        picture: Its drawing; what it says already is not told again.
    """
    system = plan.edition.system
    words = [item.text for item in picture if isinstance(item, Words)]
    shown = f" {' '.join(words)} "
    sizes = [(f"{one.label} ", one.length_mm, one.width_mm) for one in layout.placements]
    sizes += [("offcut ", one.length_mm, one.width_mm) for one in layout.offcuts]
    texts = [
        f"{name}{format_size(length, system)} × {format_size(width, system)}"
        for name, length, width in sizes
    ]
    missing = dict.fromkeys(text for text in texts if f" {text.split(' ', 1)[1]} " not in shown)
    lines = [""]
    for text in missing:
        longer = f"{lines[-1]}; {text}" if lines[-1] else f"Too small for their sizes: {text}"
        is_short = text_width_mm(longer, SMALLEST_TEXT_MM) < PAGE_MM - 2 * MARGIN_MM - 2.0
        lines[-1:] = [longer] if is_short else [f"{lines[-1]};", text]
    return [line for line in lines if line]


def draw_sawn(plan: Plan, paper: SheetPaper) -> tuple[list[Item], tuple[Item, ...]]:
    """Return a sheet or board with its blanks, offcuts and cuts; and the cuts alone once more."""
    texts: list[Item] = []
    wood: list[Item] = []
    for placement in paper.layout.placements:
        wood += _blank(paper, placement)
        texts += _blank_texts(plan, paper, placement)
    for offcut in paper.layout.offcuts:
        wood.append(Area(rings=(paper.rectangle(_offcut_box(offcut)),), tone="offcut"))
        texts += _offcut_text(plan, paper, offcut)
    taken = [words_box(item) for item in texts if isinstance(item, Words)]
    cuts = draw_cuts(paper, [grown(box, 0.4) for box in taken])
    return [*_sheet(paper), *wood, *cuts, *texts], cuts


def draw_shades() -> list[Item]:
    """Return what the shades of a layout mean."""
    items: list[Item] = []
    x = 0.0
    for tone, word in SHADES:
        ring = ((x, -0.6), (x + 5.0, -0.6), (x + 5.0, 2.4), (x, 2.4))
        items += [Area(rings=(ring,), tone=tone), Stroke(points=ring, layer="quiet", closed=True)]
        items.append(_text((x + 6.4, 0.0), word, "start", SMALLEST_TEXT_MM))
        x += 12.0 + text_width_mm(word, SMALLEST_TEXT_MM)
    return items


def _on_page(plan: Plan, layout: Layout, picture: list[Item], told: Sequence[str]) -> Scene:
    """Put title, picture and explanations below each other."""
    title = _title(plan, layout)
    _, _, _, title_top = bounds_of(title)
    _, title_low, _, _ = bounds_of(title)
    left, low, right, high = bounds_of(picture)
    dx = (PAGE_MM - (right - left)) / 2 - left
    top = title_low - 4.0
    key = _key(plan, layout, told)
    _, key_low, _, key_high = bounds_of(key)
    key_top = top - (high - low) - 4.0
    height = round(title_top - (key_top - (key_high - key_low)) + 2 * MARGIN_MM, 2)
    shift = height - MARGIN_MM - title_top
    items = (
        *moved_items(title, MARGIN_MM, shift),
        *moved_items(picture, dx, top - high + shift),
        *moved_items(key, MARGIN_MM, key_top - key_high + shift),
    )
    return Scene(
        width_mm=PAGE_MM,
        height_mm=height,
        title=f"Sheet {layout.number} of {len(plan.cutting.layouts)}",
        description=_description(plan, layout),
        items=items,
    )


def _sheet(paper: SheetPaper) -> list[Item]:
    layout = paper.layout
    ring = paper.rectangle((0.0, 0.0, layout.size.length_mm, layout.size.width_mm))
    return [
        Area(rings=(ring,), tone="waste"),
        Stroke(points=ring, layer="outline", closed=True),
    ]


def _blank(paper: SheetPaper, placement: Placement) -> list[Item]:
    ring = paper.rectangle(_blank_box(placement))
    return [
        Area(rings=(ring,), tone="wood"),
        Stroke(points=ring, layer="quiet", closed=True),
    ]


def _blank_texts(plan: Plan, paper: SheetPaper, placement: Placement) -> list[Item]:
    """Return label, name and blank size as far as they fit, and a grain arrow below them."""
    part = plan.parts.part(placement.label)
    system = plan.edition.system
    count = f" {placement.copy} of {part.count}" if part.count > 1 else ""
    length, width = (
        format_size(placement.length_mm, system),
        format_size(placement.width_mm, system),
    )
    full = (
        (placement.label, LABEL_MM, True),
        (f"{part.title}{count}", SMALLEST_TEXT_MM, False),
        (f"{length} × {width}", SMALLEST_TEXT_MM, False),
    )
    box = paper.box(_blank_box(placement))
    line = (f"{placement.label}  {part.title}{count}  {length} × {width}", SMALLEST_TEXT_MM, False)
    short = (f"{placement.label}  {length} × {width}", SMALLEST_TEXT_MM, False)
    last = (placement.label, SMALLEST_TEXT_MM, True)
    choices = (full, (full[0], full[2]), (line,), (short,), full[:1], (last,))
    items = _fitted(box, choices)
    if has_grain(part):
        items += _grain(box, items, is_upright=placement.turned)
    return items


def _offcut_text(plan: Plan, paper: SheetPaper, offcut: Offcut) -> list[Item]:
    system = plan.edition.system
    length, width = format_size(offcut.length_mm, system), format_size(offcut.width_mm, system)
    size = (f"{length} × {width}", SMALLEST_TEXT_MM, False)
    one_line = (f"offcut {length} × {width}", SMALLEST_TEXT_MM, False)
    two_lines = (("offcut", SMALLEST_TEXT_MM, False), size)
    box = paper.box(_offcut_box(offcut))
    return _fitted(box, ((one_line,), two_lines, (size,)), is_required=False)


def _fitted(
    box: Box, choices: Sequence[Sequence[tuple[str, float, bool]]], *, is_required: bool = True
) -> list[Item]:
    """Return the first choice of lines that fits a box, level or upright; else the last or none."""
    width, height = box[2] - box[0] - ROOM_MM, box[3] - box[1] - ROOM_MM
    for lines in choices:
        wide = max(text_width_mm(text, size, bold) for text, size, bold in lines)
        tall = sum(size for _, size, _ in lines) * LEADING
        if wide <= width and tall <= height:
            return _lines(box, lines, tall, is_upright=False)
        if height > width and wide <= height and tall <= width:
            return _lines(box, lines, tall, is_upright=True)
    if not is_required:
        return []
    lines = choices[-1]
    return _lines(box, lines, lines[0][1] * LEADING, is_upright=height > width)


def _lines(
    box: Box, lines: Sequence[tuple[str, float, bool]], tall: float, *, is_upright: bool
) -> list[Item]:
    x, y = (box[0] + box[2]) / 2, (box[1] + box[3]) / 2
    items: list[Item] = []
    offset = tall / 2
    for text, size, bold in lines:
        offset -= size * LEADING
        base = offset + 0.3 * size
        at = (x - base, y) if is_upright else (x, y + base)
        angle = 90.0 if is_upright else 0.0
        items.append(
            Words(at=at, text=text, size_mm=size, anchor="middle", angle_deg=angle, bold=bold)
        )
    return items


def _grain(box: Box, texts: Sequence[Item], *, is_upright: bool) -> list[Item]:
    """Return a double arrow along the blank's length where there is room beside the texts."""
    low = bounds_of(texts)
    half = 5.0
    x, y = (box[0] + box[2]) / 2, low[1] - 1.4
    ways: list[tuple[Vec2, Vec2]] = [((x - half, y), (x + half, y))]
    if is_upright:
        ways = [
            (
                (low[0] - 1.4, (box[1] + box[3]) / 2 - half),
                (low[0] - 1.4, (box[1] + box[3]) / 2 + half),
            )
        ]
    else:
        right, left = low[2] + 2.0, low[0] - 2.0
        middle = (box[1] + box[3]) / 2
        ways += [((right, middle), (right + 2 * half, middle))]
        ways += [((left - 2 * half, middle), (left, middle))]
    for start, end in ways:
        line = grown((start[0], start[1], end[0], end[1]), 0.8)
        if line[0] > box[0] and line[1] > box[1] and line[2] < box[2] and line[3] < box[3]:
            way = (0.0, 1.0) if is_upright else (1.0, 0.0)
            return [
                Stroke(points=(start, end), layer="grain"),
                Arrowhead(at=end, direction=way, layer="grain"),
                Arrowhead(at=start, direction=(-way[0], -way[1]), layer="grain"),
            ]
    return []


def _sizes(plan: Plan, paper: SheetPaper, cuts: Sequence[Item]) -> tuple[Item, ...]:
    """Return length and width of the sheet, outside the numbers of the cuts."""
    system = plan.edition.system
    size = paper.layout.size
    _, _, right, top = paper.box((0.0, 0.0, size.length_mm, size.width_mm))
    left_most, _, _, high_most = bounds_of(cuts)
    length = Dimension((0.0, top), (right, top), format_length(size.length_mm, system))
    width = Dimension((0.0, 0.0), (0.0, top), format_length(size.width_mm, system))
    above = stack_dimensions([length], "above", max(top, high_most), first_mm=OUTSIDE_MM / 2)
    left = stack_dimensions([width], "left", min(0.0, left_most), first_mm=OUTSIDE_MM / 2)
    return (*above.items, *left.items)


def _title(plan: Plan, layout: Layout) -> tuple[Item, ...]:
    right = PAGE_MM - 2 * MARGIN_MM
    sheets = len(plan.cutting.layouts)
    used = f"{round(layout.used * 100)} % becomes blanks"
    return (
        _text((0.0, 0.0), f"Sheet {layout.number} of {sheets}", "start", 5.0, bold=True),
        _text((right, 0.0), used, "end", TEXT_MM),
        _text((0.0, -6.4), f"{layout.stock.title}, {layout.size.name}", "start", TEXT_MM),
    )


def _key(plan: Plan, layout: Layout, told: Sequence[str]) -> tuple[Item, ...]:
    """Return what the shades mean, and how to read the numbers."""
    system = plan.edition.system
    unit = "inches" if system == "imperial" else "mm"
    items = draw_shades()
    lines = (
        f"Numbers in circles: order of the cuts in the whole plan. Blank sizes in {unit}.",
        f"Seen from above. Each cut takes a kerf of {format_length(layout.kerf_mm, system)}; "
        f"{_trim_cuts(layout)} {_trims(plan, layout)}.",
        *told,
    )
    items += [
        _text((0.0, -6.0 - 4.6 * i), line, "start", SMALLEST_TEXT_MM)
        for i, line in enumerate(lines)
    ]
    return tuple(items)


def _trim_cuts(layout: Layout) -> str:
    """Return which cuts take off the factory edges: ``trims, cuts 1 to 4, first:``."""
    orders = sorted(cut.order for cut in layout.cuts if cut.kind == "trim")
    if not orders:
        return "trims first:"
    is_row = len(orders) > 1 and orders[-1] - orders[0] == len(orders) - 1
    numbers = f"{orders[0]} to {orders[-1]}" if is_row else ", ".join(map(str, orders))
    return f"factory edges come off first, {'cuts' if len(orders) > 1 else 'cut'} {numbers}:"


def _trims(plan: Plan, layout: Layout) -> str:
    system = plan.edition.system
    if len({round(trim, 3) for trim in layout.trim_mm}) == 1:
        return f"{format_length(layout.trim_mm[0], system)} off every edge"
    names = ("left", "right", "bottom", "top")
    pairs = zip(names, layout.trim_mm, strict=True)
    return ", ".join(f"{name} {format_length(trim, system)}" for name, trim in pairs)


def _description(plan: Plan, layout: Layout) -> str:
    """Return the drawing in words, with its numbers."""
    system = plan.edition.system
    size = layout.size
    sentences = [
        f"Sheet {layout.number} of {len(plan.cutting.layouts)}, {layout.stock.title}, "
        f"{format_length(size.length_mm, system)} by {format_length(size.width_mm, system)}, "
        f"seen from above with its length from left to right."
    ]
    counts: dict[str, int] = {}
    sizes: dict[str, str] = {}
    for one in layout.placements:
        counts[one.label] = counts.get(one.label, 0) + 1
        sizes[one.label] = (
            f"{format_size(one.length_mm, system)} × {format_length(one.width_mm, system)}"
        )
    blanks = [
        f"{count} × {label} {plan.parts.part(label).title} {sizes[label]}"
        for label, count in counts.items()
    ]
    sentences.append(f"Blanks: {'; '.join(blanks)}.")
    if layout.offcuts:
        offcuts = [
            f"{format_size(one.length_mm, system)} × {format_length(one.width_mm, system)}"
            for one in layout.offcuts
        ]
        sentences.append(f"Offcuts: {'; '.join(offcuts)}.")
    if layout.cuts:
        orders = [cut.order for cut in layout.cuts]
        sentences.append(f"Cuts {min(orders)} to {max(orders)}, trims included.")
    return " ".join(sentences)


def _blank_box(placement: Placement) -> Box:
    x, y = placement.x_mm, placement.y_mm
    return (x, y, x + placement.along_x_mm, y + placement.along_y_mm)


def _offcut_box(offcut: Offcut) -> Box:
    x, y = offcut.x_mm, offcut.y_mm
    return (x, y, x + offcut.length_mm, y + offcut.width_mm)


def _text(at: Vec2, text: str, anchor: Anchor, size_mm: float, *, bold: bool = False) -> Words:
    return Words(at=at, text=text, size_mm=size_mm, anchor=anchor, bold=bold)
