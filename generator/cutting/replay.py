"""The layouts of a plan with blanks of slightly other sizes: the same cuts, set a little otherwise.

A reader whose panel is not as thick as the plan says gets parts that are a little longer or
shorter. Nothing is laid out anew for them: the drawings of the sheets are printed already. So every
sheet keeps its cut tree, every fence moves with the piece it makes, and where that cannot be, the
answer is no layout, with the reason.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from generator.cutting.layouts import NestedSheet
from generator.cutting.trees import NO_CUT, Axis, Box, Leaf, Node, Split, is_waste, ticks
from generator.model.cutting import Blank
from generator.model.edition import Stock
from generator.model.needs import BoardNeed, StockNeed
from generator.problems import Problem

LEAST_ALLOWANCE_MM = 4.0
"""Wood left at a side for its bevel, at least: a blade and a pencil line. Common practice, no
source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sawn:
    """What a plan's sheets and boards are sawn into, as cut trees.

    Attributes:
        kerf: Of the saw, in ticks.
        problems: What there is too little of.
    """

    sheets: tuple[NestedSheet, ...]
    boards: tuple[NestedSheet, ...]
    needs: tuple[StockNeed, ...]
    board_needs: tuple[BoardNeed, ...]
    kerf: int
    problems: tuple[Problem, ...] = ()


def keep_blank(fresh: Blank, planned: Blank) -> Blank | None:
    """Return the blank of a part whose size moved; one with bevels stays as large as planned.

    Its allowance takes up the difference, so that the marks it is cut to stay. None where that
    leaves too little for the bevel.

    Args:
        fresh: What the part would get by itself.
        planned: The blank of the same part in the plan.
    """
    sizes = (fresh.length_mm, fresh.width_mm)
    allowances = list(planned.allowance_mm)
    kept: list[float] = []
    for axis, (new, old) in enumerate(
        zip(sizes, (planned.length_mm, planned.width_mm), strict=True)
    ):
        sides = (2 * axis, 2 * axis + 1)
        if not any(planned.allowance_mm[side] for side in sides):
            kept.append(new)
            continue
        finished = new - sum(fresh.allowance_mm[side] for side in sides)
        spare = old - sum(planned.allowance_mm[side] for side in sides) - finished
        widest = max(sides, key=lambda side: planned.allowance_mm[side])
        allowances[widest] += spare
        if allowances[widest] < min(LEAST_ALLOWANCE_MM, planned.allowance_mm[widest]):
            return None
        kept.append(old)
    left, right, bottom, top = allowances
    return replace(
        fresh, length_mm=kept[0], width_mm=kept[1], allowance_mm=(left, right, bottom, top)
    )


def resize_sheets(
    sheets: Sequence[NestedSheet],
    blanks: Mapping[str, Blank],
    stocks: Mapping[str, Stock],
    kerf: int,
) -> tuple[NestedSheet, ...] | None:
    """Return the sheets with other sizes of blanks; None where a sheet is too small for them.

    Args:
        sheets: As they are planned.
        blanks: The sizes to saw, by label.
        stocks: The stocks to saw them from, by name.
        kerf: Of the saw, in ticks.
    """
    resized = []
    for sheet in sheets:
        chosen = tuple(blanks[blank.label] for blank in sheet.blanks)
        tree = _fit(sheet.tree, sheet.tree.box, _Sizes(sheet.blanks, chosen, kerf))
        if tree is None:
            return None
        stock = stocks[sheet.stock.name]
        resized.append(replace(sheet, tree=tree, blanks=chosen, stock=stock))
    return tuple(resized)


@dataclass(frozen=True, slots=True)
class _Sizes:
    """The blanks of a sheet as planned and as they are to be, and the kerf."""

    planned: Sequence[Blank]
    wanted: Sequence[Blank]
    kerf: int

    def growth(self, node: Node, axis: Axis) -> int:
        """Return how much more of a direction a node needs than planned."""
        return self._need(node, axis, self.wanted) - self._need(node, axis, self.planned)

    def extents(self, node: Split, kept: Sequence[Node], whole: int) -> list[int]:
        """Return how much of a split each child gets; without waste of its own, one gives way.

        That is the last of those that hold waste themselves.
        """
        found = [child.box.extent(node.axis) + self.growth(child, node.axis) for child in kept]
        loose = [place for place, child in enumerate(kept) if self._has_slack(child, node.axis)]
        if loose and not is_waste(node.children[-1]):
            found[loose[-1]] += whole - sum(found)
        return found

    def _has_slack(self, node: Node, axis: Axis) -> bool:
        """Whether a node holds waste of its own along a direction, and may become another size."""
        return node.box.extent(axis) - self._need(node, axis, self.planned) > NO_CUT

    def _need(self, node: Node, axis: Axis, blanks: Sequence[Blank]) -> int:
        if isinstance(node, Leaf):
            if node.blank is None:
                return 0
            blank = blanks[node.blank]
            along = blank.length_mm if (axis == "x") != node.turned else blank.width_mm
            return ticks(along) + self.kerf
        needs = [self._need(child, axis, blanks) for child in node.children]
        return sum(needs) if node.axis == axis else max(needs)


def _fit(node: Node, box: Box, sizes: _Sizes) -> Node | None:
    """Return a node as it lies in a box; None where the box is too small for what it holds."""
    if isinstance(node, Leaf):
        return Leaf(box, None) if node.blank is None else _fit_blank(node, box, sizes)
    placed: list[Node] = []
    start, whole = 0, box.extent(node.axis)
    kept = [child for child in node.children if not is_waste(child)]
    for child, extent in zip(kept, sizes.extents(node, kept, whole), strict=True):
        if start + extent > whole + NO_CUT:
            return None
        fitted = _fit(child, box.slice(node.axis, start, extent), sizes)
        if fitted is None:
            return None
        placed.append(fitted)
        start += extent
    if whole - start > NO_CUT:
        placed.append(Leaf(box.slice(node.axis, start, whole - start), None))
    return placed[0] if len(placed) == 1 else Split(box, node.axis, tuple(placed))


def _fit_blank(leaf: Leaf, box: Box, sizes: _Sizes) -> Node | None:
    """Return a blank in a box; where the box is larger, with what is cut off beside it."""
    axes: tuple[Axis, Axis] = ("x", "y")
    for axis in axes:
        wanted = leaf.box.extent(axis) + sizes.growth(leaf, axis)
        spare = box.extent(axis) - wanted
        if spare < -NO_CUT:
            return None
        if spare > NO_CUT:
            kept = _fit_blank(leaf, box.slice(axis, 0, wanted), sizes)
            waste = Leaf(box.slice(axis, wanted, spare), None)
            return None if kept is None else Split(box, axis, (kept, waste))
    return Leaf(box, leaf.blank, leaf.turned)
