"""Layouts: the search's cut trees as sheets and boards, with numbered cuts and offcuts."""

from collections.abc import Sequence
from dataclasses import dataclass

from generator.cutting.order import Run, Task, find_order, find_tasks
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
    """A sheet or board to be sawn: its cut tree with the blanks the leaves number.

    Attributes:
        trim_mm: Taken off every edge of a sheet, or off both ends of a board.
    """

    number: int
    stock: Stock
    size: SheetSize
    trim_mm: float
    tree: Node
    blanks: tuple[Blank, ...]

    @property
    def edge_trim_mm(self) -> float:
        """What is taken off the long edges."""
        return self.trim_mm if self.stock.board is None else 0.0

    @property
    def trims(self) -> int:
        """How many edges are trimmed."""
        return 4 if self.stock.board is None else 2

    @property
    def word(self) -> str:
        """What it is called: ``sheet 1`` or ``board 1``."""
        return f"{'sheet' if self.stock.board is None else 'board'} {self.number}"


@dataclass(frozen=True, slots=True)
class NumberedCuts:
    """The cuts of every sheet in the order they are made, and all settings.

    Attributes:
        bound: No order of these cuts can do with fewer settings.
    """

    cuts: tuple[tuple[Cut, ...], ...]
    settings: tuple[Setting, ...]
    bound: int


def number_cuts(
    sheets: Sequence[NestedSheet], kerf: int, cuts_before: int = 0, settings_before: int = 0
) -> NumberedCuts:
    """Return the cuts of every sheet in the order they are made, and all settings.

    All sheets are trimmed first; then every setting is used on all sheets before the next.

    Args:
        sheets: The sheets, or the boards.
        kerf: Of the saw, in ticks.
        cuts_before: Number of the last cut made before.
        settings_before: Number of the last setting used before.
    """
    kerf_mm = millimetres(kerf)
    cuts: list[list[Cut]] = [[] for _ in sheets]
    settings: list[Setting] = []
    order = cuts_before
    for trim_mm in dict.fromkeys(sheet.trim_mm for sheet in sheets if sheet.trim_mm > 0):
        chosen = [index for index, sheet in enumerate(sheets) if sheet.trim_mm == trim_mm]
        setting = settings_before + len(settings) + 1
        for index in chosen:
            cuts[index] += _trim_cuts(sheets[index], order, setting, kerf_mm)
            order += sheets[index].trims
        settings.append(_trim_setting(setting, trim_mm, [sheets[index] for index in chosen]))
    tasks = find_tasks([sheet.tree for sheet in sheets], kerf)
    found = find_order(tasks)
    bound = len(settings) + found.bound
    names = _name_strips(found.runs, tasks, sheets)
    for run in found.runs:
        number = settings_before + len(settings) + 1
        settings.append(_run_setting(number, run, tasks, sheets))
        for index in run.tasks:
            order += 1
            task = tasks[index]
            sheet = sheets[task.sheet]
            words = _words(index, task, sheet, names)
            cuts[task.sheet].append(_make_cut(order, number, task, sheet, kerf_mm, words))
    return NumberedCuts(tuple(tuple(made) for made in cuts), tuple(settings), bound)


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
            placements.append(_place(leaf, blank, copies[blank.label], sheet))
    area = sum(placement.length_mm * placement.width_mm for placement in placements)
    return Layout(
        number=sheet.number,
        stock=sheet.stock,
        size=sheet.size,
        trim_mm=(sheet.trim_mm, sheet.trim_mm, sheet.edge_trim_mm, sheet.edge_trim_mm),
        kerf_mm=kerf_mm,
        placements=tuple(placements),
        cuts=cuts,
        offcuts=_find_offcuts(sheet, kerf_mm, system),
        used=area / (sheet.size.length_mm * sheet.size.width_mm),
    )


def _trim_cuts(sheet: NestedSheet, order: int, setting: int, kerf_mm: float) -> list[Cut]:
    """Return the trims: the edges everything is measured from, then the others; ends of a board."""
    trim, half = sheet.trim_mm, kerf_mm / 2
    length, width = sheet.size.length_mm, sheet.size.width_mm
    low, right, top = trim - half, length - trim + half, width - trim + half
    ends: list[tuple[Vec2, Vec2]] = [
        ((low, 0.0), (low, width)),
        ((right, 0.0), (right, width)),
    ]
    edges: list[tuple[Vec2, Vec2]] = [
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
            of=sheet.word,
            frees="factory edge" if sheet.stock.board is None else "rough end",
        )
        for index, (start, end) in enumerate(edges if sheet.stock.board is None else ends, start=1)
    ]


def _trim_setting(order: int, trim_mm: float, sheets: Sequence[NestedSheet]) -> Setting:
    return Setting(
        order=order,
        kind="trim",
        value_mm=trim_mm,
        tilt_deg=0.0,
        mitre_deg=0.0,
        pieces=(),
        where=", ".join(sheet.word for sheet in sheets),
        cuts=sum(sheet.trims for sheet in sheets),
    )


def _run_setting(
    order: int, run: Run, tasks: Sequence[Task], sheets: Sequence[NestedSheet]
) -> Setting:
    done = [tasks[index] for index in run.tasks]
    used = sorted({task.sheet for task in done})
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
        where=", ".join(sheets[index].word for index in used),
        cuts=len(done),
    )


def _name_strips(
    runs: Sequence[Run], tasks: Sequence[Task], sheets: Sequence[NestedSheet]
) -> dict[int, str]:
    """Name what comes off and is cut again, in that order: strip 1.1, then strip 1.2.

    What comes off a board is a piece: it may be a length of it or a strip.
    """
    names: dict[int, str] = {}
    counts: dict[int, int] = {}
    for index in (index for run in runs for index in run.tasks):
        task = tasks[index]
        if isinstance(task.frees, Split):
            sheet = sheets[task.sheet]
            counts[task.sheet] = counts.get(task.sheet, 0) + 1
            word = "strip" if sheet.stock.board is None else "piece"
            names[index] = f"{word} {sheet.number}.{counts[task.sheet]}"
    return names


def _words(index: int, task: Task, sheet: NestedSheet, names: dict[int, str]) -> tuple[str, str]:
    """Return what a cut goes through and what it frees."""
    of = names.get(task.of, sheet.word)
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
    piece = task.piece
    left = sheet.trim_mm + millimetres(piece.x)
    bottom = sheet.edge_trim_mm + millimetres(piece.y)
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


def _place(leaf: Leaf, blank: Blank, copy: int, sheet: NestedSheet) -> Placement:
    x, y = _corner(leaf, sheet)
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
    if sheet.stock.board is not None:
        narrow = min(narrow, sheet.stock.board.width_mm)
    kept = []
    for leaf in leaves(sheet.tree):
        length, width = _tidy(
            (millimetres(leaf.box.along_x) - kerf_mm, millimetres(leaf.box.along_y) - kerf_mm)
        )
        if leaf.blank is None and min(length, width) >= narrow and max(length, width) >= long:
            x, y = _corner(leaf, sheet)
            kept.append(Offcut(x_mm=x, y_mm=y, length_mm=length, width_mm=width))
    return tuple(kept)


def _corner(leaf: Leaf, sheet: NestedSheet) -> Vec2:
    x, y = millimetres(leaf.box.x), millimetres(leaf.box.y)
    return _tidy((sheet.trim_mm + x, sheet.edge_trim_mm + y))


def _tidy(point: Vec2) -> Vec2:
    """Return a point without the noise of adding: a tick is 10 nanometres."""
    return (round(point[0], 6), round(point[1], 6))
