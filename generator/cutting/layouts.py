"""Layouts: the search's cut trees as sheets with placements, numbered cuts and offcuts."""

from collections.abc import Sequence
from dataclasses import dataclass

from generator.cutting.order import Run, Task, find_tasks, order_tasks
from generator.cutting.trees import Leaf, Node, Split, leaves, millimetres
from generator.geometry.vectors import Vec2
from generator.model.catalogue import SheetSize
from generator.model.cutting import Blank, Cut, Layout, Offcut, Placement, Setting
from generator.model.edition import Stock
from generator.units import MM_PER_INCH, System

KEEP_MM: dict[System, tuple[float, float]] = {
    "metric": (100.0, 300.0),
    "imperial": (float(4 * MM_PER_INCH), float(12 * MM_PER_INCH)),
}
"""An offcut worth keeping has at least this width and length: 100 by 300 mm, or 4 by 12 in.
Common practice, no source."""


@dataclass(frozen=True, slots=True)
class NestedSheet:
    """A sheet to be sawn: its cut tree with the blanks the leaves number."""

    number: int
    stock: Stock
    size: SheetSize
    trim_mm: float
    tree: Node
    blanks: tuple[Blank, ...]


def number_cuts(
    sheets: Sequence[NestedSheet], kerf: int
) -> tuple[tuple[tuple[Cut, ...], ...], tuple[Setting, ...]]:
    """Return the cuts of every sheet in the order they are made, and all settings.

    All sheets are trimmed first; then every setting is used on all sheets before the next.
    """
    kerf_mm = millimetres(kerf)
    cuts: list[list[Cut]] = [[] for _ in sheets]
    settings: list[Setting] = []
    order = 0
    for trim_mm in dict.fromkeys(sheet.trim_mm for sheet in sheets if sheet.trim_mm > 0):
        chosen = [index for index, sheet in enumerate(sheets) if sheet.trim_mm == trim_mm]
        setting = len(settings) + 1
        for index in chosen:
            cuts[index] += _trim_cuts(sheets[index], order, setting, kerf_mm)
            order += 4
        numbers = [sheets[index].number for index in chosen]
        settings.append(_trim_setting(setting, trim_mm, numbers))
    tasks = find_tasks([sheet.tree for sheet in sheets], kerf)
    runs = order_tasks(tasks)
    names = _name_strips(runs, tasks, sheets)
    for run in runs:
        settings.append(_run_setting(len(settings) + 1, run, tasks, sheets))
        for index in run.tasks:
            order += 1
            task = tasks[index]
            sheet = sheets[task.sheet]
            words = _words(index, task, sheet, names)
            cuts[task.sheet].append(_make_cut(order, len(settings), task, sheet, kerf_mm, words))
    return tuple(tuple(made) for made in cuts), tuple(settings)


def make_layout(
    sheet: NestedSheet,
    cuts: tuple[Cut, ...],
    kerf_mm: float,
    copies: dict[str, int],
    system: System,
) -> Layout:
    """Return a sheet as the plan tells of it.

    Args:
        sheet: The sheet.
        cuts: Its cuts, numbered.
        kerf_mm: Of the saw.
        copies: How many copies of each blank earlier sheets hold; counted on.
        system: Decides which offcuts are kept.
    """
    placements = []
    for leaf in leaves(sheet.tree):
        if leaf.blank is not None:
            blank = sheet.blanks[leaf.blank]
            copies[blank.label] = copies.get(blank.label, 0) + 1
            placements.append(_place(leaf, blank, copies[blank.label], sheet.trim_mm))
    area = sum(placement.length_mm * placement.width_mm for placement in placements)
    return Layout(
        number=sheet.number,
        stock=sheet.stock,
        size=sheet.size,
        trim_mm=(sheet.trim_mm,) * 4,
        kerf_mm=kerf_mm,
        placements=tuple(placements),
        cuts=cuts,
        offcuts=_find_offcuts(sheet, kerf_mm, system),
        used=area / (sheet.size.length_mm * sheet.size.width_mm),
    )


def _trim_cuts(sheet: NestedSheet, order: int, setting: int, kerf_mm: float) -> list[Cut]:
    """Return the four trims: the two edges everything is measured from, then the other two."""
    trim, half = sheet.trim_mm, kerf_mm / 2
    length, width = sheet.size.length_mm, sheet.size.width_mm
    low, right, top = trim - half, length - trim + half, width - trim + half
    lines: list[tuple[Vec2, Vec2]] = [
        ((0.0, low), (length, low)),
        ((low, trim), (low, width)),
        ((trim, top), (length, top)),
        ((right, trim), (right, width - trim)),
    ]
    return [
        Cut(
            order=order + index,
            setting=setting,
            kind="trim",
            setting_mm=trim,
            start=_tidy(start),
            end=_tidy(end),
            of=f"sheet {sheet.number}",
            frees="factory edge",
        )
        for index, (start, end) in enumerate(lines, start=1)
    ]


