"""Layouts of a stock: by many rules, by the search where these need too many sheets; aims in order.

Aims in their order: least cost where prices are known and fewest sheets where not, least area
bought, no cut that only shaves, none through a piece too small to hold, fewest settings, the
largest offcut, first cuts along the sheet, fewest cuts.
"""

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace

import numpy as np

from generator.cutting.budget import Budget
from generator.cutting.by_rules import (
    RULES,
    Job,
    Known,
    Nest,
    Sheet,
    cheapen,
    find_largest,
    lay_by_rule,
    lay_corrected,
    lay_on_sizes,
    shrink,
    used_part,
)
from generator.cutting.cheapest import Laid, Layout, find_cheaper
from generator.cutting.cheapest import Task as CostTask
from generator.cutting.order import Task, find_tasks, order_tasks
from generator.cutting.programs import Values
from generator.cutting.search import Sheets, find_sheets
from generator.cutting.search import Task as SheetTask
from generator.cutting.tidying import WIDE, lay_in_order
from generator.cutting.trees import (
    Box,
    Leaf,
    Node,
    Pose,
    Size,
    Split,
    keep_blanks,
    leaves,
    ticks,
)

PLACED = 20_000
"""Blanks placed in all rounds together, about: a second's work, so that long lists get fewer."""

FEW_RULES = 4
"""Of so many rules one is tried where there is no time for all."""

LAID_BY_RULE = 1_000
"""Blanks of the search's layouts that are laid by rules as well, about, for fewer settings."""

MOST_CHEAPENED = 24
"""Layouts by rule, the best ones, of which every sheet is laid on cheaper sizes where it can be."""

LONG = ticks(153)
"""A piece this long is held with a clamp on both sides of the saw: 150 mm or 6 in, and a thin kerf.
Common practice, no source."""

SAME_OFFCUT = ticks(100) * ticks(300)
"""Offcuts that differ by less than one just worth keeping are as good as each other."""


