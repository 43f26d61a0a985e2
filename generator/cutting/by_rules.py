"""Layouts by simple rules: sheet after sheet filled, and sheets laid anew on another size."""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import product

from generator.cutting.fill import Divide, Pick, Rule, StripChoice, fill_sheet
from generator.cutting.programs import Values
from generator.cutting.trees import Node, Pose, Size, leaves


@dataclass(frozen=True, slots=True)
class Sheet:
    """A sheet of one size with its cut tree, the copies of every blank on it, and its rule."""

    size: Size
    tree: Node
    taken: tuple[int, ...]
    rule: Rule


Nest = tuple[Sheet, ...]


Known = dict[tuple[tuple[int, ...], int], Node | None]
"""Copies of every blank and a size: a tree by one of the rules, or None if all of them failed."""


@dataclass(frozen=True, slots=True)
class Job:
    """What is to be laid out.

    Attributes:
        poses: For every blank the ways it may lie.
        counts: Copies of every blank.
        sizes: All that can be had.
        bound: No layout needs fewer sheets, or costs less.
        least: No less than this may be left beside a piece, in ticks, unless it is nothing.
        shares: As in `find_nest`.
        rules: Those that are tried.
    """

    poses: tuple[tuple[Pose, ...], ...]
    counts: tuple[int, ...]
    sizes: tuple[Size, ...]
    bound: int
    least: int
    shares: Values | None
    rules: tuple[Rule, ...]


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


def find_largest(sizes: Sequence[Size]) -> list[Size]:
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


def lay_corrected(job: Job, size: Size, rule: Rule, rounds: int) -> Iterator[Nest]:
    """Yield layouts by one rule, then again with what fared badly taken first."""
    weights = [1.0] * len(job.poses)
    for turn in range(rounds):
        nest = _pack(job, size, weights, rule)
        yield nest
        if (
            rule.strips
            or len(nest) == 1
            or (turn and job.shares is None and len(nest) <= job.bound)
        ):
            return
        for sheet in nest:
            unused = 1 - used_part(sheet)
            for blank in {leaf.blank for leaf in leaves(sheet.tree) if leaf.blank is not None}:
                weights[blank] *= 1 + unused


def lay_by_rule(sheet: Sheet, job: Job) -> Sheet:
    """Return the sheet as a rule fills it, which needs fewer settings than chance does."""
    tree = _fit_all(sheet.taken, sheet.size, job, job.rules)
    return sheet if tree is None else replace(sheet, tree=tree)


def lay_on_sizes(sizes: Sequence[Size], job: Job) -> Nest | None:
    """Return everything laid on sheets of these sizes by one of the rules, if one can."""
    weights = [1.0] * len(job.poses)
    for rule in job.rules:
        left, sheets = job.counts, list[Sheet]()
        for size in sizes:
            tree, after = fill_sheet(size.box, job.poses, left, weights, rule, job.least)
            if after != left:
                taken = tuple(have - now for have, now in zip(left, after, strict=True))
                sheets.append(Sheet(size, tree, taken, rule))
            left = after
        if not any(left):
            return tuple(sheets)
    return None


def shrink(nest: Nest, job: Job, known: Known) -> Nest:
    """Return the nest with a smaller sheet wherever one holds all that is on a sheet."""
    return tuple(_shrink_sheet(sheet, job, known) for sheet in nest)


def cheapen(nest: Nest, job: Job, known: Known) -> Nest:
    """Return the nest with a cheaper sheet wherever one holds all that is on a sheet.

    What there is too little of goes to whoever saves the most by it, the dearest sheets first.
    """
    sheets = sorted(nest, key=lambda sheet: (-sheet.size.cost, -used_part(sheet) * sheet.size.area))
    many = Counter(sheet.size for sheet in sheets)
    for place, sheet in enumerate(sheets):
        old = sheet.size
        is_over = old.most is not None and many[old] > old.most
        needed = used_part(sheet) * old.area
        other = [
            size
            for size in job.sizes
            if needed <= size.area
            and (size.most is None or many[size] < size.most)
            and (is_over or (size.cost, size.area) < (old.cost, old.area))
        ]
        cheap = sorted(other, key=lambda size: (size.cost, size.area))
        sheets[place] = _on_first(sheet, cheap, job, known)
        many[old] -= 1
        many[sheets[place].size] += 1
    return tuple(sheets)


def used_part(sheet: Sheet) -> float:
    """Return which part of a sheet becomes blanks, 0 to 1."""
    placed = (leaf.box for leaf in leaves(sheet.tree) if leaf.blank is not None)
    return sum(box.along_x * box.along_y for box in placed) / sheet.size.area


def _pack(job: Job, size: Size, weights: Sequence[float], rule: Rule) -> Nest:
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


def _any_fits(job: Job, left: Sequence[int], size: Size) -> bool:
    copies = zip(job.poses, left, strict=True)
    return any(size.holds(pose) for ways, count in copies if count for pose in ways)


def _other_size(job: Job, left: Sequence[int]) -> Size:
    fitting = (size for size in job.sizes if _any_fits(job, left, size))
    return max(fitting, key=lambda size: size.area)


def _shrink_sheet(sheet: Sheet, job: Job, known: Known) -> Sheet:
    needed = used_part(sheet) * sheet.size.area
    smaller = [size for size in job.sizes if needed <= size.area < sheet.size.area]
    return _on_first(sheet, sorted(smaller, key=lambda size: size.area), job, known)


def _on_first(sheet: Sheet, sizes: Sequence[Size], job: Job, known: Known) -> Sheet:
    """Return the sheet on the first of these sizes that a rule lays it on, or as it is."""
    for size in sizes:
        tree = _fit_all(sheet.taken, size, job, (sheet.rule,))
        if tree is None:
            if (sheet.taken, size.index) not in known:
                known[sheet.taken, size.index] = _fit_all(sheet.taken, size, job, job.rules)
            tree = known[sheet.taken, size.index]
        if tree is not None:
            return Sheet(size, tree, sheet.taken, sheet.rule)
    return sheet


def _fit_all(taken: Sequence[int], size: Size, job: Job, rules: Sequence[Rule]) -> Node | None:
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
