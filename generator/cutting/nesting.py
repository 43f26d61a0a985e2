"""Layouts of a stock: by many rules, by the search where these need too many sheets; aims in order.

Aims in their order: fewest sheets, least area bought, no cut that only shaves, fewest settings,
the largest offcut, first cuts along the sheet, fewest cuts.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import product

from generator.cutting.budget import Budget
from generator.cutting.fill import Divide, Pick, Rule, StripChoice, fill_sheet
from generator.cutting.order import find_tasks, order_tasks
from generator.cutting.search import Sheets, Task, find_sheets
from generator.cutting.trees import (
    Box,
    Leaf,
    Node,
    Pose,
    Size,
    Split,
    keep_blanks,
    lay_in_order,
    leaves,
    ticks,
)

PLACED = 20_000
"""Blanks placed in all rounds together, about: a second's work, so that long lists get fewer."""

SAME_OFFCUT = ticks(100) * ticks(300)
"""Offcuts that differ by less than one just worth keeping are as good as each other."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """A sheet of one size with its cut tree, the copies of every blank on it, and its rule."""

    size: Size
    tree: Node
    taken: tuple[int, ...]
    rule: Rule


Nest = tuple[Sheet, ...]


@dataclass(frozen=True, slots=True)
class _Job:
    """What is to be laid out: blanks, copies, sizes, the bound, and the least that may be left."""

    poses: tuple[tuple[Pose, ...], ...]
    counts: tuple[int, ...]
    sizes: tuple[Size, ...]
    bound: int
    least: int


def find_nest(
    poses: Sequence[tuple[Pose, ...]],
    counts: Sequence[int],
    sizes: Sequence[Size],
    bound: int,
    kerf: int,
    start: Callable[[], Budget],
) -> Nest:
    """Return the best layouts found for all copies of all blanks.

    Args:
        poses: For every blank the ways it may lie; each has one that some size holds.
        counts: Copies of every blank.
        sizes: At least one.
        bound: Fewer sheets than this cannot be enough, so nobody needs to look for them.
        kerf: In ticks.
        start: Gives the budget of a search for fewer sheets.
    """
    job = _Job(tuple(poses), tuple(counts), tuple(sizes), bound, 0)
    best = _find_best(job, kerf, start())
    if any(_shavings(sheet.tree, kerf) for sheet in best):
        careful = _find_best(replace(job, least=kerf // 2 + 1), kerf, start())
        best = min(best, careful, key=lambda nest: (_amount(nest), _bother(nest, kerf)))
    return best


def _find_best(job: _Job, kerf: int, budget: Budget) -> Nest:
    rounds = min(budget.corrections, 1 + PLACED // (len(RULES) * max(1, sum(job.counts))))
    if job.least:  # a second look, which only has to do without shaving cuts
        rounds = (rounds + 1) // 2
    found: list[Nest] = []
    for size in _largest(job.sizes):
        for rule in RULES:
            found += _corrected(job, size, rule, rounds)
    if min(map(len, found)) > job.bound:
        found += _search(job, budget)
    fewest = min(map(len, found))
    known: _Known = {}
    small = dict.fromkeys(_shrink(nest, job, known) for nest in found if len(nest) == fewest)
    best = min(_amount(nest) for nest in small)
    equals = dict.fromkeys(_tidy(nest) for nest in small if _amount(nest) == best)
    return min(equals, key=lambda nest: _bother(nest, kerf))


def _search(job: _Job, budget: Budget) -> Iterator[Nest]:
    """Yield what the search finds, as it is and with every sheet laid by a rule that can."""
    task = Task(job.poses, job.counts, tuple(_largest(job.sizes)), job.bound, job.least)
    for sheets in find_sheets(task, budget):
        nest = _take_copies(sheets, job)
        yield nest
        yield tuple(_lay_by_rule(sheet, job) for sheet in nest)


def _take_copies(sheets: Sheets, job: _Job) -> Nest:
    """Return sheets that hold every copy once; what they hold beyond that is waste."""
    left = list(job.counts)
    nest: list[Sheet] = []
    for fill in sheets:
        before = tuple(left)
        tree = keep_blanks(fill.tree(), left)
        taken = tuple(have - now for have, now in zip(before, left, strict=True))
        if any(taken):
            nest.append(Sheet(fill.pieces.size, tree, taken, RULES[0]))
    return tuple(nest)


def _lay_by_rule(sheet: Sheet, job: _Job) -> Sheet:
    """Return the sheet as a rule fills it, which needs fewer settings than chance does."""
    tree = _fit_all(sheet.taken, sheet.size, job, RULES)
    return sheet if tree is None else replace(sheet, tree=tree)


STRIP_CHOICES: tuple[StripChoice, ...] = ("full", "tall", "area")
PICKS: tuple[Pick, ...] = ("area", "tall", "long", "fit")
DIVISIONS: tuple[Divide, ...] = ("rip", "large")


def _rules() -> Iterator[Rule]:
    for crosscut_first in (False, True):
        for choice, ends in product(STRIP_CHOICES, (True, False)):
            yield Rule(choice, ends, "area", "large", True, crosscut_first)
        for pick, divide in product(PICKS, DIVISIONS):
            yield Rule("", True, pick, divide, True, crosscut_first)
        yield Rule("", True, "area", "even", False, crosscut_first)


RULES = tuple(_rules())


def _largest(sizes: Sequence[Size]) -> list[Size]:
    """Return the sizes that no other size covers, in their order."""
    kept = []
    for size in sizes:
        covered = any(
            other.along_x >= size.along_x
            and other.along_y >= size.along_y
            and (other.area > size.area or other.index < size.index)
            for other in sizes
        )
        if not covered:
            kept.append(size)
    return kept


def _corrected(job: _Job, size: Size, rule: Rule, rounds: int) -> Iterator[Nest]:
    """Yield layouts by one rule, then again with what fared badly taken first."""
    weights = [1.0] * len(job.poses)
    for turn in range(rounds):
        nest = _pack(job, size, weights, rule)
        yield nest
        if rule.strips or len(nest) == 1 or (turn and len(nest) <= job.bound):
            return
        for sheet in nest:
            unused = 1 - _used(sheet)
            for blank in {leaf.blank for leaf in leaves(sheet.tree) if leaf.blank is not None}:
                weights[blank] *= 1 + unused


def _used(sheet: Sheet) -> float:
    placed = (leaf.box for leaf in leaves(sheet.tree) if leaf.blank is not None)
    return sum(box.along_x * box.along_y for box in placed) / sheet.size.area


def _pack(job: _Job, size: Size, weights: Sequence[float], rule: Rule) -> Nest:
    """Fill sheet after sheet of one size.

    A sheet is repeated as often as there are copies for it: equal sheets are sawn together.
    """
    left = job.counts
    sheets: list[Sheet] = []
    while any(left):
        chosen = size if _any_fits(job, left, size) else _other_size(job, left)
        tree, after = fill_sheet(chosen.box, job.poses, left, weights, rule, job.least)
        if after == left:
            tree, after = fill_sheet(chosen.box, job.poses, left, weights, rule)
        taken = tuple(have - now for have, now in zip(left, after, strict=True))
        times = min(have // need for have, need in zip(left, taken, strict=True) if need)
        sheets += [Sheet(chosen, tree, taken, rule)] * times
        left = tuple(have - times * need for have, need in zip(left, taken, strict=True))
    return tuple(sheets)


def _any_fits(job: _Job, left: Sequence[int], size: Size) -> bool:
    copies = zip(job.poses, left, strict=True)
    return any(size.holds(pose) for ways, count in copies if count for pose in ways)


def _other_size(job: _Job, left: Sequence[int]) -> Size:
    fitting = (size for size in job.sizes if _any_fits(job, left, size))
    return max(fitting, key=lambda size: size.area)


_Known = dict[tuple[tuple[int, ...], int], Node | None]
"""Copies of every blank and a size: a tree by one of the rules, or None if all of them failed."""


def _shrink(nest: Nest, job: _Job, known: _Known) -> Nest:
    """Return the nest with a smaller sheet wherever one holds all that is on a sheet."""
    return tuple(_shrink_sheet(sheet, job, known) for sheet in nest)


def _shrink_sheet(sheet: Sheet, job: _Job, known: _Known) -> Sheet:
    needed = _used(sheet) * sheet.size.area
    smaller = [size for size in job.sizes if needed <= size.area < sheet.size.area]
    for size in sorted(smaller, key=lambda size: size.area):
        tree = _fit_all(sheet.taken, size, job, (sheet.rule,))
        if tree is None:
            if (sheet.taken, size.index) not in known:
                known[sheet.taken, size.index] = _fit_all(sheet.taken, size, job, RULES)
            tree = known[sheet.taken, size.index]
        if tree is not None:
            return Sheet(size, tree, sheet.taken, sheet.rule)
    return sheet


def _fit_all(taken: Sequence[int], size: Size, job: _Job, rules: Sequence[Rule]) -> Node | None:
    """Return a tree with all of these copies on one sheet, if a rule finds one."""
    copies = zip(job.poses, taken, strict=True)
    if not all(any(size.holds(pose) for pose in ways) for ways, count in copies if count):
        return None
    weights = [1.0] * len(job.poses)
    for rule in rules:
        tree, left = fill_sheet(size.box, job.poses, taken, weights, rule, job.least)
        if not any(left):
            return tree
    return None


def _amount(nest: Nest) -> tuple[int, int]:
    """Return how many sheets are bought, and their area."""
    return (len(nest), sum(sheet.size.area for sheet in nest))


def _tidy(nest: Nest) -> Nest:
    """Return the layouts with equal strips side by side, the fullest sheet first."""
    laid = [replace(sheet, tree=lay_in_order(sheet.tree), rule=RULES[0]) for sheet in nest]
    return tuple(sorted(laid, key=lambda sheet: (-sheet.size.area, -_used(sheet))))


def _bother(nest: Nest, kerf: int) -> tuple[int, int, int, int, int]:
    """Return shaving cuts, settings, the largest offcut (negative), awkward sheets, and cuts.

    A sheet is awkward if its first cuts do not run along it: a straightedge for a hand-held saw
    is laid along the sheet, and the strips can be lifted (common practice, no source).
    """
    trees = [sheet.tree for sheet in nest]
    tasks = find_tasks(trees, kerf)
    waste = [leaf.box for tree in trees for leaf in leaves(tree) if leaf.blank is None]
    return (
        sum(_shavings(tree, kerf) for tree in trees),
        len(order_tasks(tasks)),
        -(max((_true_area(box, kerf) for box in waste), default=0) // SAME_OFFCUT),
        sum(isinstance(tree, Split) and tree.axis == "x" for tree in trees),
        len(tasks),
    )


def _true_area(box: Box, kerf: int) -> int:
    return max(0, box.along_x - kerf) * max(0, box.along_y - kerf)


def _shavings(node: Node, kerf: int) -> int:
    """Count the cuts that take off half a kerf or less: most of the blade runs in the air."""
    if isinstance(node, Leaf):
        return 0
    last = node.children[-1]
    waste = isinstance(last, Leaf) and last.blank is None
    own = waste and 2 * last.box.extent(node.axis) <= kerf
    return own + sum(_shavings(child, kerf) for child in node.children if isinstance(child, Split))