def find_nest(
    poses: Sequence[tuple[Pose, ...]],
    counts: Sequence[int],
    sizes: Sequence[Size],
    bound: int,
    kerf: int,
    start: Callable[[], Budget],
    shares: Values | None = None,
    *,
    hurried: bool = False,
) -> Nest:
    """Return the best layouts found for all copies of all blanks.

    Args:
        poses: For every blank the ways it may lie; each has one that some size holds.
        counts: Copies of every blank.
        sizes: At least one.
        bound: Fewer sheets than this cannot be enough, or none can cost less, so nobody needs to
            look for them.
        kerf: In ticks.
        start: Gives the budget of a search for fewer or cheaper sheets.
        shares: What each size can hold of what is needed (see `cost_bounds`) where sizes differ
            in price, or there are only so many of them; else None.
        hurried: Whether few rules do, and shaving cuts too.
    """
    rules = RULES[::FEW_RULES] if hurried else RULES
    job = Job(tuple(poses), tuple(counts), tuple(sizes), bound, 0, shares, rules)
    best = _find_best(job, kerf, start())
    if not hurried and any(_shavings(sheet.tree, kerf) for sheet in best):
        careful = _find_best(replace(job, least=kerf // 2 + 1), kerf, start())
        best = min(best, careful, key=lambda nest: (_amount(nest), _bother(nest, kerf)))
    return best


def count_missing(nest: Nest) -> dict[int, int]:
    """Return of which sizes, by index, a layout uses more sheets than there are, and how many."""
    many = Counter(sheet.size for sheet in nest)
    over = {s.index: n - s.most for s, n in many.items() if s.most is not None and n > s.most}
    return dict(sorted(over.items()))


def _find_best(job: Job, kerf: int, budget: Budget) -> Nest:
    rounds = min(budget.corrections, 1 + PLACED // (len(job.rules) * max(1, sum(job.counts))))
    if job.least:  # a second look, which only has to do without shaving cuts
        rounds = (rounds + 1) // 2
    found: list[Nest] = []
    for size in find_largest(job.sizes):
        for rule in job.rules:
            found += lay_corrected(job, size, rule, rounds)
    known: Known = {}
    if job.shares is None:
        if min(map(len, found)) > job.bound:
            found += _search(job, budget, min(map(len, found)))
        fewest = min(map(len, found))
        small = dict.fromkeys(shrink(nest, job, known) for nest in found if len(nest) == fewest)
    else:
        small = dict.fromkeys(_find_cheap(job, found, job.shares, budget, known))
    best = min(_amount(nest) for nest in small)
    equals = dict.fromkeys(_tidy(nest) for nest in small if _amount(nest) == best)
    return min(equals, key=lambda nest: _bother(nest, kerf))


def _find_cheap(
    job: Job, found: Sequence[Nest], shares: Values, budget: Budget, known: Known
) -> list[Nest]:
    """Return layouts with the cheapest sizes that do, and cheaper ones that the search finds."""
    small = [
        nest
        for size in sorted(set(job.sizes) - set(find_largest(job.sizes)), key=lambda s: s.index)
        for rule in job.rules
        for nest in lay_corrected(job, size, rule, 1)
    ]
    nests = sorted(dict.fromkeys([*found, *small]), key=_amount)[:MOST_CHEAPENED]
    nests = [cheapen(nest, job, known) for nest in nests]
    if min(_amount(nest) for nest in nests)[:2] <= (0, job.bound):
        return nests
    task = CostTask(job.poses, job.counts, job.sizes, shares, job.bound, job.least)

    def lay_on(sizes: tuple[Size, ...]) -> Layout | None:
        nest = lay_on_sizes(sizes, job)
        return None if nest is None else _as_layout(nest)

    for layout in find_cheaper(task, [*map(_as_layout, nests)], lay_on, budget):
        nest = _take_all([(laid.size, laid.tree) for laid in layout], job)
        nests += [nest, tuple(lay_by_rule(sheet, job) for sheet in nest)]
        nests += [cheapen(nest, job, known) for nest in nests[-2:]]
    return nests


def _as_layout(nest: Nest) -> Layout:
    return tuple(Laid(sheet.size, np.array(sheet.taken, np.int64), sheet.tree) for sheet in nest)


def _search(job: Job, budget: Budget, most: int) -> Iterator[Nest]:
    """Yield what the search finds of fewest sheets, and with every sheet laid by a rule that can.

    What needs more sheets than others, or than ``most``, is not worth that.
    """
    task = SheetTask(job.poses, job.counts, tuple(find_largest(job.sizes)), job.bound, job.least)
    nests = [_take_copies(sheets, job) for sheets in find_sheets(task, budget)]
    fewest = min([most, *map(len, nests)])
    many = 1 + LAID_BY_RULE // sum(job.counts)
    for nest in [nest for nest in nests if len(nest) == fewest][:many]:
        yield nest
        yield tuple(lay_by_rule(sheet, job) for sheet in nest)


def _take_copies(sheets: Sheets, job: Job) -> Nest:
    return _take_all([(fill.pieces.size, fill.tree()) for fill in sheets], job)


def _take_all(sheets: Sequence[tuple[Size, Node]], job: Job) -> Nest:
    """Return sheets that hold every copy once; what they hold beyond that is waste."""
    left = list(job.counts)
    nest: list[Sheet] = []
    for size, full in sheets:
        before = tuple(left)
        tree = keep_blanks(full, left)
        taken = tuple(have - now for have, now in zip(before, left, strict=True))
        if any(taken):
            nest.append(Sheet(size, tree, taken, RULES[0]))
    return tuple(nest)


def _amount(nest: Nest) -> tuple[int, int, int, int, int]:
    """Return sheets that are not to be had, cost, area bought, number of sheets, and their area.

    Where no prices are known every sheet costs 1; offcuts that are there cost nothing.
    """
    return (
        sum(count_missing(nest).values()),
        sum(sheet.size.cost for sheet in nest),
        sum(sheet.size.area for sheet in nest if sheet.size.cost),
        len(nest),
        sum(sheet.size.area for sheet in nest),
    )


def _tidy(nest: Nest) -> Nest:
    """Return the layouts with equal strips side by side, the fullest sheet first."""
    laid = [replace(sheet, tree=lay_in_order(sheet.tree), rule=RULES[0]) for sheet in nest]
    return tuple(sorted(laid, key=lambda sheet: (-sheet.size.area, -used_part(sheet))))


def _bother(nest: Nest, kerf: int) -> tuple[int, int, int, int, int, int]:
    """Return shaving and unsafe cuts, settings, largest offcut (negative), awkward sheets, cuts.

    A sheet is awkward if its first cuts do not run along it: a straightedge for a hand-held saw
    is laid along the sheet, and the strips can be lifted (common practice, no source).
    """
    trees = [sheet.tree for sheet in nest]
    tasks = find_tasks(trees, kerf)
    waste = [leaf.box for tree in trees for leaf in leaves(tree) if leaf.blank is None]
    return (
        sum(_shavings(tree, kerf) for tree in trees),
        sum(not _can_hold(task) for task in tasks),
        len(order_tasks(tasks)),
        -(max((_true_area(box, kerf) for box in waste), default=0) // SAME_OFFCUT),
        sum(isinstance(tree, Split) and tree.axis == "x" for tree in trees),
        len(tasks),
    )


def _can_hold(task: Task) -> bool:
    """Whether a piece is long enough to be held for a cut, and one side wide enough."""
    piece, whole = task.piece, task.piece.extent(task.axis)
    is_long = max(piece.along_x, piece.along_y) >= LONG
    return is_long and max(task.extent, whole - task.extent) >= WIDE


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