def _trim_setting(order: int, trim_mm: float, numbers: Sequence[int]) -> Setting:
    return Setting(
        order=order,
        kind="trim",
        value_mm=trim_mm,
        tilt_deg=0.0,
        mitre_deg=0.0,
        pieces=(),
        where=", ".join(f"sheet {number}" for number in numbers),
        cuts=4 * len(numbers),
    )


def _run_setting(
    order: int, run: Run, tasks: Sequence[Task], sheets: Sequence[NestedSheet]
) -> Setting:
    done = [tasks[index] for index in run.tasks]
    numbers = sorted({sheets[task.sheet].number for task in done})
    labels = {
        sheets[task.sheet].blanks[leaf.blank].label
        for task in done
        for leaf in leaves(task.frees)
        if leaf.blank is not None
    }
    known = [blank.label for sheet in sheets for blank in sheet.blanks]
    return Setting(
        order=order,
        kind=run.kind,
        value_mm=run.value_mm,
        tilt_deg=0.0,
        mitre_deg=0.0,
        pieces=tuple(label for label in dict.fromkeys(known) if label in labels),
        where=", ".join(f"sheet {number}" for number in numbers),
        cuts=len(done),
    )


def _name_strips(
    runs: Sequence[Run], tasks: Sequence[Task], sheets: Sequence[NestedSheet]
) -> dict[int, str]:
    """Name what comes off and is cut again, in that order: strip 1.1, then strip 1.2."""
    names: dict[int, str] = {}
    counts: dict[int, int] = {}
    for index in (index for run in runs for index in run.tasks):
        task = tasks[index]
        if isinstance(task.frees, Split):
            number = sheets[task.sheet].number
            counts[number] = counts.get(number, 0) + 1
            names[index] = f"strip {number}.{counts[number]}"
    return names


def _words(index: int, task: Task, sheet: NestedSheet, names: dict[int, str]) -> tuple[str, str]:
    """Return what a cut goes through and what it frees."""
    of = names.get(task.of, f"sheet {sheet.number}")
    frees = names[index] if index in names else _leaf_word(task.frees, sheet)
    if task.leaves is not None and task.leaves.blank is not None:
        frees += f", leaving {_leaf_word(task.leaves, sheet)}"
    return of, frees


def _leaf_word(node: Node, sheet: NestedSheet) -> str:
    if isinstance(node, Leaf) and node.blank is not None:
        return sheet.blanks[node.blank].label
    return "waste"


def _make_cut(
    order: int,
    setting: int,
    task: Task,
    sheet: NestedSheet,
    kerf_mm: float,
    words: tuple[str, str],
) -> Cut:
    piece, trim = task.piece, sheet.trim_mm
    left, bottom = trim + millimetres(piece.x), trim + millimetres(piece.y)
    right = left + millimetres(piece.along_x) - kerf_mm
    top = bottom + millimetres(piece.along_y) - kerf_mm
    far = millimetres(task.extent) - kerf_mm / 2
    if task.axis == "y":
        start, end = (left, bottom + far), (right, bottom + far)
    else:
        start, end = (left + far, bottom), (left + far, top)
    return Cut(
        order=order,
        setting=setting,
        kind=task.kind,
        setting_mm=task.value_mm,
        start=_tidy(start),
        end=_tidy(end),
        of=words[0],
        frees=words[1],
    )


def _place(leaf: Leaf, blank: Blank, copy: int, trim_mm: float) -> Placement:
    x, y = _corner(leaf, trim_mm)
    return Placement(
        label=blank.label,
        copy=copy,
        x_mm=x,
        y_mm=y,
        length_mm=blank.length_mm,
        width_mm=blank.width_mm,
        turned=leaf.turned,
    )


def _find_offcuts(sheet: NestedSheet, kerf_mm: float, system: System) -> tuple[Offcut, ...]:
    narrow, long = KEEP_MM[system]
    kept = []
    for leaf in leaves(sheet.tree):
        length, width = _tidy(
            (millimetres(leaf.box.along_x) - kerf_mm, millimetres(leaf.box.along_y) - kerf_mm)
        )
        if leaf.blank is None and min(length, width) >= narrow and max(length, width) >= long:
            x, y = _corner(leaf, sheet.trim_mm)
            kept.append(Offcut(x_mm=x, y_mm=y, length_mm=length, width_mm=width))
    return tuple(kept)


def _corner(leaf: Leaf, trim_mm: float) -> Vec2:
    return _tidy((trim_mm + millimetres(leaf.box.x), trim_mm + millimetres(leaf.box.y)))


def _tidy(point: Vec2) -> Vec2:
    """Return a point without the noise of adding: a tick is 10 nanometres."""
    return (round(point[0], 6), round(point[1], 6))
